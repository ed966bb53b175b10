package flow_test

import (
	"testing"

	"linetender/calc"
	"linetender/flow"
)

// TestSlipAtTheSlackLine: a rig that slipped is no go as it is, though the line was
// to lie slack then, and no ground that is told otherwise and back takes it away.
func TestSlipAtTheSlackLine(t *testing.T) {
	for _, stage := range []flow.Stage{flow.StopDrill, flow.AllPlaced} {
		p := readyToPull(t)
		p.to(stage)
		ground := p.job().Sheet.Puller.Ground
		p.say("Ada", "tight, moved bit then wheels slipping")
		slipped := func(when string) {
			s := p.job()
			if len(s.Sheet.Seen) != 1 || s.Sheet.Seen[0].What != "slip" {
				t.Errorf("at %s %s the slip teaches nothing: %+v", stage, when, s.Sheet.Seen)
			}
			if s.Found == nil || s.Found.Decision == string(calc.Go) {
				t.Errorf("at %s %s it is still a go", stage, when)
			}
		}
		slipped("after it")
		p.say("Ada", "change puller's ground ice")
		p.say("Ada", "change puller's ground "+ground+", dry now")
		slipped("with the ground told anew")
	}
}
