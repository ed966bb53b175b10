package flow_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// anotherJob begins a job like the plain one with the same phone, up to a step.
func (p *puller) anotherJob(until string) {
	p.t.Helper()
	scripts, err := script.Folder(talkDir)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, s := range scripts {
		if filepath.Base(s.Name) != "s01-go-two-parts" {
			continue
		}
		for _, st := range s.Steps {
			if strings.HasPrefix(st.Input, until) {
				p.was, p.code = nil, p.last["test/Ada"].Session
				return
			}
			p.say("Ada", st.Input)
		}
	}
	p.t.Fatalf("the plain job has no step %q", until)
}

// TestSamePeopleAndGear: who begins another job is offered the people and the gear of
// the one before. The parts are given out anew, the list is walked anew, the gear is looked over
// again, and what that job left to be laid apart is not among it.
func TestSamePeopleAndGear(t *testing.T) {
	flow.Lone(t)
	closed := func(words string) *puller {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.GearCheck].copied(t)
		if words != "" {
			p.say("Ada", words)
		}
		p.confirm()
		p.press("Ada", "release")
		p.press("Ada", "debrief.there")
		p.say("Ada", "on the lane, chocked both ways, in gear")
		for range 12 {
			if p.job().State != flow.Closed {
				p.press("Ada", "debrief")
			}
		}
		if s := p.job(); s.State != flow.Closed {
			t.Fatalf("the first job stands at %s: %q", s.State, p.asked("Ada"))
		}
		return p
	}
	for words, pieces := range map[string]int{"": 5, "the block was overloaded": 4} {
		p := closed(words)
		p.anotherJob("24mm polyester")
		if !p.has("Ada", "same_gear") {
			t.Fatalf("%q: the gear is not offered: %q %v", words, p.asked("Ada"), p.last["test/Ada"].Choices)
		}
		if got := text(p.press("Ada", "same_gear")["test/Ada"]); !strings.Contains(got, "6.5t") || strings.Contains(got, "block") != (pieces == 5) || p.job().Topic != "kit_check" {
			t.Errorf("%q: the gear is read back as %q, at %s", words, got, p.job().Topic)
		}
		p.say("Ada", "yes")
		for _, g := range p.job().Sheet.Gear {
			if g.Condition != "" || g.Rating == "" {
				t.Errorf("%q: not looked over again: %+v", words, g)
			}
		}
		if n := len(p.job().Sheet.Gear); n != pieces {
			t.Errorf("%q: %d pieces are taken, want %d", words, n, pieces)
		}
	}
	p := closed("")
	p.anotherJob("Ada, Bo, Cy, Di")
	if !p.has("Ada", "same_crew") {
		t.Fatalf("the people are not offered: %q %v", p.asked("Ada"), p.last["test/Ada"].Choices)
	}
	for _, say := range []func(p *puller) map[string][]flow.Message{
		func(p *puller) map[string][]flow.Message { return p.press("Ada", "same_crew") },
		func(p *puller) map[string][]flow.Message { return p.say("Ada", "same people as last time") },
	} {
		q := p.copied(t)
		got := text(say(q)["test/Ada"])
		s := q.job()
		if !slices.Equal(s.Crew, []string{"Ada", "Bo", "Cy", "Di"}) || s.Settled["site.sober"] != "" || len(s.Marks) > 0 || !strings.Contains(got, "As in the last job: Ada, Bo, Cy and Di") {
			t.Errorf("the people are %v, in %+v, said %q", s.Crew, s.Seats, got)
		}
	}
}

// TestWhatWasLaidApartIsDoubted: a piece told with the figures of one that the last job left
// to be laid apart may be that piece: it is said, and no yes to all of the gear passes it.
func TestWhatWasLaidApartIsDoubted(t *testing.T) {
	flow.Lone(t)
	for _, damaged := range []bool{true, false} {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.GearCheck].copied(t)
		if damaged {
			p.say("Ada", "the block was overloaded")
		}
		p.confirm()
		p.press("Ada", "release")
		p.press("Ada", "debrief.there")
		p.say("Ada", "on the lane, chocked both ways, in gear")
		for p.job().State != flow.Closed {
			p.press("Ada", "debrief")
		}
		code := p.job().Code
		p.anotherJob("yes all good")
		p.say("Ada", "yes all good")
		doubted := ""
		for i, g := range p.job().Sheet.Gear {
			if g.Condition == "unknown" {
				doubted += g.Kind
			}
			if p.job().Held["laid:gear["+string(rune('0'+i))+"]"] != "" && p.job().Held["laid:gear["+string(rune('0'+i))+"]"] != code {
				t.Errorf("%s is doubted for another job", g.Kind)
			}
		}
		if (doubted == "block") != damaged {
			t.Errorf("damaged %v: %q is doubted", damaged, doubted)
		}
	}
}
