package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAStormVoidsTheItem: that a storm is on or coming, whoever tells it, makes the item
// that says there is none count no more, and all read it; nothing begins over it.
func TestAStormVoidsTheItem(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"it is thundering far away", "the storm is coming nearer", "i see lightning", "fog is coming up, can't see the anchor"} {
		for _, who := range []string{"Ada", "Cy", "Eve"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			out := p.say(who, words)
			for _, reads := range []string{"Ada", "Bo", "Cy", "Di"} {
				if got := text(out["test/"+reads]); reads != who && !strings.Contains(got, words) {
					t.Errorf("%s: %q tells %s %q", who, words, reads, got)
				}
			}
			s := p.job()
			if v, _ := s.Sheet.Get("site.light"); v != "false" {
				t.Errorf("%s: %q leaves no storm or lightning %q", who, words, v)
			}
			if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
				t.Errorf("%s: after %q the pull begins", who, words)
			}
		}
	}
	for _, words := range []string{"no thunder here", "no storm or lightning", "the storm is over", "is there a storm coming?"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Cy", words)
		if v, _ := p.job().Sheet.Get("site.light"); v != "true" {
			t.Errorf("%q leaves no storm or lightning %q", words, v)
		}
	}
}
