package calc

import (
	"cmp"
	"fmt"
	"slices"

	"linetender/calc/anchor"
	"linetender/calc/bound"
	"linetender/calc/gear"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// piece is one listed piece of gear with what it may carry.
type piece struct {
	g         job.Gear
	path      string
	label     string
	working   *unit.Force // nil when not known
	breaks    *unit.Force
	kept      bound.Ratio // share of its strength by its worst knot or splice
	nothing   bool        // it counts nothing, whatever is stamped
	steep     bool        // a leg that leans too far
	badJoin   string
	knotted   bool // a chain, a sling or a strap with a knot in it
	tellMark  bool // stamp or its kind not told
	tellCond  bool
	tellMade  bool
	tellKnot  bool
	tellLeg   bool
	tellStuff bool
	stretchy  bool // of a material that flies back when it parts
	factored  *factored
	proved    bool  // it is held to what its working limit is proved with, which is less than its thickness leaves
	thinnest  *thin // nobody told its thickness, and the least would keep it from carrying its stamp
}

func readPiece(g job.Gear, i int) piece {
	p := piece{g: g, path: fmt.Sprintf("gear[%d]", i), label: g.Kind}
	if g.Name != "" {
		p.label = g.Name
	}
	made := g.Improvised
	p.tellMade = made == nil
	p.tellCond = !looked(g.Condition)
	p.tellKnot = (g.Kind == "rope" || p.slung()) && !g.KnotsTold
	p.tellLeg = g.Kind == "sling" && g.SlingAngle == nil
	var known bool
	p.stretchy, _, known = handbook.Stretchy(g.Material)
	p.tellStuff = !known && (g.Kind == "rope" || g.Kind == "strap")
	kept := bound.Ratio(1)
	for _, k := range g.Knots {
		share, _ := handbook.KnotEfficiency(k)
		kept = min(kept, share.Low)
		p.tellKnot = p.tellKnot || !handbook.KnowsKnot(k)
		if ok, _ := handbook.MayJoin(k); !ok {
			p.badJoin = handbook.KnotName(k)
		}
	}
	p.kept = kept
	if share, _ := p.pulledAside(); share < 1 {
		kept *= share
	}
	if g.SlingHitch == hitchChoked && p.slung() {
		kept *= chokedShare
	}
	steepest, _ := handbook.SlingAngleMost()
	leg := unit.Angle(0)
	if g.SlingAngle != nil {
		leg = g.SlingAngle.High
	}
	p.steep = leg >= steepest
	p.knotted = p.slung() && slices.ContainsFunc(g.Knots, func(k string) bool { return !handbook.IsSplice(k) })
	p.nothing = g.Rating.Kind == "unmarked" || g.Condition == "damaged" || made != nil && *made || p.badJoin != "" || p.knotted || p.steep
	if p.nothing {
		p.working, p.breaks = new(unit.Force), new(unit.Force)
		return p
	}
	if g.Rating.Kind == "" || g.Rating.Force == nil {
		p.tellMark = true
		return p
	}
	legs := legsThatCount(g)
	factor, _, _ := handbook.DesignFactor(g.Kind)
	stamp := gear.Stamp{
		Force: g.Rating.Force.Low, Breaking: g.Rating.Kind == "breaking", Factor: factor,
		Kept: kept, Leg: leg, Legs: legs,
	}
	over, _ := handbook.BreaksOverWorking()
	s, byThick := stamp, false
	if g.Diameter != nil {
		s, byThick = byThickness(stamp, g.Kind, g.Material, g.Diameter.High)
	} else if least, is := byThickness(stamp, g.Kind, g.Material, lineThinnest); is {
		p.thinnest = &thin{must(gear.Working(least, steepest)), must(gear.Breaks(least, over, steepest))}
	}
	w, b := must(gear.Working(s, steepest)), must(gear.Breaks(s, over, steepest))
	p.working, p.breaks = &w, &b
	if s.Breaking {
		p.factored = &factored{breaks: b, factor: factor, thin: byThick}
	}
	if proved := must(gear.Breaks(stamp, over, steepest)); byThick && !stamp.Breaking && proved < b.Scale(float64(peakDamages)) {
		p.breaks, p.proved = &proved, true
	}
	return p
}

// legsThatCount is how many of the alike of a piece count for what it may carry. Over the
// one sheave of a block two ropes neither fit nor share, so of a haul line one counts.
func legsThatCount(g job.Gear) int {
	if g.Count < 2 || g.Kind == "rope" && (g.Use == "" || g.Use == "haul" || g.Use == "spare") {
		return 1
	}
	legs, _ := handbook.PartsThatCount(g.Equalised)
	return legs
}

// sideBySide reports whether several alike are one piece, that share evenly.
func (p piece) sideBySide() bool { return p.g.Equalised && p.g.Count > 1 }

// copies is in how many places the piece can be at once. Legs that were made
// to share evenly do so only side by side.
func (p piece) copies() int {
	if p.g.Equalised {
		return 1
	}
	return p.g.Count
}

// told is a figure for ordering; one that is not known comes before all.
func told(f *unit.Force) unit.Force {
	if f == nil {
		return -1
	}
	return *f
}

// toldLow is told for a length, by its low end.
func toldLow(l *Length) unit.Length {
	if l == nil {
		return -1
	}
	return l.Low
}

// compare orders pieces by what they are and not by where they were listed,
// so that the order of a list changes nothing.
func (p piece) compare(q piece) int {
	return cmp.Or(
		cmp.Compare(p.g.Kind, q.g.Kind), cmp.Compare(told(p.working), told(q.working)), cmp.Compare(told(p.breaks), told(q.breaks)),
		cmp.Compare(toldLow(p.g.Length), toldLow(q.g.Length)), cmp.Compare(toldLow(p.g.Diameter), toldLow(q.g.Diameter)),
		cmp.Compare(p.g.Sheaves, q.g.Sheaves), cmp.Compare(p.g.Material, q.g.Material), cmp.Compare(p.label, q.label),
		cmp.Compare(p.g.Condition, q.g.Condition), cmp.Compare(len(p.g.Knots), len(q.g.Knots)), cmp.Compare(p.g.SlingHitch, q.g.SlingHitch),
	)
}

// alone is what one of several pieces side by side may carry, and together
// what adding their ratings would claim.
func (p piece) alone() (one, added unit.Force, ok bool) {
	if p.working == nil || p.nothing || p.g.Count < 2 {
		return 0, 0, false
	}
	legs := legsThatCount(p.g)
	one = p.working.Scale(1 / float64(legs))
	return *p.working, one.Scale(float64(p.g.Count)), true
}

// stiffness is EA of the piece's rope: from its breaking strength and the
// stretch of its material. With only a working limit stamped it may break
// anywhere from the settled multiple of it to what the strongest of its thickness breaks
// at, and where that was not told to the most that makers leave over a limit.
func (p piece) stiffness() (Force, bool) {
	strain, _, ok := handbook.StretchAtBreak(p.g.Material)
	if !ok || p.g.Rating.Force == nil || p.g.Rating.Force.Low <= 0 || p.g.Rating.Kind == "" || p.g.Rating.Kind == "unmarked" {
		return Force{}, false
	}
	breaking := *p.g.Rating.Force
	if p.g.Rating.Kind == "working" {
		over, _ := handbook.BreaksOverWorking()
		factor, _, _ := handbook.DesignFactor(p.g.Kind)
		breaking = Force{Low: breaking.Low.Scale(float64(over)), Best: breaking.Best.Scale(float64(factor))}
		breaking.High, _ = p.breaksAtMost()
		breaking.Best = min(breaking.Best, breaking.High)
	}
	if p.sideBySide() { // all that hold stretch together, however the pull is shared
		breaking.High, breaking.Best = breaking.High.Scale(float64(p.g.Count)), breaking.Best.Scale(float64(p.g.Count))
	}
	return must(motion.Stiffness(breaking, strain)), true
}

// breaksAtMost is the most that a rope with only a working limit stamped may break at,
// and whether it is by its thickness: where that was told, a lower stamp makes no rope
// softer. A limit that is more than its thickness leaves, which nothing is planned with,
// bounds it from below.
func (p piece) breaksAtMost() (most unit.Force, byThick bool) {
	times, _ := handbook.BreaksOverWorkingAtMost()
	most = p.g.Rating.Force.High.Scale(float64(times))
	if p.g.Diameter == nil {
		return most, false
	}
	thick, _, ok := strongest(p.g.Kind, p.g.Material, p.g.Diameter.High)
	doubt, _ := handbook.DoubtOver()
	over, _ := handbook.BreaksOverWorking()
	if thick = thick.Scale(float64(doubt)); !ok || thick < p.g.Rating.Force.High.Scale(float64(over)) {
		return most, false
	}
	return thick, true
}

// fixed is one listed anchor with what it may hold.
type fixed struct {
	a        job.Anchor
	path     string
	label    string
	capacity *unit.Force // after the factor; nil when not known
	breaks   *unit.Force
	nothing  bool
	thin     bool
	slender  bool // a buried log of which only a part bears, since the rest bends
	shallow  bool // a buried log above the first depth that has a figure
	stated   bool // what is told of it by itself is less than what its kind holds
	missing  []string
	row      handbook.Row
}

// compare is [piece.compare] for anchors.
func (f fixed) compare(g fixed) int {
	return cmp.Or(cmp.Compare(f.a.Kind, g.a.Kind), cmp.Compare(told(f.capacity), told(g.capacity)), cmp.Compare(len(f.missing), len(g.missing)), cmp.Compare(f.label, g.label))
}

// anchorNouns are the kinds of anchor whose word is no noun of the trade, or
// another's as well.
var anchorNouns = map[string]string{"rated": "rated anchor point", "vehicle": "anchor vehicle"}

func readAnchor(a job.Anchor, i int) fixed {
	f := fixed{a: a, path: fmt.Sprintf("anchors[%d]", i), label: cmp.Or(anchorNouns[a.Kind], a.Kind)}
	if a.Name != "" {
		f.label = a.Name
	}
	hold := func(n unit.Force) { f.capacity = &n }
	ask := func(field string, known bool) {
		if !known {
			f.missing = append(f.missing, f.path+"."+field)
		}
	}
	factor, _, _ := handbook.DesignFactor("anchor")
	switch a.Kind {
	case "person", "post":
		f.nothing = true
	case "tree", "stump":
		ask("diameter", a.Diameter != nil)
		ask("alive", a.Alive != nil)
		ask("lean", a.Lean != nil)
		if a.Diameter != nil {
			find := handbook.TreeHold
			if a.Kind == "stump" {
				find = handbook.StumpHold
			}
			n, row, ok := find(a.Diameter.Low)
			f.row, f.thin, f.nothing = row, !ok, !ok
			hold(n)
		}
		if a.Alive != nil && !*a.Alive || a.Lean != nil && *a.Lean {
			f.nothing = true
		}
	case "picket":
		ask("pattern", a.Pattern != "")
		ask("soil", a.Soil != "")
		if len(f.missing) == 0 {
			loam, row, _ := handbook.PicketHold(a.Pattern)
			soil, _, _ := handbook.PicketSoil(a.Soil)
			f.row = row
			hold(must(anchor.Picket(loam, soil.Low, factor)))
		}
	case "deadman":
		ask("diameter", a.Diameter != nil)
		ask("length", a.Length != nil)
		ask("depth", a.Depth != nil)
		ask("soil", a.Soil != "")
		if len(f.missing) == 0 {
			f.deadman(factor)
		}
	case "vehicle":
		ask("mass", a.Mass != nil)
		ask("chocked", a.Chocked != nil)
		ask("braked", a.Braked != nil)
		ask("in_line", a.InLine != nil)
		ask("ground", a.Ground != "")
		ask("slope", a.Slope != nil)
		if a.Mass != nil && a.Ground != "" && a.Slope != nil {
			share, row := handbook.VehicleAnchorShare()
			f.row = row
			hold(must(anchor.Vehicle(a.Mass.Low, max(0, a.Slope.High), standingGrip(a.Ground), share)))
		}
		// It holds as a whole, but the line is on one point of it, as on the load's.
		ask("rating", a.Rating.Force != nil || a.Rating.Kind == "unmarked")
		ask("rating_kind", a.Rating.Kind != "")
		f.nothing = isNot(a.Chocked) || isNot(a.Braked) || isNot(a.InLine) || a.Rating.Kind == "unmarked"
	case "rock", "rated":
		ask("rating", a.Rating.Force != nil || a.Rating.Kind == "unmarked")
		ask("rating_kind", a.Rating.Kind != "")
		if len(f.missing) == 0 {
			n := f.rated()
			f.capacity = &n
			f.nothing = a.Rating.Kind == "unmarked"
		}
	}
	f.heed()
	if f.nothing {
		hold(0)
	}
	if f.capacity != nil {
		over, _ := handbook.BreaksOverWorking()
		b := f.capacity.Scale(float64(over))
		f.breaks = &b
	}
	return f
}

func (f *fixed) deadman(factor bound.Ratio) {
	a := f.a
	pressure, row, ok := handbook.DeadmanPressure(a.Depth.Low, "")
	f.row = row
	hold := unit.Force(0)
	if ok {
		soil, _, _ := handbook.DeadmanSoil(a.Soil)
		trench, _ := handbook.DeadmanTrench()
		slender, _ := handbook.DeadmanSlender(true)
		l := anchor.Log{
			Face: a.Diameter.Low, Trench: trench, Pressure: pressure, Soil: soil.Low,
			Length: min(a.Length.Low, a.Diameter.Low.Scale(float64(slender))), // longer bends and does not bear
		}
		hold = must(anchor.Deadman(l, factor))
		f.slender = l.Length < a.Length.Low
	}
	f.shallow = !ok
	f.capacity = &hold
}

// heed takes a figure that is told of an anchor which is reckoned by its kind: a
// tree that was pulled to a limit, what an owner allows. Only a lower one counts.
func (f *fixed) heed() {
	if f.capacity == nil || f.a.Rating.Force == nil || f.a.Rating.Kind == "unmarked" {
		return
	}
	if n := f.rated(); n < *f.capacity {
		f.capacity, f.row, f.stated = &n, handbook.Row{}, true
	}
}

// rated is what a told figure comes to. A breaking one keeps the factor of
// hardware, not the lesser one of a computed anchor; one that nobody says the
// kind of may be that.
func (f *fixed) rated() unit.Force {
	r := f.a.Rating
	switch {
	case r.Kind == "unmarked":
		return 0
	case r.Kind == "working":
		return r.Force.Low
	}
	factor, _, _ := handbook.DesignFactor("tow point")
	return r.Force.Low.Scale(1 / float64(factor))
}

// standingGrip is the grip of a machine that stands as an anchor. Nobody says
// whether it stands on tyres or on tracks, so it is the lesser.
func standingGrip(g handbook.Ground) bound.Ratio {
	tyres, _, _ := handbook.Grip(g)
	tracks, _, _ := handbook.GripTracked(g)
	return min(tyres.Low, tracks.Low)
}

// isNot reports whether somebody has said that it is not so.
func isNot(p *bool) bool { return p != nil && !*p }
