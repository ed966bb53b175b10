package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestWhoOnlyLooked: that somebody looked is asked what they found, and the next good
// answer counts without it being put back.
func TestWhoOnlyLooked(t *testing.T) {
	flow.Lone(t)
	c := standing1(t, "gear[0].condition")
	if sent := c.say("Gary checked it"); refused(sent) != "refuse.looked" {
		t.Errorf("they are told\n%s", textOf(sent))
	}
	c.say("its good")
	if got := flat(t, c.session().Sheet)["gear[0].condition"]; got != "good" {
		t.Errorf("the rope is %q", got)
	}
}
