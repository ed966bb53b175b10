package flow

import (
	"slices"

	"linetender/flow/wording"
)

// A stop in the pull is over with the release of the first hold after all that it
// asks for. Until then everybody who is told anything is told what that waits for.

// stopOpen reports whether a stop is noted and not over.
func (t *turn) stopOpen() bool { return t.s.Held["stop_open"] != "" && t.s.Stage != StopDrill }

// stopWaits reports whether a stop that is open in a job which no longer pulls waits for
// what it asked to be looked at once the line is slack, and nobody has: it is confirmed
// there, before anything is unhooked.
func (t *turn) stopWaits() bool {
	switch t.s.Stage {
	case Securing, SlackOff, SlackIsOff:
		return t.stopOpen() && t.s.againNear()
	}
	return false
}

// sayStopLeft says what a stop that is open waits for: questions that are asked again,
// what is to be looked at and by whom, and who has to confirm the hold.
func (t *turn) sayStopLeft() {
	if !t.stopOpen() {
		return
	}
	open, all := t.openNames(t.openItems()), slices.Concat(t.againNames(), t.openNames(t.opens()))
	again := len(open) + len(t.s.againNow())
	if !t.s.Stage.needsPlan() { // the hold itself asks for what is to be looked at there
		again = 0
		if !t.stopWaits() || t.s.Stage == SlackIsOff {
			all = nil
		}
	}
	switch h := t.s.hold(); {
	case again > 0:
		t.say(wording.StopLeft, wording.Args{"Names": all, "Name": t.s.Lead.Name})
	case len(all) > 0:
		t.say(wording.StopLeftSlack, wording.Args{"Names": all, "Name": t.s.Lead.Name})
	case h == nil:
	case len(t.waitedFor()) > 0 && t.mail.chat != t.s.leadChat(): // the lead is told them anyway
		t.say(wording.StopLeftSure, wording.Args{"Names": t.waitedFor(), "Number": h.Number, "Name": t.s.Lead.Name})
	default:
		t.say(wording.StopLeftRelease, wording.Args{"Number": h.Number, "Name": t.s.Lead.Name})
	}
}
