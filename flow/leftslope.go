package flow

import (
	"slices"

	"linetender/calc"
)

// A load that is secured before it is where it was to come to stands where it can
// roll. What keeps it there stays when people go: it is told before anything comes
// off, and the holding line is not ordered off.

// heldLeft keeps that a load was secured short of where it was to come to. Where it
// stands no answer that is changed afterwards moves it to, and no plan reckoned anew.
const heldLeft = "left_on_slope"

// keepsLeft ends a turn: it notes that the load was secured where it can roll, and
// forgets it once it is pulled on from there.
func (t *turn) keepsLeft() {
	if t.err != nil || t.s == nil || t.s.State != Pulling && t.s.Held[heldLeft] == "" {
		return
	}
	switch t.s.Stage {
	case Securing, SlackOff, SlackIsOff:
		if t.s.Held[heldLeft] == "" && t.leftOnSlope() {
			t.act(Act{Do: DoHold, Path: heldLeft, Value: itoa(t.s.Hold)})
		}
	case Unrig, UnrigHeld, GearCheck, PullOver:
	default:
		if t.s.Held[heldLeft] != "" {
			t.act(Act{Do: DoHold, Path: heldLeft})
		}
	}
}

// leftOnSlope reports whether a load that needs a holding line is left short of where
// it was to come to. Once it was secured so it stays so until it was pulled on, whatever
// is told otherwise.
func (t *turn) leftOnSlope() bool {
	if t.s.Held[heldLeft] != "" && t.s.Stage.Lies() {
		return true
	}
	if !t.holdNeeded() {
		return false
	}
	last := 0
	if n := len(t.s.Bites); n > 0 {
		last = t.s.Bites[n-1].Hold
	}
	if slices.ContainsFunc(t.s.Reports, func(r Report) bool { return r.Kind == "arrived" && r.Hold >= last }) {
		return false
	}
	p := t.plan()
	if p == nil {
		return true
	}
	b, ok := t.bite(p)
	return !ok || b.Load == nil || *b.Load > 0 || b.By != calc.ByDistance
}

// heldAtEnd reports whether a holding line is on a load that is where it was to come to.
func (t *turn) heldAtEnd() bool { return t.holdNeeded() && !t.leftOnSlope() }

// momentary reports whether a claim hangs on where the load is left, or on a stop: the
// card for when there is no signal, which is for all the job, leaves it out.
func momentary(c claim) bool {
	switch c.name {
	case "put_right", "stood_minute", "keeps":
		return true
	}
	return c.stage == SlackIsOff && (c.duty == "chocks" || c.duty == "holder")
}
