package calc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// weighed is one rig with one puller, judged.
type weighed struct {
	rig   rig
	power *power
	s     strain
	path  path
	fs    findings
	v     verdict
	worst float64
}

// search is everything about a case that its rigs have in common.
type search struct {
	c      job.Case
	n      need
	shelf  shelf
	powers []power
	common findings
	see    view
	most   int // sign-offs that may be live
}

func newSearch(c job.Case, see view) search {
	n := reckonNeed(c, see)
	s := search{c: c, n: n, see: see, shelf: stock(c, n)}
	for i := range c.Pullers {
		s.powers = append(s.powers, reckonPower(c, i, see))
	}
	s.common = judgeJob(c, n)
	s.most, _ = handbook.OverridesMost()
	return s
}

// signed reports whether a named person and a second one have signed for a check.
func (s search) signed(id string) bool {
	return slices.ContainsFunc(s.c.Signed, func(g job.SignatureSheet) bool { return g.Check == id })
}

// rigs lists every way to rope the job that is weighed.
func (s search) rigs() []rig {
	t := s.c.Tackle
	leads := s.leads()
	first, last := 1, 0
	last, _ = handbook.PartsOfUse()
	if t.Parts > 0 {
		first, last = t.Parts, t.Parts
	}
	var out []rig
	for n := first; n <= last; n++ {
		for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
			if t.HaulFrom == "" && n == 1 && from == tackle.Standing && t.Parts == 0 {
				continue // a block that only turns the rope is a lead block
			}
			if t.HaulFrom == "" || t.HaulFrom == from.String() {
				out = append(out, rig{first: tackle.Reeving{Parts: n, From: from}, leads: leads})
			}
		}
	}
	return out
}

// compounds lists one tackle hauling another, for when simple parts don't reach.
func (s search) compounds() []rig {
	t := s.c.Tackle
	if t.Parts > 0 {
		return nil
	}
	most, _ := handbook.PartsOfUse()
	var out []rig
	for n := 2; n <= most; n++ {
		for m := 2; m <= most; m++ {
			over := tackle.Reeving{Parts: m, From: tackle.Moving}
			out = append(out, rig{first: tackle.Reeving{Parts: n, From: tackle.Moving}, second: &over, leads: s.leads()})
		}
	}
	return out
}

// leads is how many lead blocks there are: as told, or one where a piece or an
// anchor is set down for one.
func (s search) leads() int {
	if s.c.Tackle.LeadBlocks != nil {
		return *s.c.Tackle.LeadBlocks
	}
	if slices.ContainsFunc(s.c.Gear, func(g job.Gear) bool { return g.Use == "lead-block" }) ||
		slices.ContainsFunc(s.c.Anchors, func(a job.Anchor) bool { return a.Use == "lead" }) {
		return 1
	}
	return 0
}

func (s search) weigh(r rig, w *power, exact bool) weighed {
	st := reckonStrain(s.c, s.n, r, s.see)
	o := weighed{rig: r, power: w, s: st, path: s.shelf.fill(st, w, exact)}
	o.fs = slices.Clone(s.common)
	judgeCrew(&o.fs, s.c, s.n, w)
	judgePuller(&o.fs, w, s.n, st)
	judgeWay(&o.fs, s.c, w, st, o.path.ropes)
	s.judgePath(&o.fs, o)
	o.fs.order()
	o.v = o.fs.verdict(s.signed, s.most)
	o.worst, _ = o.path.worst()
	if w != nil && w.available != nil {
		lack := float64(st.haul.High) / max(1, float64(w.available.Low))
		if lack > 1 {
			o.worst = max(o.worst, tierFails+lack)
		}
	}
	return o
}

var rank = map[Decision]int{Refer: 0, NoGo: 1, Open: 2, Go: 3}

// better orders weighed rigs: the better decision, then fewer failing checks,
// then fewer pieces that nobody has named, then the smaller worst use ratio,
// then the fewer parts.
func better(a, b weighed) int {
	return cmp.Or(
		cmp.Compare(rank[b.v.decision], rank[a.v.decision]),
		cmp.Compare(a.v.blocks, b.v.blocks),
		cmp.Compare(len(a.v.signOffs), len(b.v.signOffs)),
		cmp.Compare(len(a.path.missing), len(b.path.missing)),
		cmp.Compare(math.Round(a.worst*1e9), math.Round(b.worst*1e9)),
		cmp.Compare(a.rig.parts(), b.rig.parts()),
		cmp.Compare(b.rig.first.From, a.rig.first.From),
	)
}

