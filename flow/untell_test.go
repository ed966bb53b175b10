package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAnAnchorThatIsNotKnownAnyMoreIsNone: nothing of an anchor stands without its
// kind, and the job goes on.
func TestAnAnchorThatIsNotKnownAnyMoreIsNone(t *testing.T) {
	flow.Lone(t)
	c := after(t, withGear...)
	c.say("change anchor")
	c.say("don't know")
	if got := known(c); strings.Contains(got, "oak") || strings.Contains(got, "50 cm") {
		t.Errorf("it is still known\n%s", got)
	}
}
