package calc

import (
	"cmp"
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
	known bool // whether the puller brings up the need
	weak  bool // it does not, or nobody knows
	lacks int  // places that nothing fills
	wants bool // a rope or a block is missing
}

// search is everything about a case that its rigs have in common.
type search struct {
	c      job.Case
	n      need
	shelf  shelf
	powers []power
	common findings
	see    view
	most   int                 // sign-offs that may be live
	kept   map[choice]*weighed // glances that are taken once
	room   *room
	near   *search  // a search whose pullers are the same but for one
	moved  int      // which one
	ends   bool     // only the decision is asked for: a go ends the search
	hasty  bool     // and what is no go need not be told from what is worse
	likely *weighed // the best seen another way, where only the best is asked for: it is looked at first
	lead   *weighed // the best by now, where only that is asked for
}

func newSearch(c job.Case, see view) search {
	s := search{c: learnt(c), see: see, shelf: stock(c), room: new(room)}
	s.reckon(false)
	return s
}

// learnt is the case with what was learnt from what was seen.
func learnt(c job.Case) job.Case {
	if c.Learnt == nil && len(c.Seen) > 0 {
		l, _ := learn(c)
		c.Learnt = &l
	}
	return c
}

// decide is the decision of the best rig alone. What no choice of rig changes
// is looked at first, because it often decides.
func decide(c job.Case, m *room) Decision {
	s := &search{c: c, room: m}
	s.begin(true)
	if d := s.common.verdict(s.signed, s.most).decision; d == NoGo || d == Refer || slices.ContainsFunc(c.Gear, makeshift) {
		return NoGo // or worse: no rig makes it better
	}
	s.shelf, s.ends, s.hasty = stock(c), true, true
	s.finish()
	return s.first().v.decision
}

// makeshift reports whether a piece is refused wherever it lies: it is improvised
// and nobody has laid it aside.
func makeshift(g job.Gear) bool { return g.Improvised != nil && *g.Improvised && g.Use != "spare" }

// reckon reckons all that the case's figures decide; the shelf is there.
func (s *search) reckon(brief bool) {
	s.begin(brief)
	s.finish()
}

func (s *search) begin(brief bool) {
	s.n = reckonNeed(s.c, s.see)
	s.common = findings{list: make([]finding, 0, 64), brief: brief}
	judgeJob(&s.common, s.c, s.n)
	s.most, _ = handbook.OverridesMost()
}

func (s *search) finish() {
	s.shelf.hang(s.c, s.n)
	s.powers = make([]power, len(s.c.Pullers))
	for i := range s.powers {
		s.powers[i] = reckonPower(s.c, i, s.see)
	}
	s.kept = nil
}

// noted is a glance at a rig with puller i that is taken once.
func (s *search) noted(r rig, st strain, i int) *weighed {
	at := choice{r, i}
	o, ok := s.kept[at]
	if !ok {
		w := s.glance(r, st, &s.powers[i])
		if o = &w; s.kept == nil {
			s.kept = map[choice]*weighed{}
		}
		s.kept[at] = o
	}
	return o
}

// seen is the search for the same case with its ranges looked at in another
// way. Gear and anchors have none that a view changes; where it moves a figure
// of one puller alone, all else stays as it is.
func (s *search) seen(c job.Case, see view) *search {
	near := *s
	t := &near
	t.c, t.see = see.of(c), see
	if i, ok := s.pullerOf(see.only); ok {
		t.powers = slices.Clone(s.powers)
		t.powers[i] = reckonPower(t.c, i, see)
		t.near, t.moved = s, i
		return t
	}
	t.near = nil
	t.reckon(true)
	return t
}

// pullerOf returns which puller a field belongs to, if to one only.
func (s *search) pullerOf(field string) (int, bool) {
	for i := range s.powers {
		if strings.HasPrefix(field, s.powers[i].path+".") {
			return i, true
		}
	}
	return 0, false
}

// signed reports whether a named person and a second one have signed for what a check
// finds. Where it finds something of several pieces they have signed for just these and
// their figures: with another piece, or another figure, it is asked for anew.
func (s *search) signed(f finding) bool {
	return slices.ContainsFunc(s.c.Signed, func(g job.SignatureSheet) bool {
		return g.Check == f.rule.id && slices.Equal(slices.Sorted(slices.Values(g.Pieces)), slices.Sorted(slices.Values(f.pieces)))
	})
}

