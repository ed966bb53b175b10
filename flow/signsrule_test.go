package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestARuleThatIsSignedIsNoStop: at the reason of a signature "stop when it goes hard"
// is the rule that is asked for; what begins with a stop, or is one by itself, is one.
func TestARuleThatIsSignedIsNoStop(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for words, stop := range map[string]bool{
		"we crank slowly and stop when it goes hard": false, "slow, and stop as soon as the lever goes hard": false,
		"stop": true, "stop when it goes hard": true, "we crank slowly. stop": true, "everybody stop now": true, "stop if you can hear me": true,
		"we crank and stop when it goes hard, stop stop": true,
	} {
		c, _ := onePhone(t, "Ada, Bo, Cy, Di", "ask.sign_name")
		c.say("me")
		if got := c.say("Bo"); !asks(got, "ask.sign_reason") {
			t.Fatalf("no reason is asked for: %s", keysOf(got))
		}
		c.say(words)
		if got := c.session().State == flow.Halted; got != stop {
			t.Errorf("%q is a stop: %v", words, got)
		}
	}
}
