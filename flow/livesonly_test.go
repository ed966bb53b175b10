package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSkippedIsNoFact: what was skipped of a tree counts at its worst, and is never said
// as if somebody had told it.
func TestSkippedIsNoFact(t *testing.T) {
	flow.Lone(t)
	for topic, want := range map[string]string{
		"anchors[0].alive": "taken as not sound, since nobody knows",
		"anchors[0].lean":  "taken as leaning, since nobody knows",
	} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: topic})
		c.say("dunno")
		if said := textOf(c.say("so far")); !strings.Contains(said, want) {
			t.Errorf("%s skipped is told as\n%s", topic, said)
		}
		a := c.session().Sheet.Anchors[0]
		if bad := a.Alive != nil && !*a.Alive || a.Lean != nil && *a.Lean; !bad {
			t.Errorf("%s skipped counts as %+v", topic, a)
		}
	}
}
