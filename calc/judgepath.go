package calc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/motion"
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
		fs.ask("R1", slices.Compact(fields), strings.Join(what, "; "))
	}
	s.judgeKinds(fs, o)
	s.judgeRatios(fs, o)
	s.judgeBends(fs, o)
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
		if made := p.g.Improvised; made != nil && *made && p.g.Use != "spare" && !slices.Contains(used, p) {
			fs.add("R7", Fail, p.label)
		}
	}
	kinds := [...]string{"R7", "R2", "R11", "R6", "R12", "R8"}
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
	case slices.Contains([]string{"standing-block", "lead-block", "anchor"}, t.use):
		return "R10"
	}
	return "R3"
}

func (s *search) judgeRatios(fs *findings, o weighed) {
	weakest, eased := map[string]*seat{}, true
	var least *seat // of all pieces that carry their share, those that another check judges too
	for i := range o.path.seats {
		t := &o.path.seats[i]
		if r, known := t.ratio(); known && r <= 1 && !t.anchor && (least == nil || less(least, t)) {
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
			if !t.bentTooFar(most) { // that is said by itself
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
// there is nothing to hold it against yet.
func (s *search) judgePeaks(fs *findings, o weighed) {
	if o.power == nil {
		return
	}
	if o.power.most == nil {
		fs.ask("R4/half", o.power.missing)
		return
	}
	half, _ := handbook.PeakSigned()
	all, _ := handbook.PeakBlocked()
	broke, over := 0, 0
	for _, t := range o.path.seats {
		if t.peak == nil || t.breaks == nil || *t.breaks <= 0 {
			continue
		}
		switch {
		case !within(*t.peak, t.breaks.Scale(float64(all))):
			fs.add("R4/break", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label)
			broke++
		case !within(*t.peak, t.breaks.Scale(float64(half))):
			fs.add("R4/half", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label, heedsPeak[o.power.p.Kind])
			over++
		}
	}
	if broke == 0 {
		fs.add("R4/break", Pass)
		if over == 0 {
			fs.add("R4/half", Pass)
		}
	}
}

func (s *search) judgeHolding(fs *findings, o weighed) {
	if !s.n.holds {
		return
	}
	var ask []string
	if !o.path.hold.checked {
		ask = append(ask, o.path.hold.missing...)
	}
	failed := false
	for _, t := range o.path.seats {
		if !t.hold {
			continue
		}
		r, known := t.ratio()
		switch {
		case !known:
			ask = append(ask, t.path)
		case r > 1:
			fs.add("T1/load", Fail, needed(t.tension), allowed(*t.working), t.label)
			failed = true
		}
	}
	switch h := s.c.Load.HoldingPoint; {
	case h == nil:
		fs.ask("T4", []string{"load.holding_point.kind"})
	case h.Shared:
		fs.add("T4", Fail)
	default:
		fs.add("T4", Pass)
		if why := towPointRefused(s.c.Load.HoldingPoint.Kind); why != "" {
			fs.add("L9/kind", Fail, spoken(s.c.Load.HoldingPoint.Kind), why)
		} else if s.c.Load.HoldingPoint.Kind == "" {
			fs.ask("L9/kind", []string{"load.holding_point.kind"})
		}
	}
	// While a line to hold with may still be named, or no gear is, it is asked for;
	// after that the list is all there is, and it has none.
	none := s.c.Gear != nil && !s.c.GearMore && !s.c.HoldingMore && slices.ContainsFunc(o.path.missing, func(l lack) bool { return l.what == holdingRope })
	fs.judge("T1/none", !none)
	for _, l := range o.path.missing {
		if strings.Contains(l.what, "holding") && !(none && l.what == holdingRope) {
			ask = append(ask, l.field)
		}
	}
	ask = append(ask, s.judgeHoldingLength(fs, o)...)
	slices.Sort(ask)
	if ask = slices.Compact(ask); len(ask) > 0 {
		fs.ask("T1/load", ask)
	} else if !failed {
		fs.add("T1/load", Pass)
	}
}

// anchorChecks are those of the kinds of anchor that have a check of their own.
var anchorChecks = map[string]string{"picket": "A3", "vehicle": "A4"}

func (s *search) judgeAnchors(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	good, any := true, false
	failed := map[string]bool{}
	judged := map[*fixed]bool{}
	for _, t := range o.path.seats {
		if !t.anchor {
			continue
		}
		any = true
		judged[t.fixed] = true
		s.judgeFixed(fs, t.fixed)
		r, known := t.ratio()
		switch {
		case len(t.fixed.missing) > 0 || !known:
			good = false
		case !t.hold && r > float64(most):
			good = false
			k := cmp.Or(anchorChecks[t.kind], "A1")
			failed[k] = true
			if t.fixed.stated { // not its kind, but what is told of it
				k = "A1"
			}
			if t.kind == "vehicle" && t.fixed.nothing {
				continue // what is wrong with it has been said, and it is not its weight
			}
			fs.add(k, Fail, needed(t.tension), allowed(*t.working), fmt.Sprintf("%s (%s)", t.label, t.use))
		}
	}
	// One that was set down for a use but is not needed is still relied on by
	// whoever set it down.
	for i := range s.shelf.anchors {
		if f := &s.shelf.anchors[i]; f.a.Use != "" && !judged[f] {
			s.judgeFixed(fs, f)
		}
	}
	if good && any {
		fs.add("A1", Pass)
	}
	for _, kind := range []string{"picket", "vehicle"} {
		known := func(t seat) bool { return t.anchor && t.kind == kind && len(t.fixed.missing) == 0 }
		if !failed[anchorChecks[kind]] && slices.ContainsFunc(o.path.seats, known) {
			fs.add(anchorChecks[kind], Pass)
		}
	}
}

// judgeHoldingLength holds the holding rope against the reach, since nobody
// tells how far its own anchor is, with the allowance and tail of any rope.
// Uphill it is taken in, and is longest at the start. Any other way it may be
// paid out behind the load, so it must be there for the whole distance as
// well, turns round the post among it. It returns the lengths still to be told.
//
// Source: derived, the line is as long as load and anchor are apart; that its
// anchor stands as far behind as the tackle's ahead is judgment, and errs long.
func (s *search) judgeHoldingLength(fs *findings, o weighed) (ask []string) {
	if s.c.Reach == nil {
		return nil // the arrest asks for it
	}
	var out Length
	if s.c.Load.Pull != "uphill" {
		if s.c.Distance == nil {
			return nil // the arrest asks for it
		}
		out = *s.c.Distance
	}
	more, tail, _ := handbook.RopeAllowance()
	need := must(motion.Rope(1, *s.c.Reach, out, more, tail)).High
	if out.High > 0 {
		need += postTurns(o.path)
	}
	for _, t := range o.path.seats {
		switch {
		case !t.hold || t.piece == nil || t.kind != "rope":
		case t.piece.g.Length == nil:
			ask = append(ask, t.piece.path+".length")
		default:
			fs.judge("T3/holding", reaches(t.piece.g.Length.Low, need), long(need), short(t.piece.g.Length.Low))
		}
	}
	return ask
}

// postTurns is the rope that lies round what the holding line is snubbed on,
// where that has a diameter. The tail covers the turns of a thin one.
func postTurns(p path) unit.Length {
	turns, _ := handbook.SnubTurns()
	for _, t := range p.seats {
		if t.hold && t.fixed != nil && t.fixed.a.Diameter != nil {
			return t.fixed.a.Diameter.High.Scale(math.Pi * float64(turns.High))
		}
	}
	return 0
}

// reaches reports whether a rope of have is long enough for need. A part in a
// million, under a tenth of a millimetre in a whole rope, is noise of the sums
// and no lack of rope: without it 62.4 m would be too short for 62.4 m.
func reaches(have, need unit.Length) bool { return have >= need.Scale(1-1e-6) }

// judgeFixed makes the findings on an anchor's kind and state, apart from its
// load.
func (s *search) judgeFixed(fs *findings, f *fixed) {
	a := f.a
	missing := func(field string) bool { return slices.Contains(f.missing, f.path+"."+field) }
	tell := func(k, field string, ok func() bool, args ...any) {
		if missing(field) {
			fs.ask(k, fs.of(f.path+".", field), args...)
		} else {
			fs.judge(k, ok(), args...)
		}
	}
	switch a.Kind {
	case "tree", "stump":
		tell("A2/dead", "alive", func() bool { return *a.Alive })
		if a.Kind == "tree" {
			tell("A2/lean", "lean", func() bool { return !*a.Lean })
			free := a.TiedBack
			if s.c.Site.Clear != nil && *s.c.Site.Clear {
				free = s.c.Site.Clear
			}
			fs.site("A2/free", free, true, f.path+".tied_back")
		}
		tell("A2/thin", "diameter", func() bool { return !f.thin }, short(handbook.TreeLeast()))
	case "picket":
		if len(f.missing) > 0 {
			fs.ask("A3", f.missing)
		}
	case "vehicle":
		tell("A4/chocks", "chocked", func() bool { return *a.Chocked }, f.label)
		tell("A4/brake", "braked", func() bool { return *a.Braked }, f.label)
		tell("A4/line", "in_line", func() bool { return *a.InLine }, f.label)
		var ask []string
		for _, field := range []string{"mass", "ground", "slope"} {
			if missing(field) {
				ask = append(ask, f.path+"."+field)
			}
		}
		if len(ask) > 0 {
			fs.ask("A4", ask, f.label)
		}
	default:
		if len(f.missing) > 0 {
			fs.ask("A1", f.missing, "", "", f.label)
		}
	}
	if a.Kind == "stump" || a.StrapHeld != nil {
		fs.site("A1/slip", a.StrapHeld, true, f.path+".strap_held")
	}
}
