package flow_test

import (
	"strings"
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

// TestWhoObeysTheDrillStops: who writes that they have stopped, once the drill is called,
// obeys it: it is the drill, and they stand. A stop with anything else in it is one.
func TestWhoObeysTheDrillStops(t *testing.T) {
	flow.Lone(t)
	for words, drill := range map[string]bool{"stopped": true, "I have stopped": true, "stopped, brake on": true, "stopped, the rope is off": false} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		out := p.say("Bo", words)
		stop := p.job().Stops[len(p.job().Stops)-1]
		if got := text(out["test/Cy"]); p.job().State != flow.Halted || stop.Drill != drill || len(stop.Still) == 0 || !strings.HasPrefix(got, "STOP") {
			t.Errorf("%q: %+v; Cy reads %q", words, stop, got)
		}
		if !drill {
			continue
		}
		for _, who := range []string{"Cy", "Di"} {
			p.press(who, "still")
		}
		if p.press("Ada", "drill_ok"); p.stage() != flow.AllPlaced {
			t.Errorf("%q: the drill is not done: %s, %s", words, p.job().State, p.stage())
		}
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