// run weighs every rig with every puller and returns them best first.
func (s search) run() []weighed {
	var all []weighed
	weigh := func(rigs []rig) {
		for _, r := range rigs {
			if len(s.powers) == 0 {
				all = append(all, s.weigh(r, nil, false))
			}
			for i := range s.powers {
				all = append(all, s.weigh(r, &s.powers[i], false))
			}
		}
	}
	weigh(s.rigs())
	if s.tooWeak(all) {
		weigh(s.compounds())
	}
	slices.SortStableFunc(all, better)
	all[0] = s.weigh(all[0].rig, all[0].power, true)
	return all
}

// tooWeak reports whether no simple tackle brings any puller up to the need,
// though its force is known.
func (s search) tooWeak(all []weighed) bool {
	known := false
	for _, o := range all {
		for _, f := range o.fs {
			if f.rule.id != "U1" {
				continue
			}
			known = known || f.result != Unknown
		}
		if !slices.ContainsFunc(o.fs, func(f finding) bool { return f.rule.id == "U1" && f.result != Pass }) {
			return false
		}
	}
	return known
}

// judgePath makes the findings on the pieces that a rig uses.
func (s search) judgePath(fs *findings, o weighed) {
	if len(o.path.missing) > 0 {
		var what, fields []string
		for _, l := range o.path.missing {
			what, fields = append(what, l.what), append(fields, l.field)
		}
		slices.Sort(fields)
		fs.ask("R1", slices.Compact(fields), strings.Join(what, "; "))
	} else {
		fs.add("R1", Pass)
	}
	s.judgeKinds(fs, o)
	s.judgeRatios(fs, o)
	s.judgePeaks(fs, o)
	s.judgeHolding(fs, o)
	s.judgeAnchors(fs, o)
}

// judgeKinds makes the findings that no sum may overrule.
func (s search) judgeKinds(fs *findings, o weighed) {
	seen := map[*piece]bool{}
	var used []*piece
	for _, t := range o.path.seats {
		if t.piece != nil && !seen[t.piece] {
			seen[t.piece] = true
			used = append(used, t.piece)
		}
	}
	for i := range s.shelf.pieces {
		p := &s.shelf.pieces[i]
		if made := p.g.Improvised; made != nil && *made && p.g.Use != "spare" && !seen[p] {
			fs.add("R7", Fail, p.label)
		}
	}
	good := map[string]bool{"R7": true, "R2": true, "R11": true, "R6": true, "R12": true}
	say := func(k string, p *piece, fails, asks bool, fields []string, args ...string) {
		args = append([]string{p.label}, args...)
		switch {
		case fails:
			fs.add(k, Fail, args...)
			good[k] = false
		case asks:
			fs.ask(k, fields, args...)
			good[k] = false
		}
	}
	for _, p := range used {
		g := p.g
		say("R7", p, g.Improvised != nil && *g.Improvised, p.tellMade, []string{p.path + ".improvised"})
		say("R2", p, g.Rating.Kind == "unmarked", p.tellMark, []string{p.path + ".rating", p.path + ".rating_kind"})
		say("R11", p, g.Condition == "damaged", p.tellCond, []string{p.path + ".condition"})
		say("R6", p, p.badJoin != "", p.tellKnot, []string{p.path + ".knots"}, p.badJoin)
		stretchy, _, known := handbook.Stretchy(g.Material)
		say("R12", p, stretchy, !known && (g.Kind == "rope" || g.Kind == "strap"), []string{p.path + ".material"})
		if one, added, ok := p.alone(); ok {
			for _, t := range o.path.seats {
				if t.piece == p && one < t.tension && t.tension <= added {
					fs.add("R8", Fail, p.label)
				}
			}
		}
		if p.tellLeg {
			fs.ask("R3", []string{p.path + ".sling_angle"}, "", "", p.label)
		}
	}
	for _, k := range []string{"R7", "R2", "R11", "R6", "R12"} {
		if good[k] && len(used) > 0 {
			fs.add(k, Pass)
		}
	}
	s.judgeSheaves(fs, o)
}

func (s search) judgeSheaves(fs *findings, o weighed) {
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
		if t.kind == "block" && t.piece != nil && t.piece.g.Diameter != nil {
			fs.judge("R9", t.piece.g.Diameter.Low >= least, short(t.piece.g.Diameter.Low), long(least))
		}
	}
}

