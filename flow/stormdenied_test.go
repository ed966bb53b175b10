package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestAStormThatIsDeniedStopsNothing: in a pull no thunder is no stop, and what is seen
// beside what is denied is one.
func TestAStormThatIsDeniedStopsNothing(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	at.to(flow.Held)
	for words, stops := range map[string]bool{
		"no thunder here": false, "its not dark yet": false, "there is no lightning or thunder": false,
		"thunder": true, "i hear thunder": true, "no thunder yet but lightning over the hill": true, "no fog but it gets too dark": true, "not just fog, i see lightning": true,
	} {
		p := at.copied(t)
		p.say("Cy", words)
		if got := p.job().State == flow.Halted; got != stops {
			t.Errorf("%q stops the pull: %v, want %v", words, got, stops)
		}
	}
}
