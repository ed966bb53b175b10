package flow

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"linetender/calc"
	"linetender/flow/wording"
)

// boardName names the message that shows lead and coordinators where the job
// stands. It is changed in place as the job goes on.
const boardName = "board"

// What is read on it first stands first: a stop, who is missing, what is open,
// the next hold and what it waits for; then the figures, who is in it, the other
// jobs and what was said last.

// boardMost is what the board may hold, in characters: the screen of a phone.
const boardMost = 900

// board brings it up to date.
func (t *turn) board() {
	for _, chat := range t.s.chats(AsLead, AsCoordinator, AsObserver) {
		t.inLive(chat, boardName, func() {
			t.boardOf(chat)
			// What is said comes to the lead by itself.
			if words := wording.Plain(t.in.Text); words != "" && !t.comesBack() && !boardAsked(words) && chat != t.s.leadChat() {
				t.say(wording.BoardWords, wording.Args{"Name": t.whoName(), "Text": clipped(words, boardLine)})
			}
			t.boardAt()
			t.fitBoard()
		})
	}
}

// fitBoard cuts the board to what a phone shows, from what matters least, and
// says how many lines there are more. What was said last and of when it is stay.
func (t *turn) fitBoard() {
	room := boardMost
	if t.mail.partial { // the way to a stop comes on top
		room -= 2 + utf8.RuneCountInString(t.saying(wording.StopWay))
	}
	size := func(r reply) int { return 2 + utf8.RuneCountInString(t.sayingWith(r.key, r.args)) }
	total := 0
	for _, r := range t.replies {
		total += size(r)
	}
	cut := 0
	last := len(t.replies) - 1
	for i := last - 1; i > 0 && total > room; i-- {
		switch t.replies[i].key {
		case wording.BoardStop, wording.BoardMoving, wording.BoardWords:
			continue
		}
		if cut == 0 {
			total += 2 + utf8.RuneCountInString(t.sayingWith(wording.BoardMore, wording.Args{"Count": last}))
		}
		total -= size(t.replies[i])
		t.replies = slices.Delete(t.replies, i, i+1)
		cut++
	}
	if cut > 0 {
		end := len(t.replies) - 1
		t.replies = slices.Insert(t.replies, end, reply{key: wording.BoardMore, args: wording.Args{"Count": cut}})
	}
}

// boardOf says what stands on the board of a chat.
func (t *turn) boardOf(chat string) {
	if since := t.standsSince(); since != "" {
		t.say(wording.BoardHeadSince, wording.Args{"Code": t.s.Code, "Text": t.stateWords(), "Result": since})
	} else {
		t.say(wording.BoardHead, wording.Args{"Code": t.s.Code, "Text": t.stateWords()})
	}
	if stop := t.s.stop(); stop != nil {
		t.say(wording.BoardStop, wording.Args{"Name": stop.By.Name, "Names": t.few(t.stillNames(stop))})
		if waiting := t.movers(); len(waiting) > 0 {
			t.say(wording.BoardMoving, wording.Args{"Names": t.few(waiting)})
		}
	}
	t.boardSilent()
	p := t.lookPlan()
	t.boardOpen(p)
	t.boardPull()
	t.boardPlan(p)
	t.boardCrew()
	t.say(wording.BoardPeople, wording.Args{"Names": t.few(t.names1())})
	if chat != t.s.leadChat() {
		t.otherJobs(chat)
	}
}

// fewNames is how many names a line of the board has.
const fewNames = 6

// few is a list cut to what a line has room for, with how many there are more.
func (t *turn) few(names wording.Names) wording.Names {
	if len(names) <= fewNames+1 {
		return names
	}
	return append(slices.Clone(names[:fewNames]), t.sayingWith(wording.BoardMoreNames, wording.Args{"Number": len(names) - fewNames}))
}

// boardWords are the words by which all of it is asked for, where it is not
// kept in sight. The word board alone can be an answer about the slope.
var boardWords = []string{"show board", "the board", "show the board", "whole board"}

func boardAsked(text string) bool {
	return slices.Contains(boardWords, strings.ToLower(strings.Trim(text, " .!")))
}

// boardHere reports whether the word board alone asks for it: where no slope is
// asked about, it is no answer, nobody's name and no reason for a stop.
func (t *turn) boardHere() bool {
	return !t.main() || t.s.Topic == "names" || slices.Contains(late, t.s.State) || t.s.State == Halted || t.s.State == Referred
}

// showBoard answers them, whoever asks.
func (t *turn) showBoard() {
	t.boardOf(t.in.Chat)
	t.boardAt()
	t.ask()
}

// boardAt says of when it is, and how long the job has stood where it stands. All
// else on the board is right however late it is read.
func (t *turn) boardAt() {
	t.say(wording.BoardAt, wording.Args{"Result": t.clock(t.in.At), "Total": int(t.since(t.s.Stood).Minutes())})
}

// boardSilent says who has not been heard from for long.
func (t *turn) boardSilent() {
	var silent wording.Names
	for _, m := range t.s.present(AsLead, AsCrew) {
		if gone := t.since(m.Heard); m.Heard != "" && gone >= silenceAfter && m.ID != t.in.Person.ID {
			silent = append(silent, t.sayingWith(wording.BoardSilence, wording.Args{"Name": m.Name, "Number": int(gone.Minutes())}))
		}
	}
	if len(silent) > 0 {
		t.say(wording.BoardSilent, wording.Args{"Names": t.few(silent)})
	}
}

