package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAStepThatIsNoneAfterAll: how high a step is is read back before the wheel is known,
// and goes when there is none after all: it never comes back with the wheel.
func TestAStepThatIsNoneAfterAll(t *testing.T) {
	flow.Lone(t)
	for _, taken := range []string{"40 cm but theres no step", "no step, i was talking about the ash tree", "there is no step", "nothing in front of the wheels"} {
		c := newChair(t)
		c.say("/start")
		c.standOn("lip", [][2]string{{"load.slope", "1 deg"}, {"load.off_line", "0 to 5 deg"}, {"load.side_slope", "0 to 2 deg"}, {"puller.kind", "hand-winch"}, {"puller.name", "hand winch"}, {"puller.mass", ""},
			{"puller.driven", ""}, {"puller.hitch", ""}, {"puller.rating", "0.9 t"}, {"puller.rating_kind", "working"}}...)
		if said := textOf(c.say("55 cm")); !strings.Contains(said, "step 55 cm") || !strings.Contains(said, "middle of the wheel") {
			t.Fatalf("they are told %s", said)
		}
		if said := textOf(c.say(taken)); !strings.Contains(said, "step none") || strings.Contains(said, "middle of the wheel") {
			t.Errorf("%q: they are told %s", taken, said)
		}
		c.say("wheel middle is at 40 cm")
		if lip := c.session().Sheet.Load.Lip; !lip.None || lip.Height != "" {
			t.Errorf("%q: the step is %+v", taken, lip)
		}
		c.say("change step 10 cm")
		if said := textOf(c.say("so far")); !strings.Contains(said, "middle of the wheel") {
			t.Errorf("%q: a step that is told anew asks for no wheel: %s", taken, said)
		}
	}
}
