package calc

import (
	"slices"
	"strconv"

	"linetender/calc/bound"
	"linetender/calc/gear"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// What a piece may carry keeps a design factor to what it breaks at. A working
// limit has its maker's in it; of a breaking strength so many times less
// counts. Rope is also sold by a limit with as little as two in hand: stamped
// with more than its thickness leaves with the factor, it counts for that, and
// whoever is sure of the stamp makes it no stronger.

// byThickness returns what the strongest rope of g's fibre and thickness leaves
// with the design factor, where its stamp claims more. Within what is doubted of
// a stamp it is left at that.
func byThickness(g gear.Stamp, material string, diameter *Length) (gear.Stamp, bool) {
	if g.Breaking || diameter == nil {
		return g, false
	}
	breaks, _, ok := handbook.StrongestRope(material, diameter.High)
	over, _ := handbook.DoubtOver()
	if breaks = breaks.Scale(float64(over)); !ok || g.Force.Scale(float64(g.Factor)) <= breaks {
		return g, false
	}
	g.Force, g.Breaking = breaks, true
	return g, true
}

// factored is what of a piece keeps it from carrying more: it would not break,
// and the factor is not kept.
type factored struct {
	breaks unit.Force // after knots and legs
	factor bound.Ratio
	thin   bool // by its thickness and not by its stamp
}

// keptFactor reports whether it is the design factor that keeps a piece from
// carrying its share, and not its strength.
func (t *seat) keptFactor() bool {
	return t.piece != nil && t.piece.factored != nil && t.working != nil && within(t.tension, t.piece.factored.breaks)
}

// judgeFactors makes the findings on design factors.
func (s *search) judgeFactors(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	kept := map[bool]bool{false: true, true: true} // by thickness or not
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if ratioKey(t) != "R3" || !t.keptFactor() || within(t.tension, t.working.Scale(float64(most))) || t.bentTooFar(most) || t.inLine(most) {
			continue
		}
		f := t.piece.factored
		kept[f.thin] = false
		fs.add(factorKey(f.thin), Fail, needed(t.tension), allowed(*t.working), t.label, allowed(f.breaks), strconv.FormatFloat(float64(f.factor), 'g', -1, 64))
	}
	if !slices.ContainsFunc(o.path.seats, func(t seat) bool { return t.piece != nil }) {
		return
	}
	for _, thin := range []bool{false, true} {
		if kept[thin] {
			fs.add(factorKey(thin), Pass)
		}
	}
}

func factorKey(thin bool) string {
	if thin {
		return "R5/thin"
	}
	return "R5"
}
