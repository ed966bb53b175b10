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

// board brings it up to date.
func (t *turn) board() {
	for _, chat := range t.s.chats(AsLead, AsCoordinator, AsObserver) {
		t.inLive(chat, boardName, func() {
			t.boardOf(chat)
			// What is said comes to the lead by itself.
			if words := wording.Plain(t.in.Text); words != "" && !t.comesBack() && !boardAsked(words) && chat != t.s.leadChat() {
				t.say(wording.BoardWords, wording.Args{"Name": t.whoName(), "Text": words})
			}
			t.boardAt()
		})
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
		t.say(wording.BoardStop, wording.Args{"Name": stop.By.Name, "Names": t.stillNames(stop)})
		if waiting := t.movers(); len(waiting) > 0 {
			t.say(wording.BoardMoving, wording.Args{"Names": waiting})
		}
	}
	t.boardPlan()
	for _, d := range t.s.Differs {
		t.say(wording.BoardDiffers, t.sides(d))
	}
	t.say(wording.BoardPeople, wording.Args{"Names": t.names1()})
	t.boardCrew()
	t.boardPull()
	if chat != t.s.leadChat() {
		t.otherJobs(chat)
	}
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

// boardAt says of when it is, how long the job has stood where it stands, and
// who has not been heard from for long. All else on the board is right however
// late it is read.
func (t *turn) boardAt() {
	args := wording.Args{"Result": t.clock(t.in.At), "Total": int(t.since(t.s.Stood).Minutes())}
	var silent wording.Names
	for _, m := range t.s.present(AsLead, AsCrew) {
		if gone := t.since(m.Heard); m.Heard != "" && gone >= silenceAfter && m.ID != t.in.Person.ID {
			silent = append(silent, t.sayingWith(wording.BoardSilence, wording.Args{"Name": m.Name, "Number": int(gone.Minutes())}))
		}
	}
	if len(silent) == 0 {
		t.say(wording.BoardAt, args)
		return
	}
	args["Names"] = silent
	t.say(wording.BoardAtSilent, args)
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

// boardPlan says what is decided, what that rests on, what keeps it from being
// a go and who has signed. A job for others has no figures, here either.
func (t *turn) boardPlan() {
	p := t.lookPlan()
	if p == nil {
		return
	}
	k := wording.Key("decided." + word(string(p.Decision)))
	if p.Conditional {
		k = wording.DecidedGoSigned
	}
	if k == wording.DecidedGo && t.heldUp() {
		k = wording.DecidedGoHeld
	}
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
	t.weakest(p)
	if len(p.Why) > 0 {
		k := wording.BoardBlocks
		if p.Conditional {
			k = wording.BoardToSign
		}
		if p.Conditional || p.Decision != calc.Go {
			t.say(k, wording.Args{"Why": clipped(p.Why[0], boardLine)})
		}
	}
	var signed wording.Names
	for _, s := range t.s.Sheet.Signed {
		signed = append(signed, t.sayingWith(wording.BoardSignature, wording.Args{"Name": s.By, "Second": s.Second, "What": s.Check}))
	}
	if len(signed) > 0 {
		t.say(wording.BoardSigned, wording.Args{"Names": signed})
	}
}

// heldUp reports whether a go is none to pull by now: it is asked again what a
// stop, what was seen or a no has made doubtful.
func (t *turn) heldUp() bool {
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

// boardCrew says how far parts and list are.
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
	if t.itemsOn() {
		open, all := t.openItems(), len(t.listed())
		t.say(wording.BoardItems, wording.Args{"Number": all - len(open), "Total": all})
		if names := t.openNames(open); len(names) > 0 {
			t.say(wording.BoardOpen, wording.Args{"Names": names})
		}
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
