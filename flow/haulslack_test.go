package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestSlackHaulLine: where the haul line lies slack, in a re-rig too that was broken off,
// nobody is told that the line is tight when they look at its pieces.
func TestSlackHaulLine(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Rerig].copied(t)
	p.say("Bo", "stop")
	for _, who := range []string{"Cy", "Di"} {
		p.press(who, "still")
	}
	p.at = p.at.Add(time.Minute)
	out := p.say("Ada", "the chock was loose, it is hammered in again and looked at")
	if p.stage() != flow.RerigHeld {
		t.Fatalf("it stands at %s", p.stage())
	}
	for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
		if got := told(out["test/"+who]); !strings.Contains(got, "item.holds") || strings.Contains(got, "item.tight") {
			t.Errorf("%s reads %s", who, got)
		}
	}
}
