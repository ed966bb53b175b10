package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// path is a load path: who sits where, and what is still missing.
type path struct {
	seats   []seat
	missing []lack
	ropes   []*piece // that make the haul line
	lines   []place  // of each of them
	hold    holding
	room    *room
}

// wants reports whether a rope or a block is missing. A tackle on a tackle is
// only an answer with what is there: with blocks enough one could be thought
// up for any puller, and the answer to a weak one would never be no.
func (p path) wants() bool {
	return slices.ContainsFunc(p.missing, func(l lack) bool {
		return strings.Contains(l.what, "block with") || l.what == "a haul rope"
	})
}

// worst is the highest cost, and how many places are empty.
func (p path) worst() (float64, int) {
	w := 0.0
	for i := range p.seats {
		w = max(w, p.seats[i].cost())
	}
	return w, len(p.missing)
}

// used is what a rig is weighed by: the worst tier of what carries it, and in that the
// most that any of it is used, of whichever tier. That something is not known of one
// piece is no reason to use another harder.
func (p path) used() float64 {
	from, most := 0.0, 0.0
	for i := range p.seats {
		c, step := p.seats[i].cost(), float64(tierSigned)
		if c >= tierNothing {
			return c
		}
		if c >= tierFails {
			step = tierFails
		}
		tiers := math.Floor(c/step) * step
		from, most = max(from, tiers), max(most, c-tiers)
	}
	return from + most
}

// shelf is all that may be rigged, read once for all the rigs that are weighed.
type shelf struct {
	c       job.Case
	n       need
	pieces  []piece
	order   []int // of the pieces by what they are, not by where they were listed
	anchors []fixed
	held    []holding // what the holding line would carry with each piece as its rope
}

// stock reads gear and anchors. What the holding line would carry is hung on
// when the need is known.
func stock(c job.Case) shelf {
	s := shelf{pieces: make([]piece, 0, len(c.Gear)), order: make([]int, 0, len(c.Gear)), anchors: make([]fixed, 0, len(c.Anchors))}
	for i, g := range c.Gear {
		s.pieces = append(s.pieces, readPiece(g, i))
	}
	for i := range s.pieces {
		s.order = append(s.order, i)
	}
	slices.SortStableFunc(s.order, func(a, b int) int { return s.pieces[a].compare(s.pieces[b]) })
	for i := range c.Anchors {
		s.anchors = append(s.anchors, readAnchor(c.Anchors[i], i))
	}
	return s
}

// hang reckons what each rope would carry as the holding line.
func (s *shelf) hang(c job.Case, n need) {
	s.c, s.n, s.held = c, n, make([]holding, len(s.pieces))
	for i := range s.pieces {
		if p := &s.pieces[i]; p.g.Kind == "rope" && (p.g.Use == "" || p.g.Use == "spare" || p.g.Use == "holding") {
			s.held[i] = reckonHolding(c, n, p)
		}
	}
}

func (s *shelf) seatPiece(pl place, i int, most *unit.Force) seat {
	p := &s.pieces[i]
	t := seat{use: pl.use, kind: p.g.Kind, label: p.label, path: p.path, tension: pl.tension, piece: p, hold: pl.hold,
		working: p.working, breaks: p.breaks}
	if pl.hold {
		s.holds(&t, i)
	}
	t.peak = pl.peak(most)
	t.round = s.goesRound(pl)
	t.choked, t.single = p.g.SlingHitch == hitchChoked, pl.single
	return t
}

// holds puts on a seat what piece i carries as the holding line's rope.
func (s *shelf) holds(t *seat, i int) {
	if slices.Contains(roped, s.pieces[i].g.Kind) {
		t.carryHeld(s.held[i])
	}
}

// carryHeld puts on a seat what the holding line may have to take.
func (t *seat) carryHeld(h holding) {
	t.tension = h.check
	t.unlessCaught(h)
}

func (s *shelf) seatAnchor(pl place, i int, most *unit.Force) seat {
	f := &s.anchors[i]
	t := seat{use: pl.use, kind: f.a.Kind, label: f.label, path: f.path, tension: pl.tension, fixed: f, hold: pl.hold,
		anchor: true, working: f.capacity}
	t.breaks = f.breaks
	t.peak = pl.peak(most)
	return t
}

func times(f *unit.Force, k float64) *unit.Force {
	if f == nil {
		return nil
	}
	v := f.Scale(k)
	return &v
}

// serves reports whether a piece could take a place at all.
func serves(pl place, p *piece) bool {
	if !slices.Contains(pl.kinds, p.g.Kind) {
		return false
	}
	return pl.sheaves <= p.g.Sheaves || p.g.Kind != "block"
}

