package flow

import (
	"cmp"
	"regexp"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// How the drill went is told in words as often as by a button, by whoever was there. A
// drill in which anything was late or not seen has failed: everybody reads what to put
// right, no button passes it any more, and it is done anew before anything pulls.

// heldDrill keeps in which words somebody told that the drill which is on has failed.
const heldDrill = "drill_failed"

// drillOn reports whether there is a drill of which it can be told how it went.
func (t *turn) drillOn() bool {
	if t.in.Press != nil || t.s == nil || t.s.Stage != StopDrill {
		return false
	}
	m := t.me()
	if m == nil || m.afar() || t.s.State == Halted && t.saidBefore() {
		return false
	}
	stop := t.s.stop()
	return stop != nil && stop.Drill || stop == nil && t.s.State == Pulling && (t.s.single() || t.s.Called)
}

// drillFailed reports whether words tell that a drill has failed, and nothing that is a
// stop of its own. That no signal was seen is what a drill is for.
func (t *turn) drillFailed(text string) bool {
	low := hear.Lowered(strings.TrimSpace(text))
	if calledOut.MatchString(low) || hear.Stops(stopsTold.ReplaceAllString(low, " ")) || hear.Drilled(text, t.crewNames()) != hear.DrillFailed {
		return false
	}
	s, ok := t.sight(text)
	return !ok || s.kind == "signal" || s.kind == "moves"
}

// stopsTold is a stop that is told of: one that was, or that was not.
var stopsTold = regexp.MustCompile(`\bstopp?ed\b|\b(?:did(?:n'?t| not)?|does(?:n'?t| not)|never|not|nobody|could(?:n'?t| not)?|wouldn'?t|to|till|until|before|when|the|my|his|her|heard|hear|saw|see|that|first|second|for|at|a|after) (?:\w+ )?(?:stop|halt)\b`)

// drillTold takes that the drill which is on has failed, or at a slack line the one that
// was passed.
func (t *turn) drillTold(text string) bool {
	if t.drillOn() && t.drillFailed(text) {
		t.note(text)
		t.act(Act{Do: DoHold, Path: heldDrill, Value: wording.Plain(text)})
		if t.isLead() && len(t.movers()) == 0 {
			t.drillOver(false)
			return true
		}
		t.toLead(func() { t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)}) })
		t.sayDrillFailed()
		t.ask()
		return true
	}
	m := t.me()
	if t.in.Press != nil || m == nil || m.afar() || t.s.State != Pulling || t.s.Stage != AllPlaced || t.s.tight() || !ofDrill.MatchString(text) || !t.drillFailed(text) {
		return false
	}
	t.note(text)
	t.act(Act{Do: DoStage, Cue: Redrills})
	t.tellAllAndHere(true, func() {
		t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)})
		t.sayDrillFailed()
	})
	t.ask()
	return true
}

// ofDrill names the drill.
var ofDrill = regexp.MustCompile(`(?i)\bdrill`)

// sayDrillFailed says that the drill does not count, and what to put right.
func (t *turn) sayDrillFailed() {
	t.say(wording.DrillBad, nil)
	t.say(t.forPuller(wording.DrillPutRight), nil)
}

// drillOver ends the drill, that was shouted or called as a stop. One that somebody told
// has failed is not passed by a button that was put up before.
func (t *turn) drillOver(good bool) {
	failed := t.s.Held[heldDrill]
	if failed != "" {
		good = false
		t.act(Act{Do: DoHold, Path: heldDrill})
	}
	say := t.sayDrillFailed
	if good {
		say = func() { t.say(t.forPuller(wording.DrillGood), nil) }
	}
	if stop := t.s.stop(); stop != nil {
		k := wording.DrillBad
		if good {
			k = t.forPuller(wording.DrillGood)
		}
		t.act(Act{Do: DoOver, Reason: cmp.Or(failed, t.saying(k))})
		t.fire(Pulls)
		t.act(Act{Do: DoAsk})
	}
	switch {
	case good:
		t.act(Act{Do: DoStage, Cue: Drilled})
	case t.s.Called: // it is called anew once all that is put right
		t.act(Act{Do: DoDrill, Value: "failed"})
	}
	t.tellAllAndHere(false, say)
	t.ask()
}
