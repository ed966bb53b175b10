package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAReadingAboveIsToldToAll: more on the cell than was reckoned with is told to all and
// holds everything, and not only under light tension.
func TestAReadingAboveIsToldToAll(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, stage := range []flow.Stage{flow.FirstMove, flow.Held, flow.Bite} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(stage)
		out := p.say("Cy", "load cell reads 6.9 kN at the puller")
		for _, who := range []string{"Ada", "Bo", "Di", "Eve"} {
			if m := out["test/"+who]; len(m) == 0 || !m[0].Urgent || !strings.Contains(text(m), "Cy reads") {
				t.Errorf("%s: of a reading above what was predicted %s is told %q", stage, who, text(m))
			}
		}
		if s := p.job(); s.Stage.Moves() {
			t.Errorf("%s: it moves on at %s", stage, s.Stage)
		}
	}
}
