package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestRainVoidsAHold: rain that is told at a hold point voids what was confirmed there:
// it has another number, and everybody is asked it again.
func TestRainVoidsAHold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.Securing, flow.SlackIsOff, flow.LineSlack, flow.Held} {
		p := at[stage].copied(t)
		p.confirm()
		s := p.job()
		was := s.Hold
		if len(s.Holds[len(s.Holds)-1].Sure) == 0 {
			t.Fatalf("%s: nothing is confirmed", stage)
		}
		p.say("Bo", "it starts raining hard")
		s = p.job()
		if s.State == flow.Pulling && (s.Hold == was || len(s.Holds[len(s.Holds)-1].Sure) > 0) {
			t.Errorf("%s: after rain hold %d stands, confirmed %+v", stage, s.Hold, s.Holds[len(s.Holds)-1].Sure)
		}
		if got := text(p.say("Ada", "release "+strconv.Itoa(was))["test/Ada"]); p.job().Stage != stage || strings.Contains(got, "is released by") {
			t.Errorf("%s: the hold from before the rain is released: %s", stage, got)
		}
	}
}
