package flow

import (
	"slices"
	"strings"
	"time"

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
			t.say(wording.BoardAt, wording.Args{"Result": t.clock(t.in.At)})
		})
	}
}

// boardOf says what stands on the board of a chat.
func (t *turn) boardOf(chat string) {
	t.say(wording.BoardHead, wording.Args{"Code": t.s.Code, "Text": t.stateWords()})
	if stop := t.s.stop(); stop != nil {
		t.say(wording.BoardStop, wording.Args{"Name": stop.By.Name, "Names": t.stillNames(stop)})
		if waiting := t.movers(); len(waiting) > 0 {
			t.say(wording.BoardMoving, wording.Args{"Names": waiting})
		}
	}
	t.say(wording.BoardPeople, wording.Args{"Names": t.names1()})
	t.boardCrew()
	t.boardPull()
	if chat != t.s.leadChat() {
		t.otherJobs(chat)
	}
}

// boardWords are the words by which all of it is asked for, where it is not
// kept in sight. The word board alone is an answer about the slope.
var boardWords = []string{"show board", "the board", "show the board", "whole board"}

func boardAsked(text string) bool {
	return slices.Contains(boardWords, strings.ToLower(strings.Trim(text, " .!")))
}

// showBoard answers them, whoever asks.
func (t *turn) showBoard() {
	t.boardOf(t.in.Chat)
	t.ask()
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
		if m := t.s.member(id); m != nil {
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
