package calc

import (
	"math"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// A rope keeps less of its strength the smaller what it bends over. Over a
// sheave of the width that suits its material nothing is taken off: what is
// stamped is meant for such, with the design factor for the bend. Over a smaller
// one it keeps what the table of bends has, and over one thinner than itself
// nothing. Of a bend that nobody measured the least that the table knows is
// counted: where that decides nothing no crew need measure it, and where it
// would, it is asked for.
//
// Source: FM 5-125 for the widths that suit, the bend table for the rest; that
// an unmeasured bend is no better than the tightest is judgment, and errs to
// the safe side.

// bent is what a bend leaves of a piece.
type bent struct {
	share    bound.Ratio // of its strength
	measured bool
	open     bool // it is not, and that would decide something
}

// bends lays on the seats what their bends leave: on the ropes of a tackle the
// smallest sheave of the rig, since which rope runs where is not said, and on a
// sling the thinnest shackle, hook or link that it meets.
func (p *path) bends() {
	least, wheels, measured := unit.Length(math.Inf(1)), false, true
	for i := range p.seats {
		switch t := &p.seats[i]; {
		case t.piece == nil || t.hold:
		case t.kind == "block" && t.piece.g.Diameter == nil:
			wheels, measured = true, false
		case t.kind == "block":
			wheels, least = true, min(least, t.piece.g.Diameter.Low)
		case t.kind == "sling":
			p.overPin(t)
		}
	}
	for i := range p.seats {
		switch t := &p.seats[i]; {
		case !wheels || t.piece == nil || t.kind != "rope" || t.use != "haul":
		case measured && t.piece.g.Diameter != nil:
			t.bend(bendShare(least, t.piece))
		default:
			t.unmeasured()
		}
	}
}

// unmeasured lists the fields that would tell how tightly a rope bends.
func (p path) unmeasured(t seat) []string {
	var out []string
	if t.bent == nil || t.bent.measured {
		return nil
	}
	for _, q := range p.seats {
		if q.piece != nil && q.kind == "block" && q.piece.g.Diameter == nil {
			out = append(out, q.piece.path+".diameter")
		}
	}
	if t.piece.g.Diameter == nil {
		out = append(out, t.piece.path+".diameter")
	}
	return out
}

// overPin takes what a sling loses over the pin or bow that it meets, where
// both were measured: its makers reckon with a pin that suits it.
func (p *path) overPin(t *seat) {
	if t.piece.g.Diameter == nil {
		return
	}
	for i := range p.seats {
		q := &p.seats[i]
		if q.use != t.use || q.piece == nil || q.piece.g.Diameter == nil || !slices.Contains([]string{"shackle", "hook", "link"}, q.kind) {
			continue
		}
		t.bend(bendShare(q.piece.g.Diameter.Low, t.piece))
	}
}

// bendShare is what a piece of known thickness keeps over something of a width.
// A material that nobody told has the rule of wire, the stricter one.
func bendShare(over unit.Length, p *piece) bound.Ratio {
	suits, _, ok := handbook.SheaveOverRope(p.g.Material)
	if !ok {
		suits, _, _ = handbook.SheaveOverRope(handbook.Wire)
	}
	thick := p.g.Diameter.High
	if within(thick.Scale(float64(suits)), over) {
		return 1
	}
	share, _, _ := handbook.BendShare(over, thick)
	return share
}

// bend lays a known bend on a seat; the worst of several stays.
func (t *seat) bend(share bound.Ratio) {
	if t.bent != nil && t.bent.share <= share {
		return
	}
	t.bent = &bent{share: share, measured: true}
	t.keep(share)
}

// keep lays a share on what the piece itself may carry and breaks at. Knots
// are elsewhere in the rope than its bends, so the worse of the two counts.
func (t *seat) keep(share bound.Ratio) {
	k := float64(min(1, share/t.piece.kept))
	t.working, t.breaks = t.piece.working, t.piece.breaks
	if t.working != nil {
		w, b := t.working.Scale(k), t.breaks.Scale(k)
		t.working, t.breaks = &w, &b
	}
}

// unmeasured lays the tightest bend of the table on a seat. Where the widest
// one would come out otherwise, what it may carry is not known.
func (t *seat) unmeasured() {
	least := handbook.BendLeast()
	wide := *t // over sheaves that suit
	t.bent = &bent{share: least}
	t.keep(least)
	if t.working == nil || t.piece.nothing {
		return
	}
	half, _ := handbook.PeakSigned()
	all := t.peakMost()
	stands := func(s *seat, of bound.Ratio) bool {
		return s.peak == nil || within(*s.peak, s.breaks.Scale(float64(of)))
	}
	fits := func(s *seat) bool { r, _ := s.ratio(); return r <= 1 }
	if !fits(t) && fits(&wide) {
		t.working, t.bent.open = nil, true
	}
	if stands(t, half) != stands(&wide, half) || stands(t, all) != stands(&wide, all) {
		t.breaks, t.bent.open = wide.breaks, true
	}
}

// bentTooFar reports whether a piece would carry its share but for its bend.
func (t *seat) bentTooFar(most bound.Ratio) bool {
	r, known := t.ratio()
	return t.bent != nil && known && r > float64(most) && t.piece.working != nil && within(t.tension, t.piece.working.Scale(float64(most)))
}

// judgeBends makes the finding on ropes that carry less for what they bend over.
func (s *search) judgeBends(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	good, any := true, false
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if t.bent == nil {
			continue
		}
		any = true
		if t.bent.open {
			fs.ask("R3/bend", o.path.unmeasured(*t), t.label)
			good = false
			continue
		}
		if t.bentTooFar(most) {
			fs.add("R3/bend", Fail, needed(t.tension), allowed(*t.working), t.label, percent(float64(t.bent.share)))
			good = false
		}
	}
	if good && any {
		fs.add("R3/bend", Pass)
	}
}
