package calc

import (
	"math"

	"linetender/calc/bound"
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
	bent             *bent // nil: it bends over nothing that is reckoned with
	hold             bool
	round            bool          // its piece goes round what it is on there
	choked           bool          // what a choke takes is off its figures
	hitchOpen        bool          // nobody told how it is put on, and choked it would come out otherwise
	legs             *legs         // of an anchor that shares evenly with others
	beside           []seat        // what else hangs on the same anchor, each as it was alone
	point            *job.TowPoint // of the load, that a line is on
	anchor           bool
	single           bool // of a fixed place, that one line alone is on it
	stamped          bool // of a point, that its breaking strength is told
	caught           bool // what it may carry was told, but not what catching the load puts on it
}

// unlessCaught leaves open what would carry the holding line as long as nobody
// knows what catching the load puts on it: it may still be too much.
func (s *seat) unlessCaught(h holding) {
	if !h.checked && s.working != nil && *s.working > 0 && *s.working >= s.tension {
		s.working, s.caught = nil, true
	}
}

// asks names the fields that would tell what it bears.
func (s *seat) asks() []string {
	switch {
	case s.piece != nil:
		return []string{s.path + ".rating", s.path + ".rating_kind"}
	case s.fixed != nil:
		return s.fixed.missing
	}
	return []string{s.path}
}

// ratio is tension over working limit, infinite for a piece that counts nothing.
func (s *seat) ratio() (float64, bool) {
	if s.working == nil {
		return 0, false
	}
	if s.tension <= 0 && *s.working > 0 {
		return 0, true
	}
	if *s.working <= 0 {
		return math.Inf(1), true
	}
	r := float64(s.tension) / float64(*s.working)
	if math.Abs(r-1) < noise {
		r = 1 // by its own figures it just passes
	}
	return r, true
}

// The tiers of a cost: what fails is worse than what is not known, which is
// worse than what needs a signature, which is worse than any use ratio that
// passes. Within a tier the worst use ratio decides: of what a thing may carry, or
// at the puller's most of what nobody can sign past.
const (
	tierSigned  = 10
	tierUnknown = 100
	tierFails   = 1000
	tierNothing = 1e9
)

// tier is which of the tiers a cost is in.
func tier(cost float64) int {
	n := 0
	for _, from := range []float64{tierSigned, tierUnknown, tierFails, tierNothing} {
		if cost >= from {
			n++
		}
	}
	return n
}

// peakSigned and its neighbours are read once, because a search asks for them at every place.
var (
	peakSigned  = func() float64 { half, _ := handbook.PeakSigned(); return float64(half) }()
	peakBlocked = func() bound.Ratio { all, _ := handbook.PeakBlocked(); return all }()
	peakDamages = func() bound.Ratio { share, _ := handbook.DamagedFrom(); return share }()
)

// peakMost is the share of what a seat breaks at past which nobody can sign for the
// puller's most. Past three quarters of a breaking strength that is stamped a line is
// damaged for good. Where a working limit alone is stamped, twice that is what is
// proved without harm, so there it is all of it.
//
// Source: NAVEDTRA 14160 of line, ASME B30.26 of the proof load; that other pieces with
// a stamped breaking strength are held to the line's share is judgment and errs safe.
func (s *seat) peakMost() bound.Ratio {
	if s.stamped || s.piece != nil && s.piece.factored != nil && !s.piece.proved {
		return peakDamages
	}
	return peakBlocked
}

// peakAllowed reports whether a seat stands the puller's most as far as anybody may sign
// for it.
func (s *seat) peakAllowed() bool {
	return s.peak == nil || s.breaks == nil || within(*s.peak, s.breaks.Scale(float64(s.peakMost())))
}

func (s *seat) cost() float64 {
	r, known := s.ratio()
	switch {
	case known && math.IsInf(r, 1):
		return tierNothing
	case !known:
		return tierUnknown
	case r > 1:
		if !s.peakAllowed() {
			return 2*tierFails + r // two checks fail
		}
		return tierFails + r
	}
	if s.peak != nil && s.breaks != nil {
		at := float64(*s.peak) / max(1e-9, float64(*s.breaks))
		if !s.peakAllowed() {
			return tierFails + at
		}
		if r = max(r, at/float64(s.peakMost())); at > peakSigned { // either is a share of what blocks
			r += tierSigned
		}
	}
	if s.piece != nil {
		if s.piece.untold() {
			r += tierUnknown
		}
		if s.piece.stretchy && r < tierSigned {
			r += tierSigned
		}
	}
	if s.bent != nil && s.bent.open || s.hitchOpen || s.thicknessDecides() {
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