// ratioKey is the check that a seat's use ratio belongs to.
func ratioKey(t seat) string {
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

func (s search) judgeRatios(fs *findings, o weighed) {
	weakest := map[string]seat{}
	for _, t := range o.path.seats {
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
			fs.add(k, Fail, needed(t.tension), allowed(*t.working), t.label)
		case r > float64(advised):
			fs.add("R14", Fail, t.label, percent(r))
		}
		if w, ok := weakest[k]; !ok || less(w, t) {
			weakest[k] = t
		}
	}
	for _, k := range []string{"R3", "R10", "L9/rating"} {
		if t, ok := weakest[k]; ok {
			if r, _ := t.ratio(); r <= 1 {
				fs.add(k, Pass, needed(t.tension), allowed(*t.working), t.label)
			}
		}
	}
}

// less reports whether a is used less than b.
func less(a, b seat) bool {
	ra, _ := a.ratio()
	rb, _ := b.ratio()
	return ra < rb
}

// judgePeaks holds every piece against the puller's most. With no puller
// there is nothing to hold it against yet.
func (s search) judgePeaks(fs *findings, o weighed) {
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
		case *t.peak > t.breaks.Scale(float64(all)):
			fs.add("R4/break", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label)
			broke++
		case *t.peak > t.breaks.Scale(float64(half)):
			fs.add("R4/half", Fail, needed(*t.peak), allowed(*t.breaks), needed(*o.power.most), t.label)
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

func (s search) judgeHolding(fs *findings, o weighed) {
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
	if s.c.Load.HoldingPoint == nil {
		fs.add("T4", Fail)
	} else {
		fs.add("T4", Pass)
		if why := towPointRefused(s.c.Load.HoldingPoint.Kind); why != "" {
			fs.add("L9/kind", Fail, s.c.Load.HoldingPoint.Kind, why)
		} else if s.c.Load.HoldingPoint.Kind == "" {
			fs.ask("L9/kind", []string{"load.holding_point.kind"})
		}
	}
	for _, l := range o.path.missing {
		if strings.Contains(l.what, "holding") {
			ask = append(ask, l.field)
		}
	}
	slices.Sort(ask)
	if ask = slices.Compact(ask); len(ask) > 0 {
		fs.ask("T1/load", ask)
	} else if !failed {
		fs.add("T1/load", Pass)
	}
}

func (s search) judgeAnchors(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	all := true
	any := false
	for _, t := range o.path.seats {
		if !t.anchor {
			continue
		}
		any = true
		if t.fixed != nil && len(t.fixed.missing) > 0 {
			k := map[string]string{"tree": "A2/thin", "stump": "A2/thin", "picket": "A3"}[t.kind]
			if k == "" {
				k = "A1"
			}
			for _, f := range t.fixed.missing {
				at := k
				if strings.HasSuffix(f, ".alive") {
					at = "A2/dead"
				} else if strings.HasSuffix(f, ".lean") {
					at = "A2/lean"
				}
				fs.ask(at, []string{f}, "", "", t.label)
			}
			all = false
		}
		r, known := t.ratio()
		if !known || t.hold {
			all = all && known
			continue
		}
		if r > float64(most) {
			all = false
			fs.add("A1", Fail, needed(t.tension), allowed(*t.working), fmt.Sprintf("%s (%s)", t.label, t.use))
		}
	}
	if all && any {
		fs.add("A1", Pass)
	}
}

// ropeInLine is the haul line's rope when one alone makes it.
func (o weighed) ropeInLine() (*piece, bool) {
	if len(o.path.ropes) == 0 {
		return nil, false
	}
	return o.path.ropes[0], true
}

// span is the longest run of the haul line under tension and its whole length.
func (o weighed) span(c job.Case) (longest, whole Length, ok bool) {
	if c.Reach == nil || c.Lead == nil {
		return Length{}, Length{}, false
	}
	n := float64(o.rig.parts())
	whole = Length{
		Low:  c.Reach.Low.Scale(n) + c.Lead.Low,
		Best: c.Reach.Best.Scale(n) + c.Lead.Best,
		High: c.Reach.High.Scale(n) + c.Lead.High,
	}
	if o.rig.straight() {
		return whole, whole, true
	}
	of := func(a, b unit.Length) unit.Length { return max(a, b) }
	return Length{Low: of(c.Reach.Low, c.Lead.Low), Best: of(c.Reach.Best, c.Lead.Best), High: of(c.Reach.High, c.Lead.High)}, whole, true
}
