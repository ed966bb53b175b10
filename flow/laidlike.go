package flow

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/wording"
)

// What the last job left to be laid apart may come back as a piece that is told anew, with
// the same figures. Whether it is that piece nobody can know from figures: it is said, and
// the piece is looked over by itself.
//
// Source: common practice, as for what was laid apart: nobody uses it before a competent
// person has looked at it.

// heldLaid stands before a piece of which that was said.
const heldLaid = "laid:"

// laidApart are the pieces of a job that it left to be laid apart.
func (s *Session) laidApart() []job.GearSheet {
	return slices.DeleteFunc(slices.Clone(s.Sheet.Gear), func(g job.GearSheet) bool { return !s.laidOne(g) })
}

// laidOne reports whether a job left a piece to be laid apart.
func (s *Session) laidOne(g job.GearSheet) bool {
	name := cmp.Or(g.Name, g.Kind)
	return g.Condition == "damaged" || slices.ContainsFunc(s.Worn, func(w Worn) bool { return w.Piece == name }) ||
		slices.ContainsFunc(s.shownAll(), func(e calc.Event) bool { return e.Piece == name || g.Use != "spare" && e.Piece == g.Kind })
}

// likeLaid doubts each piece among changes that is told with the figures of one that the
// last job laid apart.
func (t *turn) likeLaid(changes []change) {
	for i, g := range t.s.Sheet.Gear {
		at := "gear[" + itoa(i) + "]"
		if t.s.Held[heldLaid+at] != "" || g.Condition != "" && g.Condition != "good" || !slices.ContainsFunc(changes, func(c change) bool { return strings.HasPrefix(c.path, at+".") }) {
			continue
		}
		last := t.lastJob()
		if last == nil {
			return
		}
		if !slices.ContainsFunc(last.laidApart(), func(o job.GearSheet) bool { return alikePiece(g, o) }) {
			continue
		}
		t.act(Act{Do: DoHold, Path: heldLaid + at, Value: last.Code})
		t.act(Act{Do: DoSet, Path: at + ".condition", Value: "unknown", Was: g.Condition, How: Told})
		t.say(wording.RetireAlike, wording.Args{"What": t.label("gear", i), "Code": last.Code})
	}
}

// alikePiece reports whether two pieces are of one kind, have a figure in common and none
// that differs.
func alikePiece(a, b job.GearSheet) bool {
	if a.Kind != b.Kind {
		return false
	}
	if a.Material != "" && b.Material != "" && a.Material != b.Material {
		return false
	}
	same := 0
	for _, f := range []struct{ field, a, b string }{{"length", a.Length, b.Length}, {"diameter", a.Diameter, b.Diameter}, {"rating", a.Rating, b.Rating}} {
		switch {
		case f.a == "" || f.b == "":
		case !sameFigure(f.field, f.a, f.b):
			return false
		default:
			same++
		}
	}
	return same > 0
}
