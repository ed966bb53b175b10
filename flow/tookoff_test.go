package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestTookOff: a piece that was taken off is off, what was told of it is not of the new
// one that is told behind it, and what is taken off a load is no piece.
func TestTookOff(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"took the damaged rope off. new rope 80 m 24 mm polyester wll 3 t", "threw the bad rope away, new rope 80 m 24 mm polyester wll 3 t",
		"swapped the damaged rope for a new one, 80 m 24 mm polyester wll 3 t"} {
		c := standing1(t, "verdict", [2]string{"gear[0].condition", "damaged"})
		sent := c.say(text)
		ropes := 0
		for _, g := range c.session().Sheet.Gear {
			if g.Kind != "rope" {
				continue
			}
			if ropes++; g.Length != "80 m" || g.Condition == "damaged" {
				t.Errorf("%q leaves a rope of %s, %s", text, g.Length, g.Condition)
			}
		}
		if ropes != 1 {
			t.Errorf("%q leaves %d ropes:\n%s", text, ropes, textOf(sent))
		}
	}
	c := standing1(t, "verdict")
	c.say("took 5 bales off")
	if s := c.session(); len(s.Sheet.Gear) != 3 || s.Topic != "mass" {
		t.Errorf("bales off ask %s with %d pieces", s.Topic, len(s.Sheet.Gear))
	}
}
