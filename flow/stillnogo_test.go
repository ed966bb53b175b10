package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestNoGoAfterAnotherIsToldWhole: a no-go is still one only where nothing else
// was said in between; after a plan that was open it is said whole.
func TestNoGoAfterAnotherIsToldWhole(t *testing.T) {
	flow.Lone(t)
	c := after(t, "none", "2.6 t weighed", "2 deg by phone", "sand, not sunk, wheels turn", "level", "4x4 pickup 2.5 t on level firm soil, rated point, strap on the tow ball of the stuck one")
	if no := said(c.say("nothing")); !strings.Contains(no, "plan.no_go") {
		t.Fatalf("it begins with %s", no)
	}
	c.say("change tow point")
	c.say("the stamped eye")
	if other := said(c.say("yes")); !strings.Contains(other, "plan.turned") {
		t.Fatalf("a rated eye leads to %s", other)
	}
	c.say("change tow point")
	if back := said(c.say("the tow ball")); !strings.Contains(back, "plan.no_go") || strings.Contains(back, "plan.still") {
		t.Errorf("a no-go after another plan is told as %s", back)
	}
	if still := said(c.say("change weight 2.7 t")); !strings.Contains(still, "plan.still_no_go") {
		t.Errorf("a no-go after a no-go is told as %s", still)
	}
}

// TestSlipsAreCounted: the debrief counts a slip however it was told: as a report,
// as the reason for a stop, or in its words; told twice of one stop it is one.
func TestSlipsAreCounted(t *testing.T) {
	flow.Lone(t)
	for _, row := range []struct {
		words, cause string
		want         int
	}{{"the puller slips", "", 1}, {"stop, the puller slips", "", 1}, {"stop", "stop_cause.slips", 1}, {"stop", "stop_cause.weather", 0}} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		p.say("Bo", row.words)
		if row.cause != "" {
			p.pressed("Ada", row.cause)
		}
		if got := p.job().TimesSeen("slips"); got != row.want {
			t.Errorf("%q, %s: %d slips are counted, want %d", row.words, row.cause, got, row.want)
		}
	}
}
