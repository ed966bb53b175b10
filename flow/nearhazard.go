package flow

import (
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Things that are told where the hazards are asked and are none by themselves: they are
// asked about, and the question stands.

// waterNear asks of water that is only told to be near whether any is over the hubs, and
// reports whether that was all of the message.
func (t *turn) waterNear(h hear.Heard) bool {
	if !h.WaterNear || t.s.Topic != "people" || len(h.Facts)+len(h.Cleared) > 0 {
		return false
	}
	t.note(t.in.Text)
	t.say(wording.ReadWaterNear, nil)
	t.ask()
	return true
}

// gasBottle says what is to be done with a gas bottle to cook with, which alone is no
// dangerous cargo, and reports whether that was all of the message. The hazards stay asked.
func (t *turn) gasBottle(h hear.Heard) bool {
	if !h.GasBottle || t.s.State == Referred { // there it takes who else looked
		return false
	}
	if t.s.Topic == "people" {
		t.say(wording.ReadGasBottle, nil)
	} else {
		t.say(wording.ReadBottleOut, nil)
	}
	if len(h.Facts)+len(h.Cleared) > 0 {
		return false
	}
	t.note(t.in.Text)
	t.ask()
	return true
}

// overRoad asks about the dangers again where an anchor stands across a road, which the
// line to it then lies over: whether anything can drive there is for who is there to say.
func (t *turn) overRoad(h hear.Heard) {
	if h.OverRoad && t.main() && t.s.Settled[firstTopics[0].name] != "" && len(hazards(t.s.Sheet)) == 0 {
		t.act(Act{Do: DoAgain, Topic: firstTopics[0].name, Reason: t.saying(wording.StaleOverRoad)})
	}
}