// place is where a puller stands among the case's, -1 for none.
func (s *search) place(w *power) int {
	for i := range s.powers {
		if w != nil && s.powers[i].path == w.path {
			return i
		}
	}
	return -1
}

// weigh weighs a rig with a puller and keeps every finding with its words.
func (s *search) weigh(r rig, w *power) weighed {
	o := weighed{rig: r, power: w, s: reckonStrain(s.c, s.n, r, s.see), fs: findings{list: slices.Clone(s.common.list)}}
	s.judge(&o, new(room))
	o.fs.judge("X5", len(o.v.signOffs) <= s.most)
	o.fs.settle()
	return o
}

// glance is weigh for what only has to be compared: findings and load path are
// counted and let go.
func (s *search) glance(r rig, st strain, w *power) weighed {
	o := s.look(r, st, w)
	o.path, o.s.places = path{}, nil
	return o
}

// look is a glance that still has its load path, until the next one is taken.
func (s *search) look(r rig, st strain, w *power) weighed {
	o := weighed{rig: r, power: w, s: st, fs: findings{list: append(s.room.list[:0], s.common.list...), brief: true}}
	s.judge(&o, s.room)
	s.room.list, o.fs.list = o.fs.list[:0], nil
	return o
}

func (s *search) judge(o *weighed, m *room) {
	w := o.power
	judgeCrew(&o.fs, s.c, s.n, w)
	judgePuller(&o.fs, w, s.n, o.s)
	s.judgeSeen(&o.fs, o.rig, s.place(w))
	for i := range o.fs.list {
		if f := &o.fs.list[i]; f.rule.id == "U1" {
			o.known = o.known || f.result != Unknown
			o.weak = o.weak || f.result != Pass
		}
	}
	if s.hasty { // what fails by now no choice of gear mends
		if o.v = o.fs.verdict(s.signed, s.most); o.v.decision == NoGo || o.v.decision == Refer {
			return
		}
	}
	if s.behind(o, false) {
		return
	}
	o.path = s.shelf.fill(o.s, w, m)
	o.lacks, o.wants = len(o.path.missing), o.path.wants()
	o.rate()
	if s.behind(o, true) {
		return
	}
	judgeWay(&o.fs, s.c, o.rig, w, o.s, o.path)
	judgeBelow(&o.fs, s.c, s.n, o.rig, w, o.path.hold)
	judgeDrum(&o.fs, s.c, *o)
	s.judgePath(&o.fs, *o)
	if !o.fs.brief {
		o.fs.order()
	}
	o.v = o.fs.verdict(s.signed, s.most)
}

// rate keeps how near the rig comes to what it may carry, and its puller to what it gives.
func (o *weighed) rate() {
	o.worst = o.path.used()
	if w := o.power; w != nil && w.available != nil {
		lack := float64(o.s.haul.High) / max(1, float64(w.available.Low))
		if lack > 1 {
			o.worst = max(o.worst, tierFails+lack)
		}
	}
}

// behind reports whether a rig that is judged so far, with its gear or before, is already
// worse than the best by now. What is still to be judged can only make it worse: a finding
// is never taken back. It goes no further then.
func (s *search) behind(o *weighed, geared bool) bool {
	if s.lead == nil {
		return false
	}
	o.v = o.fs.verdict(s.signed, s.most)
	if by := byVerdict(s.lead, o); by != 0 || !geared {
		return by < 0
	}
	return better(s.lead, o) < 0
}

var rank = map[Decision]int{Refer: 0, NoGo: 1, Open: 2, Go: 3}

// better orders weighed rigs: the better decision, then fewer failing checks,
// then fewer pieces that nobody has named, then the smaller worst use ratio, the
// puller's most among it, then the fewer parts.
func better(a, b *weighed) int {
	return cmp.Or(
		byVerdict(a, b),
		cmp.Compare(a.lacks, b.lacks),
		cmp.Compare(math.Round(a.worst*1e9), math.Round(b.worst*1e9)),
		cmp.Compare(a.rig.parts(), b.rig.parts()),
		cmp.Compare(b.rig.first.From, a.rig.first.From),
	)
}

