package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestHurtNeedsASecond: that somebody is hurt or inside, told in a pull, is not
// lifted by the word of one.
func TestHurtNeedsASecond(t *testing.T) {
	flow.Lone(t)
	hurt := func() *puller {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
		p.say("Cy", "stop, Di is hurt")
		for _, who := range []string{"Bo", "Di"} {
			p.press(who, "still")
		}
		p.say("Ada", "Di was hurt by the rope, she was looked at")
		if s := p.job(); s.State != flow.Referred {
			t.Fatalf("somebody hurt leads to %s", s.State)
		}
		return p
	}
	inside := func(p *puller) bool {
		s := p.job()
		return s.Sheet.Hazards != nil && slices.Contains(*s.Sheet.Hazards, "people-inside")
	}
	for _, text := range []string{"change hazards none", "change hazards none, Ada checked it"} {
		p := hurt()
		if out := p.say("Ada", text); !inside(p) || !strings.Contains(said(out["test/Ada"]), "refuse.hurt_stays") {
			t.Errorf("%q lifts it: %s", text, said(out["test/Ada"]))
		}
		if s := p.job(); s.State != flow.Referred {
			t.Errorf("%q leads to %s", text, s.State)
		}
	}
	p := hurt()
	out := p.say("Ada", "change hazards none, Bo checked it, all are out and unhurt")
	if s := p.job(); !inside(p) || s.State != flow.Referred {
		t.Errorf("by the word of one for another it is %s: %s", s.State, said(out["test/Ada"]))
	}
	if got := text(out["test/Bo"]); !strings.Contains(got, "Your own word is asked for") || strings.Contains(text(out["test/Cy"]), "Your own word") {
		t.Errorf("Bo is asked %q", got)
	}
	for _, who := range []string{"Ada", "Cy"} {
		if p.say(who, "none"); !inside(p) {
			t.Errorf("%s lifts it", who)
		}
	}
	if out := p.say("Bo", "[none]"); inside(p) {
		t.Errorf("by Bo's own word it stays: %s", said(out["test/Bo"]))
	}
}
