package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestBentTowEyeIsLookedAt: what is told of damage to the load's tow point, however it
// is called, is not good until somebody else has looked; of the puller's, what the line
// is made fast to there is asked again.
func TestBentTowEyeIsLookedAt(t *testing.T) {
	flow.Lone(t)
	for words, damaged := range map[string]bool{
		"the eye on the lorry looks bent a bit from here": true, "stop the eye on the truck looks bent": true,
		"stop the eye on the truck is not bent": false, "stop keep an eye on the truck": false,
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LightTension)
		p.say("Bo", words)
		if got := p.job().Sheet.Load.TowPoint.Condition; (got == "damaged") != damaged || p.job().State != flow.Halted {
			t.Errorf("%q: the tow point is %s, the job %s", words, got, p.job().State)
		}
		if !damaged {
			continue
		}
		for _, who := range []string{"Cy", "Di"} {
			p.pressed(who, "still")
		}
		p.say("Ada", "it was the eye, looked at it, all fine")
		if p.job().State == flow.Pulling && p.has("Ada", "release") || p.job().Sheet.Load.TowPoint.Condition == "good" {
			t.Errorf("%q: by the lead's word it is %s, and %q", words, p.job().Sheet.Load.TowPoint.Condition, p.last["test/Ada"].Text())
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	p.say("Cy", "stop the hitch on the tractor is cracked")
	again := false
	for _, g := range p.job().Again {
		again = again || g.Topic == "puller.hitch"
	}
	if !again {
		t.Errorf("of a cracked hitch is asked again: %v", p.job().Again)
	}
}
