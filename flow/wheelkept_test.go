package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestTheWheelOutlastsTheStep: a wheel that was measured for a step is still so big once the
// step is dug away, and is heard where the plan stands too: the bites follow it.
func TestTheWheelOutlastsTheStep(t *testing.T) {
	flow.Lone(t)
	told := []string{"none", "2.6 t weighed", "2 deg by phone", "sand, not sunk, wheels turn", "level", "4x4 pickup 2.5 t on level firm soil, drawbar", "nothing"}
	c := after(t, told...)
	c.say("there is a step of 20 cm, the radius of the wheel is 40 cm")
	if l := c.session().Sheet; l.Load.Lip.Height != "20 cm" || l.Load.Lip.WheelRadius != "40 cm" || l.Puller.HitchHeight != "" {
		t.Errorf("a step told with its wheel leads to %+v", l.Load.Lip)
	}
	c.say("change step none")
	if got := c.session().Sheet.Load.WheelRadius; got != "40 cm" {
		t.Errorf("the wheel's radius is %q after the step went", got)
	}
	c = after(t, told...)
	c.say("wheel radius 38 cm")
	if got := c.session().Sheet.Load.WheelRadius; got != "38 cm" {
		t.Errorf("with no step the wheel's radius is %q", got)
	}
}
