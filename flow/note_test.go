package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestANoteIsHeard: what a note tells is taken as the same words without it, in the
// pull and before, and what the crew writes down reaches lead and coordinator.
func TestANoteIsHeard(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"the seat belt is frayed", "front wheels light when tight", "oak has fresh cracks at the base", "the strop is sliding up the tree"} {
		for _, head := range []string{"note ", "Note: ", "note that "} {
			at := func(text string) (*flow.Session, map[string][]flow.Message) {
				p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
				p.to(flow.LightTension)
				out := p.say("Cy", text)
				return p.job(), out
			}
			bare, _ := at(words)
			s, out := at(head + words)
			if s.State != bare.State || s.Stage != bare.Stage || s.Hold != bare.Hold || len(s.Reports) != len(bare.Reports) || len(s.Defects) != len(bare.Defects) {
				t.Errorf("%q leads to %s, %s with %d reports; without note to %s, %s with %d", head+words, s.State, s.Stage, len(s.Reports), bare.State, bare.Stage, len(bare.Reports))
			}
			if len(s.Reports)+len(s.Defects) == 0 {
				t.Errorf("%q is not reported", head+words)
			}
			for _, who := range []string{"Ada", "Eve"} {
				if got := told(out["test/"+who]); got == "" {
					t.Errorf("%q: %s is told nothing", head+words, who)
				}
			}
		}
	}
}

// TestANoteBeforeThePull: a note of a brake or a keeper keeps the pull; one that
// tells nothing is kept and passed on, and answers nothing.
func TestANoteBeforeThePull(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "note the seat belt is frayed")
	if s := p.job(); len(s.Defects) != 1 {
		t.Errorf("a torn belt in a note is kept as %+v", s.Defects)
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	out := p.say("Cy", "note the owner is on his way")
	for _, who := range []string{"Ada", "Eve"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "the owner is on his way") {
			t.Errorf("of Cy's note %s is told %q", who, got)
		}
	}
	if got := told(out["test/Cy"]); !strings.HasPrefix(got, "read.noted") {
		t.Errorf("Cy's note is answered %s", got)
	}
	p.to(flow.AllPlaced)
	hold := p.job().Hold
	p.say("Cy", "note release 1")
	p.say("Ada", "note release 1")
	p.say("Cy", "note a kite")
	if s := p.job(); s.Hold != hold || s.Stage != flow.AllPlaced {
		t.Errorf("a note that tells nothing leads to hold %d, %s", s.Hold, s.Stage)
	}
	p.say("Bo", "stop")
	p.say("Ada", "note the strop slid and was put right")
	if s := p.job(); s.State != flow.Halted {
		t.Errorf("a note ends a stop: %s", s.State)
	}
}
