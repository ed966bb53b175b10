package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTiedBackToNothingSound: an anchor that was told to be dead or to lean holds no
// other, however gladly somebody says yes; a sound one does.
func TestTiedBackToNothingSound(t *testing.T) {
	flow.Lone(t)
	was := knownJob
	defer func() { knownJob = was }()
	for _, dead := range []bool{true, false} {
		alive := map[bool]string{true: "false", false: "true"}[dead]
		knownJob = append(was[:len(was):len(was)], [2]string{"anchors[1].kind", "tree"}, [2]string{"anchors[1].name", "birch"}, [2]string{"anchors[1].alive", alive})
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: "anchors[0].tied_back"})
		said := textOf(c.say("yes to the birch behind"))
		back := c.session().Sheet.Anchors[0].TiedBack
		if (back != nil) == dead || strings.Contains(said, "holds no other") != dead {
			t.Errorf("dead %v: tied back %v\n%s", dead, back, said)
		}
	}
}