// byVerdict is the part of that which the findings decide.
func byVerdict(a, b *weighed) int {
	return cmp.Or(
		cmp.Compare(rank[b.v.decision], rank[a.v.decision]),
		cmp.Compare(a.v.blocks, b.v.blocks),
		cmp.Compare(len(a.v.signOffs), len(b.v.signOffs)),
	)
}

// run weighs every rig with every puller and returns them best first, the
// best with its findings. The findings of another are what [search.weigh]
// gives.
func (s search) run() []weighed {
	all := s.all()
	slices.SortStableFunc(all, better)
	out := make([]weighed, len(all))
	for i, o := range all {
		out[i] = *o
	}
	out[0] = s.weigh(out[0].rig, out[0].power)
	return out
}

// almost is the best rig whose puller brings up the need, where the one that is
// shown is a no-go whose puller does not: what keeps that from being pulled is a
// piece or an anchor, and sooner put right. Where no such rig has its blocks it
// is the one that lacks the fewest. Nil where there is none.
func (s *search) almost(all []weighed) *weighed {
	if all[0].v.decision != NoGo || !all[0].weak {
		return nil
	}
	for i := range all {
		if o := &all[i]; o.v.decision == NoGo && !o.weak && !o.rig.compound() {
			return new(s.weigh(o.rig, o.power))
		}
	}
	if s.c.Tackle.Parts > 0 {
		return nil // they have chosen
	}
	last, _ := handbook.PartsOfUse()
	for n := 2; n <= last; n++ {
		r := rig{first: tackle.Reeving{Parts: n, From: tackle.Moving}, leads: s.leads()}
		if canRig(s.c, r) {
			continue
		}
		for i := range s.powers {
			if o := s.weigh(r, &s.powers[i]); !o.weak {
				return &o
			}
		}
	}
	return nil
}

// first is the first of run, with no more than what it comes to.
func (s *search) first() *weighed { return slices.MinFunc(s.all(), better) }

// best is the first of run with its load path, which stands until the search
// looks at another.
func (s *search) best() *weighed {
	if s.see.asked == nil { // else what it wants of the tables is to be seen of every rig
		s.lead = nobody()
	}
	b := s.first()
	s.lead = nil
	w := b.power
	if w != nil {
		w = &s.powers[s.place(w)]
	}
	o := s.look(b.rig, s.strain(b.rig), w)
	return &o
}

// strain is what a rig puts on each thing, its places in the search's room.
func (s *search) strain(r rig) strain {
	st := strainIn(s.room.rigged[:0], s.c, s.n, r, s.see)
	s.room.rigged = st.places
	return st
}

// all glances at every rig with every puller.
func (s *search) all() []*weighed {
	all := s.glances(nil, s.rigs())
	if tooWeak(all) {
		all = s.glances(all, s.compounds())
		all = slices.DeleteFunc(all, func(o *weighed) bool { return o.rig.compound() && o.wants })
	}
	return all
}

func (s *search) glances(all []*weighed, rigs []rig) []*weighed {
	if l := s.likely; l != nil && s.lead != nil && slices.Contains(rigs, l.rig) {
		s.pass(l.rig, s.strain(l.rig), s.place(l.power)) // most others are behind it at once
	}
	for _, r := range rigs {
		st := s.strain(r)
		if len(s.powers) == 0 {
			all = append(all, s.pass(r, st, -1))
		}
		for i := range s.powers {
			o := s.pass(r, st, i)
			all = append(all, o)
			if s.ends && o.v.decision == Go {
				return all
			}
		}
	}
	return all
}

// pass is a glance at a rig with puller i, -1 for none, which may come to be the best by now.
func (s *search) pass(r rig, st strain, i int) *weighed {
	var o *weighed
	switch {
	case i < 0:
		w := s.glance(r, st, nil)
		o = &w
	case s.near != nil && i != s.moved:
		o = s.near.noted(r, st, i)
	default:
		w := s.glance(r, st, &s.powers[i])
		o = &w
	}
	if s.lead != nil && !(r.compound() && o.wants) && better(o, s.lead) < 0 {
		s.lead = o
	}
	return o
}

// nobody is worse than any rig.
func nobody() *weighed { return &weighed{v: verdict{decision: Refer, blocks: math.MaxInt}} }

// tooWeak reports whether no simple tackle brings any puller up to the need,
// though its force is known.
func tooWeak(all []*weighed) bool {
	known := false
	for _, o := range all {
		if !o.weak {
			return false
		}
		known = known || o.known
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