// silenceAfter is how long a phone may say nothing before the board says so.
const silenceAfter = 5 * time.Minute

// standsSince is the time of day since when the job stands where it does.
func (t *turn) standsSince() string {
	at, err := time.Parse(time.RFC3339, t.s.Stood)
	if err != nil {
		return ""
	}
	return t.clock(at)
}

// boardOpen says what is decided and what is open: what keeps it from being a go,
// what was told in two ways, and who has what to look at.
func (t *turn) boardOpen(p *calc.Plan) {
	if p != nil {
		k := wording.Key("decided." + word(string(p.Decision)))
		if p.Conditional {
			k = wording.DecidedGoSigned
		}
		if k == wording.DecidedGo && t.heldUp() {
			k = wording.DecidedGoHeld
		}
		t.boardDecided(p, k)
	}
	for _, d := range t.s.Differs {
		t.say(wording.BoardDiffers, t.sides(d))
	}
	if t.itemsOn() {
		open, all := t.openItems(), len(t.listed())
		t.say(wording.BoardItems, wording.Args{"Number": all - len(open), "Total": all})
		if names := t.openNames(open); len(names) > 0 {
			t.say(wording.BoardOpen, wording.Args{"Names": t.few(names)})
		}
	}
}

// boardDecided says the decision with the figures that it rests on, and what is in
// the way. A job for others has no figures, here either.
func (t *turn) boardDecided(p *calc.Plan, k wording.Key) {
	if p.Decision == calc.Refer {
		t.say(k, nil)
		return
	}
	args := wording.Args{"Text": t.saying(k)}
	if p.Tackle != nil && p.Puller != nil && p.Puller.Available != nil {
		args["Force"], args["Limit"] = wording.Load{Force: max(0, p.Tackle.Haul.High)}, wording.Limit{Force: max(0, p.Puller.Available.Low)}
		args["Parts"] = p.Tackle.Parts
		t.say(wording.BoardPlan, args)
	} else {
		t.say(wording.BoardPlanUnknown, args)
	}
	if len(p.Why) == 0 {
		return
	}
	reasons, _ := t.whyOf(p)
	why := wording.Args{"Why": clipped(reasons[0], boardLine)}
	if p.Conditional {
		t.say(wording.BoardToSign, why)
	} else if p.Decision != calc.Go {
		t.say(wording.BoardBlocks, why)
	}
}

// boardPlan says what of a plan is not the first thing to know: its weakest piece
// and who has signed.
func (t *turn) boardPlan(p *calc.Plan) {
	if p == nil || p.Decision == calc.Refer {
		return
	}
	t.weakest(p)
	var signed wording.Names
	for _, s := range t.s.Sheet.Signed {
		signed = append(signed, t.sayingWith(wording.BoardSignature, wording.Args{"Name": s.By, "Second": s.Second, "What": s.Check}))
	}
	if len(signed) > 0 {
		t.say(wording.BoardSigned, wording.Args{"Names": t.few(signed)})
	}
	if refused := t.refusalNames(); len(refused) > 0 {
		t.say(wording.BoardRefused, wording.Args{"Names": t.few(refused)})
	}
}

// heldUp reports whether a go is none to pull by now: a stop is on or not over, or it is
// asked again what a stop, what was seen or a no has made doubtful.
func (t *turn) heldUp() bool {
	if t.s.stop() != nil || t.stopOpen() {
		return true
	}
	_, _, barred := t.barred()
	return barred && (t.s.Stage.Lies() || slices.ContainsFunc(t.openItems(), func(a asking) bool { return t.s.Rounds[a.check.path()] > 0 }))
}

// boardLine is about how much of a reason fits the board, which must stay
// within the screen of a phone.
const boardLine = 110

func clipped(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	cut := string([]rune(text)[:most])
	if at := strings.LastIndexByte(cut, ' '); at > 0 {
		cut = cut[:at]
	}
	return strings.TrimRight(cut, " ,;:") + " ..."
}

// boardCrew says how far the parts are.
func (t *turn) boardCrew() {
	taken := 0
	for _, s := range t.s.Seats {
		if s.Taken && s.Name != "" {
			taken++
		}
	}
	if n := len(t.s.Seats); n > 0 {
		t.say(wording.BoardSeats, wording.Args{"Number": taken, "Total": n})
	}
}

// stateWords says where the job stands.
func (t *turn) stateWords() string { return t.saying(wording.Key("state." + string(t.s.State))) }

func (t *turn) stillNames(stop *Stop) wording.Names {
	var out wording.Names
	for _, id := range stop.Still {
		if m := t.s.member(id); m != nil && !m.afar() {
			out = append(out, m.Name)
		}
	}
	return out
}

// clock is a time of day as it is at the site.
func (t *turn) clock(at time.Time) string {
	if zone, err := time.Parse("-07:00", t.entry.Offset); err == nil {
		_, east := zone.Zone()
		return at.UTC().Add(time.Duration(east) * time.Second).Format("15:04")
	}
	return at.UTC().Format("15:04 UTC")
}
