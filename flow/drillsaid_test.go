package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestTheDrillsAnswerIsNoStop: that the driver stopped and all stood is the answer to
// how the drill went, in those words too; a bare stop is one then as ever.
func TestTheDrillsAnswerIsNoStop(t *testing.T) {
	flow.Lone(t)
	for words, good := range map[string]bool{
		"he stopped and all stood still": true, "driver stopped at once, everybody stood": true, "yes, they all stopped": true,
		"stop": false, "stopped": false, "stop it": false, "he stopped but the rope is off": false, "stop all": false,
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		p.say("Ada", words)
		if got := p.stage() == flow.AllPlaced; got != good {
			t.Errorf("%q ends the drill as it should: %v", words, got)
		}
		if stopped := p.job().State == flow.Halted; stopped == good {
			t.Errorf("%q is a stop: %v", words, stopped)
		}
	}
	p := readyToPull(t)
	p.to(flow.StopDrill)
	p.say("Ada", "he stopped and all stood still")
	if p.stage() != flow.AllPlaced {
		t.Errorf("with one phone the drill stands at %s", p.stage())
	}
}

// TestNoRealStop: that a stop was no real one is said with its word, and is no other.
func TestNoRealStop(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"was not a real stop", "that wasnt a real stop"} {
		p := planned(t)
		p.say("Ada", "stop")
		calls := p.job().Stops[0].Calls
		if p.say("Ada", words); p.job().State == flow.Halted || p.job().Stops[0].Calls != calls {
			t.Errorf("%q ends no stop", words)
		}
	}
}
