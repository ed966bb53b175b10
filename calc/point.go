package calc

import (
	"slices"
	"strings"

	"linetender/calc/gear"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// rateHolding settles what the holding line carries, now that its rope is known.
func (s *shelf) rateHolding(p *path, places []place) {
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
	for i := range p.seats { // what joins the line carries as much as its rope
		if t := &p.seats[i]; t.hold && t.piece != nil && !slices.Contains(roped, t.piece.g.Kind) {
			t.carryHeld(p.hold)
		}
	}
}

func (s *shelf) seatAnchors(p *path, places []place, most *unit.Force) {
	open := p.room.open[:0]
	for at, pl := range places {
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
		// One anchor for two lead blocks, or for both tackles of a compound,
		// carries the sum of all that is on it.
		alike := s.alike(places, pl.use)
		if len(alike) > 1 {
			if slices.IndexFunc(places, func(p place) bool { return p.kinds == nil && p.use == pl.use }) != at {
				continue
			}
			pl = together(alike, len(pinned) < len(alike))
		}
		even := len(alike) == 1 && len(pinned) > 1
		for _, i := range pinned {
			even = even && s.anchors[i].a.Equalised
		}
		if even {
			s.evenly(p, pl, pinned, most)
			continue
		}
		for _, i := range pinned {
			p.seats = append(p.seats, s.anchorSeat(pl, i, most, p))
		}
	}
	cols := p.room.cols[:0]
	for i := range s.anchors {
		if s.anchors[i].a.Use == "" {
			cols = append(cols, i)
		}
	}
	slices.SortStableFunc(cols, func(a, b int) int { return s.anchors[a].compare(s.anchors[b]) })
	p.room.open, p.room.cols = open, cols
	cost := p.room.table(len(open), len(cols))
	for r, pl := range open {
		for k, i := range cols {
			t := s.anchorSeat(pl, i, most, p)
			cost[r][k] = t.cost()
		}
	}
	for r, k := range assign(cost, 0) {
		if k < 0 {
			p.missing = append(p.missing, named(open[r]))
			continue
		}
		p.seats = append(p.seats, s.anchorSeat(open[r], cols[k], most, p))
	}
}

// alike lists the anchor places of one use.
func (s *shelf) alike(places []place, use string) []place {
	var out []place
	for _, p := range places {
		if p.kinds == nil && p.use == use {
			out = append(out, p)
		}
	}
	return out
}

// together is what one anchor of several alike places may have to carry: the
// sum of them where there are fewer anchors than places, and the greatest
// where which goes where is not said.
func together(alike []place, sum bool) place {
	out := alike[0]
	for _, p := range alike[1:] {
		if sum {
			out.tension, out.perHaul = out.tension+p.tension, out.perHaul+p.perHaul
			continue
		}
		out.tension, out.perHaul = max(out.tension, p.tension), max(out.perHaul, p.perHaul)
	}
	return out
}

func (s *shelf) anchorSeat(pl place, i int, most *unit.Force, p *path) seat {
	t := s.seatAnchor(pl, i, most)
	if pl.hold {
		t.unlessCaught(p.hold)
	}
	return t
}

// seatPoints seats the tow point, the point that the holding line is on and
// the puller's hitch.
func (s *shelf) seatPoints(p *path, places []place, st strain, w *power, most *unit.Force) {
	tow := s.point("tow-point", "tow point", "load.tow_point.rating", s.c.Load.TowPoint)
	tow.tension, tow.peak = s.n.pullHigh(), times(most, st.onLoad())
	shared := s.n.holds && s.c.Load.HoldingPoint != nil && s.c.Load.HoldingPoint.Shared
	if shared { // while one line takes over from the other both are tight
		tow.tension += p.hold.check
	}
	p.seats = append(p.seats, tow)
	if s.n.holds {
		h := s.point("holding-point", "holding point", "load.holding_point.rating", s.c.Load.HoldingPoint)
		h.tension = p.hold.check
		if shared {
			h = tow
			h.use, h.label = "holding-point", "tow point"
		}
		h.peak = nil
		for _, pl := range places {
			if pl.hold {
				h.peak = pl.peak(most)
			}
		}
		h.hold = true
		h.unlessCaught(p.hold)
		p.seats = append(p.seats, h)
	}
	if w == nil || !w.hitched() {
		return
	}
	h := seat{use: "hitch", kind: w.p.Hitch, label: "hitch", path: w.path + ".hitch_rating", tension: st.haul.High, peak: times(most, 1)}
	if hitchRefused(w.p.Hitch, !w.machine()) != "" {
		h.working, h.breaks = new(unit.Force), new(unit.Force)
	} else if r := w.p.HitchRating; r.Kind == "unmarked" {
		h.working, h.breaks = new(unit.Force), new(unit.Force)
	} else if r.Force == nil && r.Kind == "" && !w.machine() && !w.borne() {
		return // of what an anchor holds, what is told counts and nothing is asked
	} else if r.Force != nil && r.Kind == "" {
		h.path += "_kind"
	} else if r.Force != nil {
		h.stamp(hitchStamp(r))
	}
	p.seats = append(p.seats, h)
}

// hitchStamp is what is told of the place on the puller that the line is on.
func hitchStamp(r job.Rating) gear.Stamp {
	factor, _, _ := handbook.DesignFactor("hitch")
	return gear.Stamp{Force: r.Force.Low, Breaking: r.Kind == "breaking", Factor: factor, Kept: 1, Legs: 1}
}

// stamp settles what a point may carry and breaks at by what is told of it.
func (s *seat) stamp(told gear.Stamp) {
	steepest, _ := handbook.SlingAngleMost()
	over, _ := handbook.BreaksOverWorking()
	work, breaks := must(gear.Working(told, steepest)), must(gear.Breaks(told, over, steepest))
	s.working, s.breaks, s.stamped = &work, &breaks, told.Breaking
}

func (s *shelf) point(use, label, path string, t *job.TowPoint) seat {
	out := seat{use: use, label: label, path: path, point: t}
	if t == nil {
		return out
	}
	out.kind = t.Kind
	r := t.Rating
	steepest, _ := handbook.SlingAngleMost()
	legs, leg := 1, unit.Angle(0)
	if t.SlingAngle != nil {
		leg = t.SlingAngle.High
	}
	if t.Count > 1 {
		legs, _ = handbook.PartsThatCount(t.Equalised)
	}
	switch {
	case r.Kind == "unmarked" || t.Condition == "damaged" || towPointRefused(t.Kind) != "" || leg >= steepest:
		out.working, out.breaks = new(unit.Force), new(unit.Force)
	case r.Force == nil:
	case r.Kind == "":
		out.path = path + "_kind"
	case t.Count > 1 && t.SlingAngle == nil:
		out.path = strings.TrimSuffix(path, "rating") + "sling_angle"
	default:
		factor, _, _ := handbook.DesignFactor("tow point")
		out.stamp(gear.Stamp{Force: r.Force.Low, Breaking: r.Kind == "breaking", Factor: factor, Kept: 1, Leg: leg, Legs: legs})
	}
	return out
}
