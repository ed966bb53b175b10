package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestHowAtAnItem: whatever is asked with how at an item gets how it is looked at, and
// answers nothing.
func TestHowAtAnItem(t *testing.T) {
	flow.Lone(t)
	c := listed1(t)
	plain := textOf(c.say("how"))
	plain, _, _ = strings.Cut(plain, "\n")
	topic := c.session().Topic
	for _, say := range []string{"how do i know its 0.5 kn", "how do we know that", "how am i meant to see 3 t", "how?", "and how does one tell 0.5 kN"} {
		got := textOf(c.say(say))
		if !strings.Contains(got, plain) || c.session().Topic != topic || c.session().Settled[topic] != "" {
			t.Errorf("%q is answered\n%s\nwithout %q", say, got, plain)
		}
	}
}
