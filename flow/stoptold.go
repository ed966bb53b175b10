package flow

import (
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What happened is told with the word for a stop: it came 30 cm and then it stopped. Where
// everything stands that is a report, and calls nothing; while the puller moves it is one
// only as a count, which has the puller stand as well. The verb itself, a shout, a danger in
// the same breath and whatever else may be a stop is one.

// toldStopped reports whether words that have the letters of a stop tell of one that was.
func (t *turn) toldStopped() bool {
	m := t.me()
	if t.in.Press != nil || t.s == nil || m == nil || m.afar() {
		return false
	}
	low := hear.Lowered(strings.TrimSpace(t.in.Text))
	if t.s.State == Debrief && t.s.Stage == PullOver { // all of it is looked back on
		return !calledOut.MatchString(low) && !hear.Stops(stopsTold.ReplaceAllString(low, " "))
	}
	if t.s.State != Pulling {
		return false
	}
	if strings.ContainsAny(low, "!?") || calledOut.MatchString(low) && !hasStopped.MatchString(low) || hear.Stops(hasStopped.ReplaceAllString(low, " ")) {
		return false
	}
	if s, ok := t.sight(t.in.Text); ok && s.kind != "moves" {
		return false
	}
	if t.s.Stage.Moves() {
		moved, tookIn := travelled(low)
		return counted(low) && (moved != "" || tookIn != "")
	}
	return t.s.hold() != nil
}

// stoppedSaid takes that what moved has stopped, told at a hold, where that is all.
func (t *turn) stoppedSaid(text string) bool {
	if t.s.hold() == nil || !t.toldStopped() || !hear.HasStopped(text, t.crewNames()) {
		return false
	}
	t.note(text)
	if !t.isLead() {
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
	}
	t.remark(wording.PullStopTold, wording.Args{"Number": t.s.Hold})
	return true
}
