package flow

import (
	"slices"

	"linetender/calc"
	"linetender/flow/wording"
)

// A hold point, and a list that a crew goes through, stand on a plan. Where a turn takes
// that away, the screens of all who were not in it still show what is over: all of them
// are told, at once and ahead of all else.

// stood0 is what of that stood when a turn began.
type stood0 struct {
	code string // of the job
	at   string // where the pull stood
	hold int    // the hold point that was open; 0 for none
	list bool   // the list was asked of the crew, and something of it was answered
}

func (t *turn) standing0() stood0 {
	out := stood0{code: t.s.Code, at: t.s.standsAt(), list: t.itemsOn() && t.seenOnSpot()}
	if h := t.s.hold(); h != nil && t.s.State == Pulling && !t.s.taut() { // that it was eased counts on
		out.hold = h.Number
	}
	return out
}

// unreleased reports whether the hold point that was opened last was never released.
func (s *Session) unreleased() bool {
	n := len(s.Holds)
	return n > 0 && s.Holds[n-1].Released == ""
}

// voids ends a turn in which a hold point or the list lost what it stood on.
func (t *turn) voids() {
	if t.err != nil || t.s == nil || t.s.Code != t.stood0.code || t.s.single() {
		return
	}
	switch t.s.State {
	case Pulling, Halted, Away, Closed, Debrief:
		return
	}
	k, args := wording.PullHoldVoid, wording.Args{"Number": t.stood0.hold}
	switch {
	case t.stood0.hold > 0:
	case t.stood0.list && !t.seenOnSpot():
		k, args = wording.ChecksAgainAll, nil
		if p := t.plan(); p == nil || p.Decision != calc.Go {
			k = wording.ChecksAgainAllNo
		}
	default:
		return
	}
	for _, chat := range t.s.chats() {
		t.inChat(chat, func() {
			if slices.ContainsFunc(t.replies, func(r reply) bool {
				return slices.Contains([]wording.Key{
					wording.PullLost, wording.PullLostMoving, wording.PullLostRelief, wording.PullLostReliefMoving, wording.PullPassed, wording.PullPassedMoving,
				}, r.key)
			}) {
				return // that a post is lost has everybody stay as they are already, and comes first
			}
			t.urgent = true
			t.first(k, args)
		})
	}
	t.mail = t.mails[0]
}
