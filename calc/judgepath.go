package calc

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// judgePath makes the findings on the pieces that a rig uses.
func (s *search) judgePath(fs *findings, o weighed) {
	switch {
	case len(o.path.missing) == 0:
		fs.add("R1", Pass)
	case fs.brief:
		fs.add("R1", Unknown)
	default:
		var what, fields []string
		for _, l := range o.path.missing {
			what, fields = append(what, l.what), append(fields, l.field)
		}
		slices.Sort(fields)
		fs.ask("R1", slices.Compact(fields), strings.Join(eachOnce(what), "; "))
	}
	s.judgeEnds(fs, o)
	s.judgeKinds(fs, o)
	s.judgeRatios(fs, o)
	s.judgeFactors(fs, o)
	s.judgeBends(fs, o)
	s.judgeAside(fs, o)
	s.judgeHitches(fs, o)
	s.judgePeaks(fs, o)
	s.judgeHolding(fs, o)
	s.judgeAnchors(fs, o)
	s.judgeOneAnchor(fs, o)
	s.judgeLeftOut(fs, o)
}

// judgeKinds makes the findings that no sum may overrule.
func (s *search) judgeKinds(fs *findings, o weighed) {
	used := make([]*piece, 0, len(o.path.seats))
	for i := range o.path.seats {
		if p := o.path.seats[i].piece; p != nil && !slices.Contains(used, p) {
			used = append(used, p)
		}
	}
	for i := range s.shelf.pieces {
		p := &s.shelf.pieces[i]
		switch {
		case slices.Contains(used, p) || p.g.Use == "spare":
		case makeshift(p.g):
			fs.add("R7", Fail, p.label)
		case p.tellMade:
			fs.ask("R7", fs.of(p.path, ".improvised"), p.label)
		}
	}
	kinds := [...]string{"R7", "R2", "R11", "R6", "R6/chain", "R6/sling", "R12", "R8"}
	var bad [len(kinds)]bool
	mark := func(k string) { bad[slices.Index(kinds[:], k)] = true }
	say := func(k string, p *piece, fails, asks bool, why string, fields ...string) {
		switch {
		case fails:
			fs.add(k, Fail, p.label, why)
			mark(k)
		case asks:
			fs.ask(k, fs.of(p.path, fields...), p.label, why)
			mark(k)
		}
	}
	for _, p := range used {
		g := p.g
		say("R7", p, g.Improvised != nil && *g.Improvised, p.tellMade, "", ".improvised")
		say("R2", p, g.Rating.Kind == "unmarked", p.tellMark, "", ".rating", ".rating_kind")
		say("R11", p, g.Condition == "damaged", p.tellCond, "", ".condition")
		say("R6", p, p.badJoin != "", p.tellKnot, p.badJoin, ".knots")
		say("R6/chain", p, p.knotted && g.Kind == "chain", false, strings.Join(g.Knots, ", "))
		say("R6/sling", p, p.knotted && g.Kind != "chain", false, strings.Join(g.Knots, ", "))
		say("R12", p, p.stretchy, p.tellStuff, "", ".material")
		if one, added, ok := p.alone(); ok {
			for _, t := range o.path.seats {
				if t.piece == p && one < t.tension && t.tension <= added {
					fs.add("R8", Fail, p.label)
					mark("R8")
				}
			}
		}
		if p.tellLeg {
			fs.ask("R3", fs.of(p.path, ".sling_angle"), "", "", p.label)
		}
	}
	for i, k := range kinds {
		if !bad[i] && len(used) > 0 {
			fs.add(k, Pass)
		}
	}
	s.judgeSheaves(fs, o)
}

func (s *search) judgeSheaves(fs *findings, o weighed) {
	var rope *piece
	for _, r := range o.path.ropes {
		if r.g.Diameter != nil && (rope == nil || r.g.Diameter.High > rope.g.Diameter.High) {
			rope = r
		}
	}
	if rope == nil {
		return
	}
	over, _, ok := handbook.SheaveOverRope(rope.g.Material)
	if !ok {
		return
	}
	least := rope.g.Diameter.High.Scale(float64(over))
	for _, t := range o.path.seats {
		switch {
		case t.kind != "block" || t.piece == nil:
		case t.piece.g.Diameter == nil:
			fs.ask("R9", []string{t.piece.path + ".diameter"})
		default:
			fs.judge("R9", within(least, t.piece.g.Diameter.Low), short(t.piece.g.Diameter.Low), long(least))
		}
	}
}

// ratioKey is the check that a seat's use ratio belongs to.
func ratioKey(t *seat) string {
	switch {
	case t.hold:
		return "T1/load"
	case t.anchor:
		return "A1"
	case t.use == "tow-point":
		return "L9/rating"
	case slices.Contains([]string{"standing-block", "lead-block", "anchor"}, t.use) && !t.single:
		return "R10"
	}
	return "R3"
}

