package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/hear"
)

// TestFoundTellsWhatHeld: what was found to have held a load is told as what was; what is so
// now, a question and what tells of nothing that holds are none.
func TestFoundTellsWhatHeld(t *testing.T) {
	for words, found := range map[string]bool{
		"handbrake was on, is off now": true, "the hand brake was still on": true, "a wheel was chocked": true, "it was in gear": true, "we forgot to take the chock out": true,
		"there was a stone before the wheel": true, "front wheels were locked": true, "a rope was still around the axle": true,
		"was the handbrake on?": false, "handbrake is on": false, "the wheels turn": false, "brake holds": false, "all good": false, "chocks are in": false,
	} {
		if got := hear.Found(words); got != found {
			t.Errorf("%q tells what held it: %v", words, got)
		}
	}
}

// TestWhatHeldItIsKept: that the handbrake was on is kept with the try and has the wheels
// asked again; what the try taught counts until whoever leads and a second one lay it aside,
// and that it was pulled hard stays for the rig.
func TestWhatHeldItIsKept(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	stuck := func(p *puller) *puller {
		p.to(flow.Bite)
		p.say("Ada", "it doesn't move, stuck")
		if n := len(p.job().Sheet.Seen); n == 0 {
			t.Fatal("a stuck load teaches nothing")
		}
		return p
	}
	p := stuck(readyToPull(t, "Bo", "Cy"))
	n := len(p.job().Sheet.Seen)
	if got := said(p.say("Ada", "lay that try aside")["test/Ada"]); !strings.Contains(got, "pull.lay_none") {
		t.Errorf("with nothing found it is %s", got)
	}
	out := p.say("Cy", "handbrake was on, is off now")
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		if got := said(out["test/"+who]); !strings.Contains(got, "pull.found pull.found_counts") {
			t.Errorf("%s reads %s", who, got)
		}
	}
	if s := p.job(); len(s.Sheet.Seen) != n || len(s.Again) == 0 {
		t.Errorf("a word leaves %d of %d things seen, and asks again %v", len(s.Sheet.Seen), n, s.Again)
	}
	for _, words := range []string{"lay that try aside", "lay that try aside", "lay that try aside, Bo agrees"} { // Bo has a phone
		if p.say("Ada", words); len(p.job().Sheet.Seen) != n {
			t.Errorf("by one phone %q lays it aside", words)
		}
	}
	p.say("Bo", "lay that try aside")
	s := p.job()
	if last := s.Reports[len(s.Reports)-1]; len(s.Sheet.Seen) != n-1 || last.Kind != "stuck" {
		t.Errorf("by two it leaves %d things seen, and the report is %s", len(s.Sheet.Seen), last.Kind)
	}
	if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
		t.Errorf("it may pull with nothing looked at again: %s", why)
	}
	p.until("back", func() bool { return p.job().State == flow.Pulling })
	p.confirm()
	if p.press("Ada", "release"); p.stage() == flow.Bite {
		t.Error("after a hard pull the rig is not walked again")
	}
	// Two of the crew without whoever leads don't; somebody without a phone is named.
	p = stuck(readyToPull(t, "Bo", "Cy"))
	p.say("Bo", "the handbrake was on")
	p.say("Bo", "lay that try aside")
	if p.say("Cy", "lay that try aside"); len(p.job().Sheet.Seen) != n {
		t.Error("two lay it aside without whoever leads")
	}
	p = stuck(readyToPull(t))
	p.say("Ada", "the handbrake was on")
	if p.say("Ada", "lay that try aside, Bo agrees"); len(p.job().Sheet.Seen) != n-1 {
		t.Error("with one phone it can't be laid aside")
	}
}
