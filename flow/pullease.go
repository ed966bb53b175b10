package flow

import (
	"slices"

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
	if s.Stage != AllPlaced || len(s.Holds) == 0 {
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
	if !t.s.taut() {
		return false
	}
	if t.s.State != Pulling {
		t.fire(Pulls)
		t.act(Act{Do: DoAsk})
		t.act(Act{Do: DoAnew})
	}
	t.say(wording.PullTaut, nil)
	t.tellAll(true, func() { t.say(wording.PullTaut, nil) })
	t.ask()
	return true
}
