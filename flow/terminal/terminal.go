package terminal

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"linetender/flow"
	"linetender/flow/wording"
)

// A Terminal holds one conversation with the person at the machine.
type Terminal struct {
	Line   Line
	Person flow.Person
	Now    func() time.Time
	Begin  string // what is said for the person at the start; empty is /start

	// Render makes what a message shows; nil where nothing can be made.
	Render func(context.Context, flow.Show) (flow.Shown, error)

	// Again reaches the process that holds the store anew and takes the same
	// seat there, with an error while that can't be done. Where it is nil, a
	// line that is cut ends the terminal.
	Again func(context.Context) (Line, error)

	Pictures string // the folder that what was made is written to; made when it is needed
	Photos   string // the folder that keeps copies of what the person sends; empty keeps none

	asked []asked             // what can be picked, the oldest first
	fresh bool                // the next message answers what the person said
	live  map[string][]string // what was said last in each message that is kept up to date
	seen  map[string]bool     // paragraphs that were shown
	told  uint64              // the revision of the last reminder
	stop  uint64              // the last urgent parcel
	piped bool                // what is entered comes out of a pipe or a file
	begun bool                // what is said at the start was taken in
	away  *absence            // not nil while the line is lost
	warns string              // what the person was told of leaving; empty when it was not yet tried
}

// asked is a message with choices, and the number of its first letter.
type asked struct {
	flow.Message
	first int
}

// A teller shows one message with what has been made to go with it; the
// letters of its choices begin at first.
type teller func(m flow.Message, made []flow.Shown, first int) error

// start begins or offers to go on, and says what was left unsaid: after the
// beginning has had its turn, because a stop that is on goes ahead of it all.
func (t *Terminal) start(ctx context.Context, tell teller) error {
	text := t.Begin
	if text == "" {
		text = begin
	}
	return t.say(ctx, Written{Text: text}, tell)
}

// lineError is what kept the line from doing its work, in distinction from a
// screen that can't be written.
type lineError struct {
	error
	said bool // the words were on their way: nobody knows whether they were taken in
}

func (e *lineError) Unwrap() error { return e.error }

// begin is what a program that has just started says for the person.
const begin = "/start"

// say has what was entered taken in and shows what is answered.
func (t *Terminal) say(ctx context.Context, w Written, tell teller) error {
	w.Person, w.Piped = t.Person, t.piped
	w.Offset = t.Now().Format("-07:00")
	if err := t.Line.Say(ctx, w); err != nil {
		return &lineError{err, true}
	}
	t.fresh, t.begun = true, true
	return t.hear(ctx, tell)
}

// hear shows what waits for this chat. A message counts as heard only after
// it was shown: whoever dies in between is told again, not never. Of one that
// is kept up to date only the latest is shown, after the others; it is said
// anew whenever something changes, so one that is lost costs nothing.
func (t *Terminal) hear(ctx context.Context, tell teller) error {
	var late []flow.Message
	for {
		p, ok, err := t.Line.Next(ctx)
		if err != nil {
			return &lineError{err, false}
		}
		if !ok {
			break
		}
		m, err := flow.DecodeMessage(p.Body)
		if err != nil {
			return err
		}
		if m.Urgent {
			t.stop = max(t.stop, p.ID)
		} else if p.ID < t.stop && p.ID > 0 { // what was cried has no number
			m = m.Overtaken(wording.English())
		}
		if m.Live == "" {
			err = t.show(ctx, t.brief(m), tell)
		} else {
			late = slices.DeleteFunc(late, func(old flow.Message) bool { return old.Live == m.Live })
			late = append(late, m)
		}
		if err != nil {
			return err
		}
		if err := t.Line.Heard(ctx, p.ID); err != nil {
			return &lineError{err, false}
		}
	}
	for _, m := range late {
		if err := t.show(ctx, t.news(m), tell); err != nil {
			return err
		}
	}
	return nil
}

func (t *Terminal) show(ctx context.Context, m flow.Message, tell teller) error {
	if len(m.Parts) == 0 && len(m.Shows) == 0 {
		return nil
	}
	made := t.shows(ctx, &m)
	return tell(m, made, t.letter(m))
}

// mostLetters is how many letters are given out before they begin again.
const mostLetters = 52

// letter keeps m among what can be picked and returns the number of its first
// letter. An answer begins at a. A message that comes in by itself goes on
// where the letters ended, so that a letter typed a moment too late still
// means the button that it was read from.
func (t *Terminal) letter(m flow.Message) int {
	if t.fresh && !m.Notice && m.Live == "" {
		t.asked, t.fresh = nil, false
	}
	if len(m.Choices) == 0 {
		return 0
	}
	first := 0
	if n := len(t.asked); n > 0 {
		first = t.asked[n-1].first + len(t.asked[n-1].Choices)
	}
	if first+len(m.Choices) > mostLetters {
		t.asked, first = nil, 0
	}
	t.asked = append(t.asked, asked{m, first})
	return first
}

// byLetter returns the press that a letter stands for, or a number where one is shown.
// Once anything else has come that can be picked, a number picks nothing.
func (t *Terminal) byLetter(line string) (flow.Press, bool) {
	line = strings.ToLower(strings.TrimRight(strings.TrimSpace(line), ".)"))
	for _, a := range t.asked {
		for i, c := range a.Choices {
			if line == letter(a.first+i) || a.Numbered && len(t.asked) == 1 && a.first == 0 && line == number(i) {
				return a.press(c), true
			}
		}
	}
	return flow.Press{}, false
}

// label is what the button says that a press is of.
func (t *Terminal) label(p flow.Press) string {
	for _, a := range t.asked {
		for _, c := range a.Choices {
			if a.press(c) == p {
				return visible(c.Label)
			}
		}
	}
	return p.Choice
}

// byLabel returns the press that a line means: a label in brackets. Of two
// that read alike it is the one shown last.
func (t *Terminal) byLabel(text string) (flow.Press, bool) {
	if len(text) < 2 || text[0] != '[' || text[len(text)-1] != ']' {
		return flow.Press{}, false
	}
	for n := len(t.asked) - 1; n >= 0; n-- {
		for _, c := range t.asked[n].Choices {
			if visible(c.Label) == text[1:len(text)-1] {
				return t.asked[n].press(c), true
			}
		}
	}
	return flow.Press{}, false
}

func (a asked) press(c flow.Choice) flow.Press {
	return flow.Press{Session: a.Session, Revision: a.Revision, Choice: c.Choice}
}

// enter reads a line: a choice, a picture, a place, or words. A refusal is
// what to tell the person instead of taking it in.
func (t *Terminal) enter(line string) (w Written, refusal string) {
	if p, ok := t.byLabel(line); ok {
		return Written{Press: &p}, ""
	}
	w, ok, err := readSpecial(line, t.Photos)
	var wrong *wrongLine
	switch {
	case errors.As(err, &wrong):
		return Written{}, wrong.text
	case ok:
		return w, ""
	}
	return Written{Text: line}, ""
}

// refused is a refusal as a message.
func refused(text string) flow.Message {
	return flow.Message{Parts: []flow.Said{{Key: "refuse.terminal", Text: text}}, Notice: true}
}
