package terminal

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/store"
)

// between is what people take for the next message; the conversations were
// written at this pace, and what a job waits for comes at its own time between.
const between = script.Pause

// crew is several people, each at a terminal of their own.
type crew struct {
	t     *testing.T
	at    time.Time
	x     *Exchange
	st    *store.Store
	seats map[string]*Terminal
	ears  map[string]*ear
	read  map[string]bool // who and what they were told
}

// TestGoldenParties plays the golden conversations of several people, each at
// a terminal: everyone is told the same words as elsewhere, with the same
// choices, in the same order; a reminder is shorter.
func TestGoldenParties(t *testing.T) {
	if raced {
		t.Skip("one goroutine: nothing for the race detector")
	}
	parties, err := script.Parties("../../testdata/party")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parties {
		t.Run(p.Name, func(t *testing.T) {
			x := exchange(t, t.TempDir())
			c := &crew{t: t, at: x.Now().UTC(), x: x, st: x.Outbox.(*store.Store), seats: map[string]*Terminal{}, ears: map[string]*ear{}, read: map[string]bool{}}
			x.Now = func() time.Time { return c.at }
			x.Desk.Now = x.Now
			for _, who := range p.People() {
				chat := Scheme + strings.ToLower(who)
				c.seats[who] = &Terminal{Line: sit(t, x, chat), Person: flow.Person{ID: chat, Name: who}, Now: x.Now}
				c.ears[who] = &ear{}
			}
			for _, l := range p.Lines {
				c.line(l)
				if t.Failed() {
					return // what follows would only be noise
				}
			}
		})
	}
}

// line has one line said and compares what everybody is told.
func (c *crew) line(l script.Line) {
	c.t.Helper()
	wait := l.Wait
	if l.Who != "" {
		wait = between
		w, refusal := c.seats[l.Who].enter(l.Input)
		if _, press := l.Press(); refusal != "" || press != (w.Press != nil) {
			c.t.Fatalf("%q of %s: %q, %+v", l.Input, l.Who, refusal, w)
		}
		if err := c.seats[l.Who].say(context.Background(), w, c.ears[l.Who].tell); err != nil {
			c.t.Fatalf("%q of %s: %v", l.Input, l.Who, err)
		}
		c.hear()
	}
	c.pass(wait)
	for who, e := range c.ears {
		var got script.Told
		for _, m := range e.heard {
			if m.Live != "" {
				continue
			}
			got.Urgent = got.Urgent || m.Urgent
			got.Said = append(got.Said, m.Parts...)
			got.Label = nil
			for _, choice := range m.Choices {
				got.Label = append(got.Label, choice.Label)
			}
		}
		e.heard = nil
		want := l.Said(who)
		if want == nil {
			want = &script.Told{}
		}
		want = c.shortly(who, *want)
		if !slices.Equal(got.Said, want.Said) || !slices.Equal(got.Label, want.Label) || got.Urgent != want.Urgent {
			c.t.Errorf("on %q of %s, %s is told\n%q %q\nwhere it was\n%q %q", l.Input, l.Who, who, got.Said, got.Label, want.Said, want.Label)
		}
	}
}

// shortly is what somebody is told, a reminder without what they were told with
// the question before: a line that was written stays in sight.
func (c *crew) shortly(who string, told script.Told) *script.Told {
	again := false
	var kept []flow.Said
	for i, s := range told.Said {
		asks := i == len(told.Said)-1 && len(told.Label) > 0
		again = again || s.Key == reminder
		if !again || asks || s.Key == reminder || !c.read[who+": "+s.Text] {
			kept = append(kept, s)
		}
	}
	for _, s := range told.Said {
		c.read[who+": "+s.Text] = true
	}
	told.Said = kept
	return &told
}

// hear has every terminal show what has come in.
func (c *crew) hear() {
	c.t.Helper()
	for who, s := range c.seats {
		if err := s.hear(context.Background(), c.ears[who].tell); err != nil {
			c.t.Fatal(err)
		}
	}
}

// pass lets time pass; every job gets its turn at the moment it waited for.
func (c *crew) pass(d time.Duration) {
	c.t.Helper()
	for end := c.at.Add(d); ; {
		at, waits := c.next()
		if !waits || !at.Before(end) {
			c.at = end
			return
		}
		if at.After(c.at) {
			c.at = at
		}
		chat, err := c.x.Desk.Tick(context.Background())
		if err == nil {
			err = c.x.Turns(context.Background(), chat)
		}
		if err != nil {
			c.t.Fatal(err)
		}
		c.hear()
	}
}

// next is the time that a job waits for.
func (c *crew) next() (at time.Time, ok bool) {
	err := c.st.Streams(flow.JobStream(""), "", true, func(_ string, head []byte, _ uint64, _ time.Time) error {
		h, err := flow.DecodeHead(head)
		if err != nil || h.Wake == "" || h.State == flow.Closed {
			return err
		}
		wake, err := time.Parse(time.RFC3339, h.Wake)
		if err == nil && (!ok || wake.Before(at)) {
			at, ok = wake, true
		}
		return err
	})
	if err != nil {
		c.t.Fatal(err)
	}
	return at, ok
}
