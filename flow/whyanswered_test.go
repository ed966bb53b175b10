package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheReasonIsNoFact: what a coordinator answers to why they withhold is the reason,
// which all read; what must be done first changes no answer and voids nothing. What it
// tells for certain and worse counts beside it, and a danger in it stops.
func TestTheReasonIsNoFact(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, text := range []string{"sling must go down first, send me a photo", "shackle must be looked at first, send me a photo", "fog"} {
		p := at[flow.Held].copied(t)
		p.say("Eve", "withhold")
		before := p.job()
		out := p.say("Eve", text)
		s := p.job()
		h := s.Holds[len(s.Holds)-1]
		if s.State != flow.Pulling || s.Hold != before.Hold || len(s.Differs) != len(before.Differs) || !slices.Contains(values(h.Reasons), text) {
			t.Errorf("%q: at %s, %s, hold %d was %d, differs %v, for %v", text, s.State, s.Stage, s.Hold, before.Hold, s.Differs, h.Reasons)
		}
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			if got := told(out["test/"+who]); !strings.Contains(got, "pull.has_withheld_for") {
				t.Errorf("%q: %s is told %q", text, who, got)
			}
		}
	}
	p := at[flow.Held].copied(t)
	p.say("Eve", "withhold")
	if p.say("Eve", "the slope is 1 in 2"); len(p.job().Differs) == 0 || len(p.job().Holds[len(p.job().Holds)-1].Reasons) == 0 {
		t.Errorf("a steeper slope as the reason leaves %v", p.job().Differs)
	}
	p = at[flow.Held].copied(t)
	p.say("Eve", "withhold")
	if p.say("Eve", "somebody stands below the load"); p.job().State == flow.Pulling && len(p.job().Stops) == 0 {
		t.Errorf("a danger as the reason leaves it at %s", p.job().State)
	}
	p = at[flow.Held].copied(t)
	p.say("Eve", "withhold")
	p.say("Eve", "so far")
	if p.say("Eve", "the sling is cut"); len(p.job().Differs) == 0 {
		t.Error("what is said later on tells nothing any more")
	}
}

func values(m map[string]string) []string {
	var out []string
	for _, v := range m {
		out = append(out, v)
	}
	return out
}
