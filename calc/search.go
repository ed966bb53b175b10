package calc

import (
	"cmp"
	"math"
	"slices"

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
	if c.Learnt == nil && len(c.Seen) > 0 {
		l, _ := learn(c)
		c.Learnt = &l
	}
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
			r := rig{first: tackle.Reeving{Parts: n, From: from}, leads: leads}
			if (t.HaulFrom == "" || t.HaulFrom == from.String()) && (t.Parts > 0 || canRig(s.c, r)) {
				out = append(out, r)
			}
		}
	}
	if len(out) == 0 { // told to haul from a standing block, and there is none: the plan then says what is missing
		out = append(out, rig{first: tackle.Reeving{Parts: 1, From: tackle.Standing}, leads: leads})
	}
	return out
}

// canRig reports whether the blocks that are there have the sheaves for a rig.
// Until a haul line is listed, and while more pieces may be named, nothing is
// known to be lacking; after that the list is all there is, and a rig that
// needs more blocks is no answer to a no-go, only a change.
func canRig(c job.Case, r rig) bool {
	have, line := wheels(c)
	return !line || c.GearMore || r.first.Sheaves()+r.second.Sheaves() <= have
}

// wheels counts the sheaves that a tackle may use, and tells whether a haul
// line is listed.
func wheels(c job.Case) (sheaves int, line bool) {
	for _, g := range c.Gear {
		switch {
		case g.Kind == "block" && g.Use != "lead-block":
			sheaves += g.Sheaves * g.Count
		case g.Use != "holding" && slices.Contains([]string{"rope", "chain", "strap"}, g.Kind):
			line = line || g.Use == "" || g.Use == "haul"
		}
	}
	return sheaves, line
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
			if r := (rig{first: tackle.Reeving{Parts: n, From: tackle.Moving}, second: over, leads: s.leads()}); canRig(s.c, r) {
				out = append(out, r)
			}
		}
	}
	return out
}

// leads is how many lead blocks there are: as told, or one where a piece or an
// anchor is set down for one.
func (s search) leads() int { return leads(s.c) }

func leads(c job.Case) int {
	if c.Tackle.LeadBlocks != nil {
		return *c.Tackle.LeadBlocks
	}
	if slices.ContainsFunc(c.Gear, func(g job.Gear) bool { return g.Use == "lead-block" }) ||
		slices.ContainsFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == "lead" }) {
		return 1
	}
	return 0
}

// place is where a puller stands among the case's, -1 for none.
func (s search) place(w *power) int {
	return slices.IndexFunc(s.powers, func(p power) bool { return w != nil && p.path == w.path })
}

func (s search) weigh(r rig, w *power) weighed {
	st := reckonStrain(s.c, s.n, r, s.see)
	o := weighed{rig: r, power: w, s: st, path: s.shelf.fill(st, w)}
	o.fs = slices.Clone(s.common)
	judgeCrew(&o.fs, s.c, s.n, w)
	judgePuller(&o.fs, w, s.n, st)
	s.judgeSeen(&o.fs, r, s.place(w))
	judgeWay(&o.fs, s.c, w, st, o.path)
	s.judgePath(&o.fs, o)
	o.fs.order()
	o.v = o.fs.verdict(s.signed, s.most)
	o.fs.judge("X5", len(o.v.signOffs) <= s.most)
	o.fs.settle()
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
				all = append(all, s.weigh(r, nil))
			}
			for i := range s.powers {
				all = append(all, s.weigh(r, &s.powers[i]))
			}
		}
	}
	weigh(s.rigs())
	if s.tooWeak(all) {
		weigh(s.compounds())
		all = slices.DeleteFunc(all, func(o weighed) bool { return o.rig.compound() && o.path.wants() })
	}
	slices.SortStableFunc(all, better)
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
	n := float64(o.rig.first.Parts + o.rig.second.Parts)
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
