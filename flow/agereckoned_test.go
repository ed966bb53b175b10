package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestAgeOfAPlanReckonedAnew: a plan that is another since is as old as that, beside how
// long ago all that it goes by was asked.
func TestAgeOfAPlanReckonedAnew(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.SlackIsOut].copied(t)
	p.at = p.at.Add(11 * time.Minute)
	p.say("Ada", "change weight 2.45 t")
	if got := text(p.say("Ada", "plan")["test/Ada"]); !strings.Contains(got, "reckoned anew 0 min ago; all that it goes by was last asked 1") {
		t.Errorf("the plan's age is %q", got[:min(len(got), 200)])
	}
}
