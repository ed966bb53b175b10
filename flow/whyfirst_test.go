package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestWhySoMuchChangesNothing: who asks why and tells what they think it comes from has
// changed no answer: the bus that is stuck never becomes what pulls, a machine that
// something lies in is no puller, and a figure that is asked is still an answer.
func TestWhySoMuchChangesNothing(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	for _, text := range []string{"/start", "none", "bus 3.5t", "11 deg", "firm", "uphill", "tractor 1.6t, all wheels", "oak"} {
		c.say(text)
	}
	before := flat(t, c.session().Sheet)
	for _, text := range []string{"why so much? the bus is only 3 t", "how come? the tractor is 2.1 t"} {
		said := textOf(c.say(text))
		after := flat(t, c.session().Sheet)
		for path := range after {
			if before[path] != after[path] {
				t.Errorf("%q: %s = %s\n%s", text, path, after[path], said)
			}
		}
	}
	c = newChair(t)
	for _, text := range []string{"/start", "none", "why? its 2.4 t"} {
		c.say(text)
	}
	if got := c.session().Sheet.Load.Mass; got != "2.4 t" {
		t.Errorf("a weight that answers with a why is %q", got)
	}
}
