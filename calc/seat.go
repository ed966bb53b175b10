package calc

import (
	"math"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

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
