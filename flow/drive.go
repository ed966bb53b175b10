package flow

import (
	"linetender/calc"
	"linetender/flow/wording"
)

// How far a bite goes is said to whoever drives in what they can see from the
// seat: how far the puller goes, or how much rope comes in, which is as many
// times the way of the load as there are parts.

// ropeParts is how much rope comes in for each length that the load goes.
func ropeParts(p *calc.Plan) int {
	if p == nil || p.Tackle == nil {
		return 0
	}
	n := p.Tackle.Parts
	if p.Tackle.Compound != nil {
		n *= p.Tackle.Compound.Parts
	}
	return n
}

// drives reports whether a chat is where the driver is told.
func (t *turn) drives(chat string) bool {
	s := t.s.doer("driver")
	return s != nil && s.Name != "" && t.seatChat(*s) == chat
}

// goesFar says how far the bite that is under way goes at most, and the driver
// how far that is at the puller.
func (t *turn) goesFar() {
	n := len(t.s.Bites)
	if n == 0 || !t.s.Stage.travels() {
		return
	}
	most, ok := readLength(t.s.Bites[n-1].Most)
	if !ok {
		return
	}
	args := wording.Args{"Length": atMost(most.High)}
	parts := ropeParts(t.plan())
	if parts == 0 || len(t.s.Seats) > 0 && !t.drives(t.mail.chat) {
		t.say(wording.PullGoesFar, args)
		return
	}
	args["Rope"] = atMost(most.High.Scale(float64(parts)))
	t.say(wording.PullDriveFar, args)
}
