package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestAnotherPersonIsDrilled: who has another part since the stop was drilled has it called
// anew while the line lies slack; at a tight line, where nobody drives for a drill, signals
// and stop are asked again.
func TestAnotherPersonIsDrilled(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for stage, want := range map[flow.Stage]flow.Stage{flow.AllPlaced: flow.StopDrill, flow.Held: flow.Held} {
		p := at[stage].copied(t)
		p.say("Ada", "swap Bo and Di")
		s := p.job()
		if s.Stage != want || s.Settled["site.signals"] != "" {
			t.Errorf("at %s with another driver it is %s, the signals are settled: %q", stage, s.Stage, s.Settled["site.signals"])
		}
		if stage != flow.AllPlaced {
			continue
		}
		if p.until("the drill", func() bool { return p.has("Ada", "drill") }); p.has("Ada", "release") {
			t.Error("a release comes before the drill")
		}
		p.press("Ada", "drill")
		p.say("Bo", "stop")
		for _, who := range []string{"Cy", "Di"} {
			p.pressed(who, "still")
		}
		if p.pressed("Ada", "drill_ok"); p.job().Stage != flow.AllPlaced {
			t.Errorf("after the drill it is %s", p.job().Stage)
		}
	}
}
