package terminal

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	"linetender/flow"
)

// Chat is the one chat that a terminal is.
const Chat = "terminal/local"

// Outbox is where what is to be said waits.
type Outbox interface {
	Due(now time.Time, limit int, busy map[string]bool) ([]Due, error)
	Sent(id uint64, slot string, receipt []byte) error
}

// Due is one parcel to be shown now.
type Due = struct {
	ID        uint64
	Chat      string
	Urgent    bool
	Body      []byte
	Tries     int
	NotBefore time.Time
}

// A Terminal holds one conversation with the person at the machine.
type Terminal struct {
	Desk   *flow.Desk // its Decode must be this package's
	Inbox  flow.Inbox
	Outbox Outbox
	Person flow.Person
	Now    func() time.Time

	last flow.Message // the latest with choices
}

// written is a line as it stands in the inbox.
type written struct {
	Version int         `json:"v"`
	Text    string      `json:"text,omitempty"`
	Press   *flow.Press `json:"press,omitempty"`
	Person  flow.Person `json:"person"`
	Offset  string      `json:"offset,omitempty"`
}

// Decode reads an arrival of this channel.
func Decode(a flow.Arrival) (flow.Input, bool, error) {
	var w written
	if err := json.Unmarshal(a.Body, &w); err != nil {
		return flow.Input{}, false, fmt.Errorf("decode a line: %w", err)
	}
	return flow.Input{
		Text: w.Text, Press: w.Press, Person: w.Person, At: a.At, Offset: w.Offset, Direct: true, Local: true,
	}, true, nil
}

// say takes in a line and returns what is answered. begun reports whether
// anything could be shown before an error.
func (t *Terminal) say(ctx context.Context, text string) ([]flow.Message, error) {
	w := written{Version: 1, Text: text, Person: t.Person}
	if p, ok := t.choice(text); ok {
		w.Text, w.Press = "", &p
	}
	now := t.Now()
	w.Offset = now.Format("-07:00")
	body, err := json.Marshal(w)
	if err != nil {
		return nil, fmt.Errorf("encode a line: %w", err)
	}
	a := flow.Arrival{Key: "terminal/" + rand.Text(), Chat: Chat, At: now, Body: body}
	if err := t.Inbox.Accept("terminal", 0, []flow.Arrival{a}); err != nil {
		return nil, fmt.Errorf("keep a line: %w", err)
	}
	return t.turns(ctx)
}

// turns gives what waits its turns and returns what there is to show.
func (t *Terminal) turns(ctx context.Context) ([]flow.Message, error) {
	var trouble error
	for {
		more, err := t.Desk.Turn(ctx, Chat)
		if err != nil {
			trouble = err
		}
		if !more {
			if err != nil {
				return nil, err
			}
			break
		}
	}
	out, err := t.collect()
	return out, errors.Join(err, buriedOnly(trouble, out))
}

// buriedOnly drops the error of an arrival that was put aside when the person
// has been told so.
func buriedOnly(err error, out []flow.Message) error {
	if err != nil && len(out) > 0 {
		return nil
	}
	return err
}

// collect takes this chat's parcels out of the outbox, in order. Those of
// other channels stay.
func (t *Terminal) collect() ([]flow.Message, error) {
	var out []flow.Message
	others := map[string]bool{}
	for {
		due, err := t.Outbox.Due(t.Now(), 1, others)
		if err != nil {
			return out, fmt.Errorf("look for what is to be said: %w", err)
		}
		if len(due) == 0 {
			return out, nil
		}
		if due[0].Chat != Chat {
			others[due[0].Chat] = true
			continue
		}
		m, err := flow.DecodeMessage(due[0].Body)
		if err != nil {
			return out, err
		}
		if err := t.Outbox.Sent(due[0].ID, "", nil); err != nil {
			return out, fmt.Errorf("mark as said: %w", err)
		}
		if len(m.Parts) == 0 {
			continue
		}
		if !m.Notice {
			t.last = m
		}
		out = append(out, m)
	}
}

// choice returns the press that a line means: a label in brackets.
func (t *Terminal) choice(text string) (flow.Press, bool) {
	if len(text) < 2 || text[0] != '[' || text[len(text)-1] != ']' {
		return flow.Press{}, false
	}
	for _, c := range t.last.Choices {
		if visible(c.Label) == text[1:len(text)-1] {
			return t.press(c), true
		}
	}
	return flow.Press{}, false
}

func (t *Terminal) press(c flow.Choice) flow.Press {
	return flow.Press{Session: t.last.Session, Revision: t.last.Revision, Choice: c.Choice}
}

// begin is what a program that has just started says for the person.
const begin = "/start"

// Plain reads one answer a line from in until it ends and writes the plain
// transcript to out.
func (t *Terminal) Plain(ctx context.Context, in io.Reader, out io.Writer) error {
	lines := newLines(in)
	first, err := t.start(ctx)
	if err == nil {
		err = writePlain(out, first)
	}
	for err == nil && ctx.Err() == nil {
		line, more := lines.next()
		if !more {
			return lines.err
		}
		var answer []flow.Message
		answer, err = t.say(ctx, line)
		if err == nil {
			_, err = fmt.Fprintf(out, "> %s\n", visible(line))
		}
		if err == nil {
			err = writePlain(out, answer)
		}
	}
	return err
}

// start says what was left unsaid, and begins or offers to go on.
func (t *Terminal) start(ctx context.Context) ([]flow.Message, error) {
	left, err := t.turns(ctx)
	if err != nil {
		return left, err
	}
	first, err := t.say(ctx, begin)
	return append(left, first...), err
}
