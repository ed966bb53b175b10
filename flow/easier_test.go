package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhichIsMeantRaisesNothing: who answers which of two trees was meant makes it no
// thicker than it was told by that: it is asked. By its name a tree is picked.
func TestWhichIsMeantRaisesNothing(t *testing.T) {
	flow.Lone(t)
	for _, pick := range []string{"first one", "oak 50 cm"} {
		c := standing1(t, "crew", [2]string{"anchors[1].kind", "tree"}, [2]string{"anchors[1].name", "oak"}, [2]string{"anchors[1].diameter", "40 cm"})
		c.say("the oak is 90 cm")
		said := textOf(c.say(pick))
		if s := c.session(); s.Sheet.Anchors[0].Diameter != "50 cm" || s.Topic != "anchors[0].diameter" || !strings.Contains(said, "90 cm") {
			t.Errorf("%q: the oak is %s, asked is %s\n%s", pick, s.Sheet.Anchors[0].Diameter, s.Topic, said)
		}
	}
}