// tooShort reports whether a piece is known to be too short for a place: a chain of a few
// metres is no haul line, and takes no rope's place as one.
func tooShort(pl place, p *piece) bool {
	return pl.rope > 0 && p.g.Length != nil && !reaches(p.g.Length.Low, pl.takes(p))
}

// fill seats pinned pieces first and lets the rest be chosen for the least
// worst cost.
func (s *shelf) fill(st strain, w *power, m *room) path {
	var most *unit.Force
	if w != nil {
		most = w.most
	}
	places := append(m.places[:0], st.places...)
	onDrum(places, w)
	if s.n.holds {
		hold := place{use: "holding", hold: true}
		if s.n.tugged(s.c.Load.Pull) {
			hold.perHaul, hold.more = st.onLoad(), s.n.static.High
		}
		rope := hold
		rope.kinds = roped
		if long, ok := holdingLength(s.c); ok {
			rope.rope = long
		}
		places = append(places, rope, hold)
	}
	if w != nil && (w.p.Kind == "hand-winch" || w.p.Kind == "winch" && anchored(s.c)) {
		if round := ties(s.c, "puller"); goesRound(round) { // an eye takes its hook
			places = append(places, place{use: "anchor", kinds: round, tension: st.haul.High, perHaul: 1, winch: true, single: true})
		}
		places = append(places, place{use: "puller", tension: st.haul.High, perHaul: 1})
	}
	m.places = places
	p := m.path(len(places) + 3)
	s.seatGear(&p, places, most)
	if s.n.holds {
		s.rateHolding(&p, places)
	}
	s.seatAnchors(&p, places, most)
	p.share()
	s.seatPoints(&p, places, st, w, most)
	for i := range p.seats {
		p.seats[i].hitch()
	}
	m.seats, m.ropes, m.lines, m.missing = p.seats, p.ropes, p.lines, p.missing
	return p
}

// seatGear seats the gear. Which blocks are taken decides what is left of the
// ropes that bend over them, so where that tells, the choice is made anew among
// the blocks that are wide enough, for each width that there is.
func (s *shelf) seatGear(p *path, places []place, most *unit.Force) {
	open := s.seatPinned(p, places, most)
	s.seatFree(p, open, most, 0)
	relaxed, _ := p.worst()
	s.join(p, most)
	p.bends()
	cost, lacks := p.worst()
	if cost <= relaxed || !slices.ContainsFunc(open, func(pl place) bool { return slices.Contains(pl.kinds, "block") }) {
		return
	}
	for _, width := range s.widths() {
		q := new(room).path(len(p.seats))
		s.seatFree(&q, s.seatPinned(&q, places, most), most, width)
		q.bends()
		if c, n := q.worst(); n < lacks || n == lacks && c < cost {
			*p, cost, lacks = q, c, n
		}
	}
}

