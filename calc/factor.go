package calc

import (
	"math"
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
// with more than its thickness leaves with the factor, or as breaking at more than
// any of its thickness does, it counts for that, and whoever is sure of the stamp
// makes it no stronger: of a working limit no more counts at the puller's most than the
// twice that it is proved with, whatever a rope of its thickness breaks at. Chain is held against the
// strongest of its link's thickness alike. A thickness that nobody told may be as
// little as any haul line has: where that little would make the piece fail, or
// take a signature, its thickness is asked for.

// byThickness returns what the strongest piece of a kind, fibre and thickness
// leaves with the design factor, where its stamp claims more. Within what is
// doubted of a stamp it is left at that.
func byThickness(g gear.Stamp, kind, material string, diameter unit.Length) (gear.Stamp, bool) {
	breaks, _, ok := strongest(kind, material, diameter)
	over, _ := handbook.DoubtOver()
	claims := g.Force
	if !g.Breaking {
		claims = claims.Scale(float64(g.Factor))
	}
	if breaks = breaks.Scale(float64(over)); !ok || claims <= breaks {
		return g, false
	}
	g.Force, g.Breaking = breaks, true
	return g, true
}

// strongest is what the strongest rope or chain of a thickness breaks at; ok is
// false for what no thickness speaks against.
func strongest(kind, material string, diameter unit.Length) (unit.Force, handbook.Row, bool) {
	switch kind {
	case "rope":
		return handbook.StrongestRope(material, diameter)
	case "chain":
		breaks, row := handbook.StrongestChain(diameter)
		return breaks, row, true
	}
	return 0, handbook.Row{}, false
}

// thickEnough is the least thickness of a piece of which a working limit is
// not too much.
func thickEnough(kind, material string, working unit.Force) (unit.Length, bool) {
	one := unit.Millimetres(1)
	breaks, _, ok := strongest(kind, material, one) // it grows with the square
	factor, _, _ := handbook.DesignFactor(kind)
	return one.Scale(math.Sqrt(float64(factor) * float64(working) / float64(breaks))), ok
}

// lineThinnest is read once, because a search asks for it of every piece.
var lineThinnest = func() unit.Length { least, _ := handbook.LineThinnest(); return least }()

// thin is what a piece of untold thickness may carry and breaks at if it is as
// thin as any haul line.
type thin struct{ working, breaks unit.Force }

// thicknessDecides reports whether a seat would come out otherwise if its piece,
// of which nobody told the thickness, were as thin as any haul line.
func (t *seat) thicknessDecides() bool {
	if t.piece == nil || t.piece.thinnest == nil || t.working == nil || t.breaks == nil {
		return false
	}
	other := *t
	least := t.piece.thinnest
	other.working, other.breaks = new(min(*t.working, least.working)), new(min(*t.breaks, least.breaks))
	return t.comesOutOtherThan(&other)
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
	return t.piece != nil && t.piece.factored != nil && t.working != nil && within(t.tension, t.factoredBreaks())
}

// factoredBreaks is where the piece of a seat breaks as it is put on there.
func (t *seat) factoredBreaks() unit.Force {
	f := t.piece.factored.breaks
	if t.choked && t.piece.g.SlingHitch != hitchChoked {
		f = f.Scale(float64(chokedShare))
	}
	return f
}

// judgeFactors makes the findings on design factors.
func (s *search) judgeFactors(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	kept := map[bool]bool{false: true, true: true} // by thickness or not
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if ratioKey(t) != "R3" || !t.keptFactor() || within(t.tension, t.working.Scale(float64(most))) || t.bentTooFar(most) || t.inLine(most) || t.butForTheChoke(most) {
			continue
		}
		f := t.piece.factored
		kept[f.thin] = false
		fs.add(factorKey(f.thin), Fail, needed(t.tension), allowed(*t.working), t.label, allowed(t.factoredBreaks()), strconv.FormatFloat(float64(f.factor), 'g', -1, 64))
	}
	var asked []*piece
	for i := range o.path.seats {
		if t := &o.path.seats[i]; !slices.Contains(asked, t.piece) && t.thicknessDecides() {
			asked, kept[true] = append(asked, t.piece), false
			fs.ask("R5/thin", fs.of(t.piece.path, ".diameter"), "", "", t.label)
		}
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
