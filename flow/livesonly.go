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