// widths lists how wide the sheaves are that may be chosen, each once.
func (s *shelf) widths() []unit.Length {
	var out []unit.Length
	for i := range s.pieces {
		if g := &s.pieces[i].g; g.Kind == "block" && g.Diameter != nil && (g.Use == "" || g.Use == "spare") {
			out = append(out, g.Diameter.Low)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// seatPinned seats every pinned piece where its use puts it and returns the
// places that no pinned piece fills. Where several places have one use (two
// lead blocks, both tackles of a compound) nobody said which piece goes where,
// so each is held to the worst of them and a copy fills one place.
func (s *shelf) seatPinned(p *path, places []place, most *unit.Force) []place {
	m := p.room
	open, left, taken := m.open[:0], m.left[:0], m.taken[:0]
	for i := range s.pieces {
		left, taken = append(left, s.pieces[i].copies()), append(taken, false)
	}
	m.left, m.taken = left, taken
	for _, pl := range places {
		if pl.kinds == nil {
			continue
		}
		worst, others := worstAlike(places, pl)
		filled, wheels := false, 0
		for i := range s.pieces {
			q := &s.pieces[i]
			if q.g.Use != pl.use || !slices.Contains(pl.kinds, q.g.Kind) {
				continue
			}
			for left[i] > 0 && (!others || !filled || wheels < pl.sheaves) {
				wheels += q.g.Sheaves * (q.g.Count / q.copies())
				left[i]--
				if !taken[i] || others {
					s.sit(p, worst, i, most)
				}
				taken[i], filled = true, true
			}
		}
		switch {
		case !filled:
			open = append(open, pl)
		case pl.sheaves > wheels:
			p.missing = append(p.missing, lack{fmt.Sprintf("a %s with %d sheaves in all", pl.use, pl.sheaves), "gear"})
		}
	}
	s.seatStray(p, places, taken, most)
	m.open = open
	return open
}

// worstAlike is pl with the most that any place of its use and kinds has to
// carry, and whether there is another one.
func worstAlike(places []place, pl place) (place, bool) {
	others := -1
	for _, q := range places {
		if q.use != pl.use || len(q.kinds) == 0 || !slices.ContainsFunc(q.kinds, func(k string) bool { return slices.Contains(pl.kinds, k) }) {
			continue
		}
		others++
		pl.tension, pl.perHaul, pl.rope = max(pl.tension, q.tension), max(pl.perHaul, q.perHaul), max(pl.rope, q.rope)
	}
	return pl, others > 0
}

func (s *shelf) sit(p *path, pl place, i int, most *unit.Force) {
	p.seats = append(p.seats, s.seatPiece(pl, i, most))
	if pl.use == "haul" && !pl.joint {
		p.ropes = append(p.ropes, &s.pieces[i])
		p.lines = append(p.lines, pl)
	}
}

// seatStray seats pinned pieces that no place asked for but that lie in the
// load path all the same: a link in the haul line, what joins a straight rope
// to the load, a strop at the dead end's anchor.
func (s *shelf) seatStray(p *path, places []place, taken []bool, most *unit.Force) {
	like := func(use string) (place, bool) {
		same := map[string][]string{"load": {"load", "moving-block", "haul"}, "anchor": {"anchor", "standing"}}[use]
		if same == nil {
			same = []string{use}
		}
		for _, u := range same {
			for _, pl := range places {
				if pl.use == u {
					pl.use = use
					return pl, true
				}
			}
		}
		return place{}, false
	}
	for i := range s.pieces {
		use := s.pieces[i].g.Use
		if taken[i] || use == "" || use == "spare" {
			continue
		}
		if pl, ok := like(use); ok {
			p.seats = append(p.seats, s.seatPiece(pl, i, most))
		}
	}
}

// seatFree gives the open places pieces that nobody pinned. With a width every
// sheave must be as wide, and each rope carries what is left of it over such.
func (s *shelf) seatFree(p *path, open []place, most *unit.Force, width unit.Length) {
	cols := p.room.cols[:0] // piece of each column, a column a copy
	widest := 0
	for _, i := range s.order {
		if u := s.pieces[i].g.Use; u != "" && u != "spare" {
			continue
		}
		if s.pieces[i].g.Kind == "block" {
			widest = max(widest, s.pieces[i].g.Sheaves)
		}
		for range min(s.pieces[i].copies(), len(open)) {
			cols = append(cols, i)
		}
	}
	// Where no block has the sheaves, single ones stand side by side; each is
	// then held to the whole force, because they share unevenly.
	rows := p.room.rows[:0]
	for _, pl := range open {
		if 0 < widest && widest < pl.sheaves {
			for range pl.sheaves {
				one := pl
				one.sheaves = 1
				rows = append(rows, one)
			}
			continue
		}
		rows = append(rows, pl)
	}
	p.room.cols, p.room.rows = cols, rows
	cost := p.room.table(len(rows), len(cols))
	for r, pl := range rows {
		for k, i := range cols {
			if k > 0 && cols[k-1] == i { // a copy
				cost[r][k] = cost[r][k-1]
				continue
			}
			cost[r][k] = s.costOf(pl, i, most, width)
		}
	}
	// The rope that holds is one that the haul line can do without, so that a haul
	// line too short is said to be that, and not to hold and be missing.
	yields := 0
	if n := len(rows); n > 0 && rows[n-1].hold {
		yields = 1
	}
	for r, k := range assign(cost, yields) {
		if k < 0 {
			p.missing = append(p.missing, named(rows[r]))
			continue
		}
		s.sit(p, rows[r], cols[k], most)
	}
}

func (s *shelf) costOf(pl place, i int, most *unit.Force, width unit.Length) float64 {
	q := &s.pieces[i]
	if !serves(pl, q) || width > 0 && q.g.Kind == "block" && (q.g.Diameter == nil || q.g.Diameter.Low < width) {
		return math.Inf(1)
	}
	t := seat{use: pl.use, tension: pl.tension, piece: q, working: q.working, breaks: q.breaks}
	t.peak = pl.peak(most)
	t.round, t.choked = s.goesRound(pl), q.g.SlingHitch == hitchChoked
	if pl.hold {
		s.holds(&t, i)
	}
	t.hitch()
	if width > 0 && pl.use == "haul" && q.g.Kind == "rope" && q.g.Diameter != nil {
		t.bend(bendShare(width, q))
	}
	c := t.cost()
	switch {
	case tooShort(pl, q):
		c = max(c, tierFails) + float64(pl.takes(q))/float64(q.g.Length.Low) // the longest of those too short
	case pl.rope > 0 && q.g.Length == nil:
		c += tierUnknown
	}
	return c
}
