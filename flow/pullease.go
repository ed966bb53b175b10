package flow

import (
	"slices"
	"strings"

	"linetender/flow/wording"
)

// A line that was taken up is tight until somebody has eased it. Who goes back
// to slack, by a button, a hold or a stop, has only ended the pulling; so the
// easing is ordered first, and nobody is asked to read gear, or to look at
// anything beside it, before the driver has said that the line lies slack.

// easing is the duty of that.
const easing = "easing"

// tautFrom are the stages that leave a line behind them which carries something.
var tautFrom = []Stage{SlackOut, SlackIsOut, Tightening, LightTension, HoldProved}

// taut reports whether the line is still tight where it is to lie slack.
func (s *Session) taut() bool {
	if s.Stage != AllPlaced && s.Stage != LineSlack || len(s.Holds) == 0 {
		return false
	}
	h := &s.Holds[len(s.Holds)-1]
	return slices.Contains(tautFrom, h.After) && !h.sure(easing)
}

// isTaut is taut for the table of claims.
func isTaut(t *turn) bool { return t.s.taut() }

// easeFirst goes to the hold where the line is eased before anything else is
// asked, and reports whether it had to.
func (t *turn) easeFirst() bool {
	if (t.s.Stage == SlackIsOut || t.s.Stage == LightTension) && t.looksClose() {
		t.act(Act{Do: DoStage, Cue: Backs})
	}
	if !t.s.taut() {
		return false
	}
	if t.s.State != Pulling {
		if t.s.State != Verdict && t.s.State != Checks {
			t.fire(Reopens) // from wherever a question is asked
		}
		t.fire(Pulls)
		t.act(Act{Do: DoAsk})
		t.act(Act{Do: DoAnew})
	}
	t.say(wording.PullTaut, nil)
	t.tellAll(true, func() { t.say(wording.PullTaut, nil) })
	t.ask()
	return true
}

// nearLine reports whether an answer takes hands on the line, or somebody beside it,
// its anchor or its load's path: gear is turned over, wood is scratched, a
// distance is paced along the line.
func nearLine(name string) bool {
	tp, ok := topicByName(name)
	return ok && (tp.state == Anchor || tp.state == AtAnchor || tp.state == AtGear || tp.name == "off_line" || tp.name == "lip" || tp.name == "puller.hitch" ||
		strings.HasPrefix(tp.name, "tow_point") || strings.HasPrefix(tp.name, "holding_point"))
}

// againNear reports whether such a question is to be asked again.
func (s *Session) againNear() bool {
	return slices.ContainsFunc(s.Again, func(g Again) bool { return nearLine(g.Topic) })
}

// nearItems are the items of the list for which somebody goes up to the line, its
// anchors or its ends; loadItems those for which somebody goes to the load. What
// keeps the load is looked at while it hangs in the line, before that is eased.
var (
	nearItems = []string{"anchor_marked", "ends_joined", "line_free", "edges_padded"}
	loadItems = []string{"under", "aboard", "chocks", "hold_stays"}
)

// openNear reports whether the list has such an item that is open.
func (t *turn) openNear(fields ...string) bool {
	if !t.s.Stage.Lies() {
		return false
	}
	return slices.ContainsFunc(t.opens(), func(a asking) bool { return slices.Contains(fields, a.check.field) })
}

// looksClose reports whether anything is to be asked, before the load hangs in
// the line, for which somebody goes up to what is tight: all but who is there, and
// what is seen from where people stand.
func (t *turn) looksClose() bool {
	return slices.ContainsFunc(t.s.Again, func(g Again) bool { return g.Topic != "crew" }) || t.openNear(nearItems...) || t.openNear(loadItems...)
}

// hangs reports whether the load hangs in the line, or is about to be shown not to.
func (s *Session) hangs() bool {
	return s.Stage == Held || s.Stage == Proving || s.Stage == HoldProved || s.Stage == LineSlack
}

// itemWaits reports whether an item of the list waits for the slack line, as a
// question that is asked again does.
func (s *Session) itemWaits(c siteCheck) bool {
	return s.hangs() && slices.Contains(nearItems, c.field)
}

// waitsForSlack reports whether a question is to be asked again and can't be yet:
// the load hangs in the line, or is about to be shown not to. The way to the slack
// line is open meanwhile, and no other.
func (s *Session) waitsForSlack(name string) bool {
	_, again := s.askedAgain(name)
	return again && nearLine(name) && s.hangs()
}

// againNow lists what can be asked again where the pull stands.
func (s *Session) againNow() []Again {
	return slices.DeleteFunc(slices.Clone(s.Again), func(g Again) bool { return s.waitsForSlack(g.Topic) })
}

// easesNext reports whether the line goes slack before it pulls again: to walk the
// rig, or for what can be looked at only then.
func (t *turn) easesNext() bool {
	return t.s.unwalked() || t.s.againNear() || t.openNear(nearItems...) || len(t.s.Defects) > 0
}
