package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTooTightIsToldToAll: a load cell that shows more than light tension was to be is
// read by everybody at once, in the words of who told it, and what was confirmed counts no
// more, also where a coordinator tells it. One that fits is nobody's trouble.
func TestTooTightIsToldToAll(t *testing.T) {
	flow.Lone(t)
	for _, who := range []string{"Bo", "Eve"} {
		for _, words := range []string{"load cell reads 30 kN at the puller", "load cell reads 40 kN at the load"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.LightTension)
			before := p.job().Hold
			seen := len(p.job().Sheet.Seen)
			out := p.say(who, words)
			for _, reads := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				got := text(out["test/"+reads])
				if !strings.Contains(got, words) || !strings.Contains(got, "too much") || !strings.Contains(strings.ToLower(got), "ease") {
					t.Errorf("%s: %q tells %s %q", who, words, reads, got)
				}
			}
			if s := p.job(); s.Hold == before || s.Stage != flow.LightTension || who == "Eve" && len(s.Sheet.Seen) != seen {
				t.Errorf("%s: %q leaves it at hold %d, %s", who, words, s.Hold, s.Stage)
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	before := p.job().Hold
	p.say("Bo", "load cell reads 100 N at the puller")
	if s := p.job(); s.Hold != before {
		t.Error("a reading that fits has everybody hold")
	}
}