func (s *search) judgeRatios(fs *findings, o weighed) {
	weakest, eased := map[string]*seat{}, true
	var least *seat // of all that carries its share, the anchors and what another check judges too
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if r, known := t.ratio(); known && r <= 1 && (least == nil || less(least, t) || least.anchor && !t.anchor && !less(t, least)) { // gear before anchors, as [Plan.Weakest] has it
			least = t
		}
		k := ratioKey(t)
		if k == "T1/load" || k == "A1" {
			continue
		}
		r, known := t.ratio()
		if !known {
			if t.piece == nil { // a piece's missing stamp is R2's to ask
				asks := map[string]string{"R3": "R2"}
				if as, ok := asks[k]; ok {
					k = as
				}
				fs.ask(k, []string{t.path}, t.label)
			}
			continue
		}
		most, _ := handbook.UseMost()
		advised, _ := handbook.UseAdvised()
		switch {
		case r > float64(most):
			if !t.bentTooFar(most) && !(t.piece != nil && t.inLine(most)) && !t.butForTheChoke(most) && !(k == "R3" && t.keptFactor()) { // that is said by itself
				fs.add(k, Fail, needed(t.tension), allowed(*t.working), t.label)
			}
			eased = false
		case r > float64(advised):
			fs.add("R14", Fail, t.label, percent(r))
			eased = false
		}
		if w, ok := weakest[k]; !ok || less(w, t) {
			weakest[k] = t
		}
	}
	if eased && len(weakest) > 0 {
		fs.add("R14", Pass)
	}
	for _, k := range []string{"R3", "R10", "L9/rating"} {
		if t, ok := weakest[k]; ok {
			if r, _ := t.ratio(); r <= 1 {
				if k == "R3" {
					t = least
				}
				fs.add(k, Pass, needed(t.tension), allowed(*t.working), t.label)
			}
		}
	}
}

// less reports whether a is used less than b.
func less(a, b *seat) bool {
	ra, _ := a.ratio()
	rb, _ := b.ratio()
	return ra < rb
}

// judgePeaks holds every piece against the puller's most. With no puller
// there is nothing to hold it against yet; one that nobody knows the most of,
// a piece that nobody knows the strength of and a place that nothing fills yet
// pass nothing.
func (s *search) judgePeaks(fs *findings, o weighed) {
	if o.power == nil {
		return
	}
	half, _ := handbook.PeakSigned()
	broke, open := 0, len(o.path.missing)
	var of, fields []string
	var halves []pastHalf
	unknown := func(what string, at ...string) {
		if open++; !fs.brief {
			of, fields = append(of, what), append(fields, at...)
		}
	}
	if o.power.most == nil {
		unknown("the puller's most", o.power.missing...)
	}
	for _, t := range o.path.seats {
		switch {
		case t.breaks == nil && (t.peak != nil || o.power.most == nil && !t.hold):
			unknown("the "+t.label, t.asks()...)
			continue
		case t.peak == nil || t.breaks == nil || *t.breaks <= 0: // what counts nothing fails by itself
			continue
		}
		switch {
		case !within(*t.peak, *t.breaks):
			fs.add("R4/break", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label)
			broke++
		case !t.peakAllowed():
			fs.add("R4/damage", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label, percent(float64(*t.peak / *t.breaks)), percent(float64(t.peakMost())))
			broke++
		case !within(*t.peak, t.breaks.Scale(float64(half))):
			halves = append(halves, pastHalf{t.label, *t.peak, *t.breaks})
		}
	}
	if len(halves) > 0 && !fs.brief {
		halves = append(halves, s.joinedOverHalf(o)...)
	}
	s.addHalves(fs, o.power, halves)
	if open > 0 {
		if !fs.brief {
			for _, l := range o.path.missing {
				of, fields = append(of, l.what), append(fields, l.field)
			}
			slices.Sort(fields)
			fields = slices.Compact(fields)
		}
		for _, k := range [...]string{"R4/break", "R4/half"} {
			fs.ask(k, fields, strings.Join(eachOnce(of), ", "))
		}
		return
	}
	if broke == 0 {
		fs.add("R4/break", Pass)
		fs.add("R4/damage", Pass)
		if len(halves) == 0 {
			fs.add("R4/half", Pass)
		}
	}
}

// pastHalf is one piece past the share of its breaking strength that takes a signature.
type pastHalf struct {
	label        string
	peak, breaks unit.Force
}

func (p pastHalf) String() string {
	return fmt.Sprintf("%s %v at %v", p.label, percent(float64(p.peak/p.breaks)), needed(p.peak))
}

// joinedOverHalf is what joins the ends of the lines where the rule that is signed lets it
// past half of what it may break at, told once by the end that takes most: nobody need list
// it, and it is signed for all the same.
func (s *search) joinedOverHalf(o weighed) []pastHalf {
	over, _ := handbook.BreaksOverWorking()
	var out []pastHalf
	for _, e := range o.ends(true) {
		if e.AtMost && (len(out) == 0 || out[0].peak < e.peak) {
			out = []pastHalf{{"what joins the line's ends up to", e.peak, e.Working.Scale(float64(over))}}
		}
	}
	return out
}

// addHalves adds one finding for all the pieces that take a signed rule, each with its
// figures: whoever signs signs for that list and for no other.
func (s *search) addHalves(fs *findings, w *power, halves []pastHalf) {
	if len(halves) == 0 {
		return
	}
	if fs.brief {
		fs.add("R4/half", Fail)
		return
	}
	var labels, each []string
	for _, p := range halves {
		labels, each = append(labels, p.label), append(each, p.String())
	}
	pieces := eachOnce(each)
	f := fs.add("R4/half", Fail, needed(*w.most), strings.Join(pieces, ", "), heedsPeak[w.p.Kind], strings.Join(eachOnce(labels), ", "))
	f.pieces = pieces
}

// reaches reports whether a rope of have is long enough for need. A part in a
// million, under a tenth of a millimetre in a whole rope, is noise of the sums
// and no lack of rope: without it 62.4 m would be too short for 62.4 m.
func reaches(have, need unit.Length) bool { return have >= need.Scale(1-1e-6) }
