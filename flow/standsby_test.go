package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestWhoStandsBy: strangers who stand about are a no to the list, and a stop in
// the pull, whatever they are called.
func TestWhoStandsBy(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, text := range []string{"kids standing there behind fence", "hey theres a dude walking along the rope", "two neighbours watching from the gate"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Bo", text)
		if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
			t.Errorf("%q begins all the same", text)
		}
		p = held.copied(t)
		if p.say("Bo", text); p.job().State != flow.Halted {
			t.Errorf("%q in the pull leads to %s", text, p.job().State)
		}
	}
}
