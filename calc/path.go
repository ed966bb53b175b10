package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// seat is one thing of the load path with what it carries and may carry.
type seat struct {
	use, kind, label string
	path             string // of the field that would tell more
	tension          unit.Force
	peak             *unit.Force
	working, breaks  *unit.Force // nil: not known
	piece            *piece
	fixed            *fixed
	hold             bool
	anchor           bool
	row              handbook.Row
}

// ratio is tension over working limit, infinite for a piece that counts nothing.
func (s seat) ratio() (float64, bool) {
	if s.working == nil {
		return 0, false
	}
	if s.tension <= 0 && *s.working > 0 {
		return 0, true
	}
	if *s.working <= 0 {
		return math.Inf(1), true
	}
	return float64(s.tension) / float64(*s.working), true
}

// The tiers of a cost: what fails is worse than what is not known, which is
// worse than what needs a signature, which is worse than any use ratio that
// passes. Within a tier the use ratio decides.
const (
	tierSigned  = 10
	tierUnknown = 100
	tierFails   = 1000
	tierNothing = 1e9
)

func (s seat) cost() float64 {
	r, known := s.ratio()
	switch {
	case known && math.IsInf(r, 1):
		return tierNothing
	case !known:
		return tierUnknown
	case r > 1:
		return tierFails + r
	}
	if s.peak != nil && s.breaks != nil {
		half, _ := handbook.PeakSigned()
		at := float64(*s.peak) / max(1e-9, float64(*s.breaks))
		switch {
		case at > 1:
			return tierFails + at
		case at > float64(half):
			r += tierSigned
		}
	}
	if s.piece != nil && s.piece.untold() {
		r += tierUnknown
	}
	if s.fixed != nil && len(s.fixed.missing) > 0 {
		r += tierUnknown
	}
	return r
}

func (p piece) untold() bool {
	return p.tellMark || p.tellCond || p.tellMade || p.tellKnot || p.tellLeg
}

// lack is a place of the load path that nothing fills, and the list of the
// case that would.
type lack struct{ what, field string }

// path is a load path: who sits where, and what is still missing.
type path struct {
	seats   []seat
	missing []lack
	ropes   []*piece // that make the haul line
	hold    holding
}

// worst is the highest cost, and how many places are empty.
func (p path) worst() (float64, int) {
	w := 0.0
	for _, s := range p.seats {
		w = max(w, s.cost())
	}
	return w, len(p.missing)
}

// shelf is all that may be rigged, read once for all the rigs that are weighed.
type shelf struct {
	c       job.Case
	n       need
	pieces  []piece
	anchors []fixed
	held    []holding // what the holding line would carry with each piece as its rope
}

func stock(c job.Case, n need) shelf {
	s := shelf{c: c, n: n}
	for i, g := range c.Gear {
		s.pieces = append(s.pieces, readPiece(g, i))
	}
	for i := range s.pieces {
		h := holding{}
		if p := &s.pieces[i]; p.g.Kind == "rope" && (p.g.Use == "" || p.g.Use == "spare" || p.g.Use == "holding") {
			h = reckonHolding(c, n, p)
		}
		s.held = append(s.held, h)
	}
	for i := range c.Anchors {
		s.anchors = append(s.anchors, readAnchor(c, i))
	}
	return s
}

func (s shelf) seatPiece(pl place, i int, most *unit.Force) seat {
	p := &s.pieces[i]
	t := seat{use: pl.use, kind: p.g.Kind, label: p.label, path: p.path, tension: pl.tension, piece: p, hold: pl.hold,
		working: p.working, breaks: p.breaks}
	if pl.hold {
		t.tension = s.held[i].check
		if !s.held[i].checked && t.working != nil && !p.nothing && *t.working >= t.tension {
			t.working = nil // it may still be too much: the arrest is not known
		}
	} else {
		t.peak = times(most, pl.perHaul)
	}
	return t
}

