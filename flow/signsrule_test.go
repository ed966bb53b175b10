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
		"when the lever gets hard gerd stops at once, lets go, shouts stop, nobody cranks against a hard lever. then we look what it is": false,
		"gerd stops at once and shouts stop": false, "as soon as it goes hard we stop and look": false, "if the lever goes hard, Bo stops cranking and calls stop": false,
		"whoever feels it go hard says stop": false, "Bo cranks, he stops the moment it is hard": false, "the lever is let go once it goes hard, and Bo shouts stop": false,
		"Bo must stop when it is hard, everybody else stands clear": false,
		"gerd shouts stop!": true, "gerd shouts stop": true, "when it goes hard everybody stop": true, "if you can hear me stop": true, "please stop": true, "we crank slowly, stop now": true,
		"as soon as it is hard we stop. STOP!": true, "gerd stops at once. stop stop": true, "Bo is shouting stop": true, "halt": true, "Bo says he wants to stop": true,
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
