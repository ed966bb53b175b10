package flow

import (
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// livesOnly says of a tree that is told to be alive, and no more, that this does not make
// it sound, and reports whether that was all of the message: a hollow or rotten tree may
// be in leaf. A yes beside it is one to that only; whether it is sound stays a question.
//
// Source: common practice.
func (t *turn) livesOnly(h *hear.Heard) bool {
	if !h.Lives || t.s.State == Away || t.s.State == Closed || t.s.State == Halted {
		return false
	}
	asked := strings.HasSuffix(t.s.Topic, ".alive") && t.main()
	if len(h.Facts) == 0 && !asked && !slices.ContainsFunc(t.s.Sheet.Anchors, func(a job.AnchorSheet) bool { return a.Kind == "tree" && a.Alive == nil }) {
		return false
	}
	if asked {
		h.Act = hear.None
	}
	t.say(wording.ReadLives, nil)
	if len(h.Facts) > 0 {
		return false
	}
	t.ask()
	return true
}

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
	if !h.GasBottle || t.s.Topic != "people" {
		return false
	}
	t.say(wording.ReadGasBottle, nil)
	if len(h.Facts)+len(h.Cleared) > 0 {
		return false
	}
	t.note(t.in.Text)
	t.ask()
	return true
}