func (s shelf) seatAnchor(pl place, i int, most *unit.Force) seat {
	f := &s.anchors[i]
	t := seat{use: pl.use, kind: f.a.Kind, label: f.label, path: f.path, tension: pl.tension, fixed: f, hold: pl.hold,
		anchor: true, working: f.capacity, row: f.row}
	if f.capacity != nil {
		over, _ := handbook.BreaksOverWorking()
		b := f.capacity.Scale(float64(over))
		t.breaks = &b
	}
	if !pl.hold {
		t.peak = times(most, pl.perHaul)
	}
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

// tooShort reports whether a rope is known to be too short for a place.
func tooShort(pl place, p *piece) bool {
	return p.g.Kind == "rope" && !pl.hold && p.g.Length != nil && p.g.Length.Low < pl.rope
}

// fill seats pinned pieces first and lets the rest be chosen for the least
// worst cost. exact settles every seat in turn; a search only needs the worst.
func (s shelf) fill(st strain, w *power, exact bool) path {
	var most *unit.Force
	if w != nil {
		most = w.most
	}
	places := st.places
	if s.n.holds {
		places = append(slices.Clip(places), place{use: "holding", kinds: []string{"rope"}, hold: true}, place{use: "holding", hold: true})
	}
	if w != nil && w.p.Kind == "hand-winch" {
		places = append(slices.Clip(places), place{use: "puller", tension: st.haul.High, perHaul: 1})
	}
	var p path
	open := s.seatPinned(&p, places, most)
	s.seatFree(&p, open, most, exact)
	if s.n.holds {
		s.rateHolding(&p, places)
	}
	s.seatAnchors(&p, places, most, exact)
	s.seatPoints(&p, st, w, most)
	return p
}

// seatPinned seats every pinned piece where its use puts it and returns the
// places that no pinned piece fills.
func (s shelf) seatPinned(p *path, places []place, most *unit.Force) []place {
	var open []place
	taken := make([]bool, len(s.pieces))
	for _, pl := range places {
		if pl.kinds == nil {
			continue
		}
		filled, wheels := false, 0
		for i := range s.pieces {
			q := &s.pieces[i]
			if q.g.Use != pl.use || !slices.Contains(pl.kinds, q.g.Kind) {
				continue
			}
			if taken[i] && q.g.Count < 2 {
				continue
			}
			taken[i], filled = true, true
			wheels += q.g.Sheaves * q.g.Count
			s.sit(p, pl, i, most)
		}
		switch {
		case !filled:
			open = append(open, pl)
		case pl.sheaves > wheels:
			p.missing = append(p.missing, lack{fmt.Sprintf("a %s with %d sheaves in all", pl.use, pl.sheaves), "gear"})
		}
	}
	s.seatStray(p, places, taken, most)
	return open
}

func (s shelf) sit(p *path, pl place, i int, most *unit.Force) {
	p.seats = append(p.seats, s.seatPiece(pl, i, most))
	if pl.use == "haul" {
		p.ropes = append(p.ropes, &s.pieces[i])
	}
}

// seatStray seats pinned pieces that no place asked for but that lie in the
// load path all the same: a link in the haul line, what joins a straight rope
// to the load, a strop at the dead end's anchor.
func (s shelf) seatStray(p *path, places []place, taken []bool, most *unit.Force) {
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

// seatFree gives the open places pieces that nobody pinned.
func (s shelf) seatFree(p *path, open []place, most *unit.Force, exact bool) {
	var cols []int // piece of each column, a column a copy
	widest := 1
	for i := range s.pieces {
		if u := s.pieces[i].g.Use; u != "" && u != "spare" {
			continue
		}
		if s.pieces[i].g.Kind == "block" {
			widest = max(widest, s.pieces[i].g.Sheaves)
		}
		for range min(s.pieces[i].g.Count, len(open)) {
			cols = append(cols, i)
		}
	}
	// Where no block has the sheaves, single ones stand side by side; each is
	// then held to the whole force, because they share unevenly.
	var rows []place
	for _, pl := range open {
		if pl.sheaves > widest {
			for range pl.sheaves {
				one := pl
				one.sheaves = 1
				rows = append(rows, one)
			}
			continue
		}
		rows = append(rows, pl)
	}
	cost := make([][]float64, len(rows))
	for r, pl := range rows {
		cost[r] = make([]float64, len(cols))
		for k, i := range cols {
			cost[r][k] = s.costOf(pl, i, most)
		}
	}
	if !exact {
		s.seatWorst(p, rows, cols, cost, most)
		return
	}
	for r, k := range assign(cost) {
		if k < 0 {
			p.missing = append(p.missing, named(rows[r]))
			continue
		}
		s.sit(p, rows[r], cols[k], most)
	}
}

// seatWorst seats any choice with the least worst cost.
func (s shelf) seatWorst(p *path, rows []place, cols []int, cost [][]float64, most *unit.Force) {
	worst, _ := bottleneck(cost)
	limit := make([]float64, len(rows))
	for i := range limit {
		limit[i] = worst
	}
	for r, k := range match(cost, limit).row {
		if k < 0 {
			p.missing = append(p.missing, named(rows[r]))
			continue
		}
		s.sit(p, rows[r], cols[k], most)
	}
}

func (s shelf) costOf(pl place, i int, most *unit.Force) float64 {
	q := &s.pieces[i]
	if !serves(pl, q) {
		return math.Inf(1)
	}
	t := s.seatPiece(pl, i, most)
	c := t.cost()
	switch {
	case tooShort(pl, q):
		c = max(c, tierFails) + 1
	case pl.rope > 0 && q.g.Length == nil:
		c += tierUnknown
	}
	return c
}

func named(pl place) lack {
	if pl.kinds == nil {
		return lack{"an anchor for the " + map[string]string{"standing": "tackle", "lead": "lead block", "holding": "holding line", "puller": "hand winch"}[pl.use], "anchors"}
	}
	return lack{part(pl), "gear"}
}

func part(pl place) string {
	switch {
	case pl.use == "holding":
		return "a holding rope"
	case pl.sheaves > 0:
		return fmt.Sprintf("a %s with %d sheaves", strings.ReplaceAll(pl.use, "-", " "), pl.sheaves)
	case len(pl.kinds) > 1 && pl.use != "haul":
		return "what joins the " + map[string]string{"load": "moving block to the load", "anchor": "standing block to its anchor", "lead-block": "lead block to its anchor"}[pl.use]
	}
	return "a haul rope"
}

// rateHolding settles what the holding line carries, now that its rope is known.
func (s shelf) rateHolding(p *path, places []place) {
	p.hold = reckonHolding(s.c, s.n, nil)
	for _, t := range p.seats {
		if t.hold && t.piece != nil {
			for i := range s.pieces {
				if &s.pieces[i] == t.piece && (p.hold.check < s.held[i].check || !p.hold.checked) {
					p.hold = s.held[i]
				}
			}
		}
	}
	for i := range places {
		if places[i].hold {
			places[i].tension = p.hold.check
		}
	}
}

func (s shelf) seatAnchors(p *path, places []place, most *unit.Force, exact bool) {
	var open []place
	for _, pl := range places {
		if pl.kinds != nil {
			continue
		}
		var pinned []int
		for i := range s.anchors {
			if s.anchors[i].a.Use == pl.use {
				pinned = append(pinned, i)
			}
		}
		if len(pinned) == 0 {
			open = append(open, pl)
			continue
		}
		even := len(pinned) > 1
		for _, i := range pinned {
			even = even && s.anchors[i].a.Equalised
		}
		if even { // two count: each is held to half
			pl.tension, pl.perHaul = pl.tension.Scale(0.5), pl.perHaul/2
		}
		for _, i := range pinned {
			p.seats = append(p.seats, s.anchorSeat(pl, i, most, p))
		}
	}
	var cols []int
	for i := range s.anchors {
		if s.anchors[i].a.Use == "" {
			cols = append(cols, i)
		}
	}
	cost := make([][]float64, len(open))
	for r, pl := range open {
		cost[r] = make([]float64, len(cols))
		for k, i := range cols {
			cost[r][k] = s.anchorSeat(pl, i, most, p).cost()
		}
	}
	for r, k := range assign(cost) {
		if k < 0 {
			p.missing = append(p.missing, named(open[r]))
			continue
		}
		p.seats = append(p.seats, s.anchorSeat(open[r], cols[k], most, p))
	}
}

func (s shelf) anchorSeat(pl place, i int, most *unit.Force, p *path) seat {
	t := s.seatAnchor(pl, i, most)
	if pl.hold && !p.hold.checked && t.working != nil && *t.working >= t.tension {
		t.working = nil
	}
	return t
}

// seatPoints seats the tow point, the point that the holding line is on and
// the puller's hitch.
func (s shelf) seatPoints(p *path, st strain, w *power, most *unit.Force) {
	onLoad := 1.0
	for _, pl := range st.places {
		if pl.use == "moving-block" {
			onLoad = pl.perHaul
			break
		}
	}
	tow := s.point("tow-point", "load.tow_point", s.c.Load.TowPoint)
	tow.tension, tow.peak = s.n.pullHigh(), times(most, onLoad)
	p.seats = append(p.seats, tow)
	if s.n.holds {
		h := s.point("holding-point", "load.holding_point", s.c.Load.HoldingPoint)
		if s.c.Load.HoldingPoint == nil && tow.working != nil && *tow.working >= p.hold.check {
			h = tow // one point serves both lines; they are not tight together
			h.use, h.label, h.peak = "holding-point", "tow point", nil
		}
		h.tension, h.hold = p.hold.check, true
		if !p.hold.checked && h.working != nil && *h.working >= h.tension {
			h.working = nil
		}
		p.seats = append(p.seats, h)
	}
	if w == nil || !w.machine() {
		return
	}
	h := seat{use: "hitch", kind: w.p.Hitch, label: "hitch", path: w.path + ".hitch_rating", tension: st.haul.High, peak: times(most, 1)}
	if hitchRefused(w.p.Hitch) != "" {
		h.working, h.breaks = new(unit.Force), new(unit.Force)
	} else if w.p.HitchRating != nil {
		over, _ := handbook.BreaksOverWorking()
		work := w.p.HitchRating.Low
		breaks := work.Scale(float64(over))
		h.working, h.breaks = &work, &breaks
	}
	p.seats = append(p.seats, h)
}

func (s shelf) point(use, field string, t *job.TowPoint) seat {
	out := seat{use: use, label: use, path: field + ".rating"}
	if t == nil {
		return out
	}
	out.kind = t.Kind
	r := t.Rating
	switch {
	case r.Kind == "unmarked" || t.Condition == "damaged" || towPointRefused(t.Kind) != "":
		out.working, out.breaks = new(unit.Force), new(unit.Force)
	case r.Force == nil:
	case r.Kind == "working":
		over, _ := handbook.BreaksOverWorking()
		w := r.Force.Low
		b := w.Scale(float64(over))
		out.working, out.breaks = &w, &b
	case r.Kind == "breaking":
		factor, _, _ := handbook.DesignFactor("tow point")
		b := r.Force.Low
		w := b.Scale(1 / float64(factor))
		out.working, out.breaks = &w, &b
	default:
		out.path = field + ".rating_kind"
	}
	return out
}
