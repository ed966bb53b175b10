package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestNoTravelNoCrest: where the load has come as far as this rig takes it, what is
// offered is what can be done: neither a bite nor the crest, which would be told again
// and again that no travel is left.
func TestNoTravelNoCrest(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Ada", "wheel radius 38 cm")
	p.confirm()
	if !p.has("Ada", "crest") {
		t.Fatalf("at a hold with travel left Ada is offered %v", p.last["test/Ada"].Choices)
	}
	for range 24 {
		if p.stage() == flow.Held {
			p.confirm()
		}
		if got := p.asked("Ada"); strings.Contains(got, "no travel left") || strings.Contains(got, "has come to where") || p.has("Ada", "secure") && !p.has("Ada", "release") {
			if p.has("Ada", "crest") || !p.has("Ada", "secure") {
				t.Errorf("with no travel left Ada is offered %v", p.last["test/Ada"].Choices)
			}
			return
		}
		p.press("Ada", "release")
		p.press("Ada", "stands_*")
		p.say("Cy", "moved 1.1 m")
	}
	t.Errorf("the way never ends: %s, Ada is asked %q", p.stage(), p.asked("Ada"))
}

// TestTheLeaderOfTwoReadsOfTheChocks: a leader with one other person has the chocks as
// well, and reads plainly what that takes; nobody else with the lead has them.
func TestTheLeaderOfTwoReadsOfTheChocks(t *testing.T) {
	flow.Lone(t)
	for _, names := range [][]string{{"Ada", "Bo"}, {"Ada", "Bo", "Cy"}, {"Ada", "Bo", "Cy", "Di"}} {
		p := planned(t)
		got := flow.LeadersCard(p.engine, p.job(), names...)
		if two := len(names) == 2; slices.Contains(got, "seat.leader_chocks") != two {
			t.Errorf("%v: the leader is told %v", names, got)
		}
	}
}
