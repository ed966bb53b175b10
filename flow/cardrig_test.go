package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAnotherAnchorIsAnotherCard: where the rig is another by its anchor alone, nobody is
// told that the last card counts again beside that cards given out before count no more.
func TestAnotherAnchorIsAnotherCard(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
	for _, words := range []string{"the oak is dead, we can't use it", "a beech 60 cm, alive and sound, sling low", "no", "yes, with a chain", "yes"} {
		out := p.say("Ada", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := said(out["test/"+who]); strings.Contains(got, "plan.rig_anew") && strings.Contains(got, "nosignal.counts") {
				t.Errorf("after %q %s is told %s", words, who, got)
			}
		}
	}
	if s := p.job(); s.RigNo != 2 || s.Issued["test/Bo"] < 2 {
		t.Errorf("it is rig %d, and Bo's card is number %d", s.RigNo, s.Issued["test/Bo"])
	}
}
