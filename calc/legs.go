package calc

import (
	"math"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// Anchors that were made to share evenly count as two, and each carries half of
// the line only where its leg runs along it: a leg that leans carries more, and
// from 60 degrees on all of it. Of a leg that nobody told it of, all is counted;
// where half would do and all does not, it is asked.
//
// Source: derived, two equal legs: half of the pull over the cosine of the angle.

// legs is how the legs of a group of anchors lean, the steepest of them.
type legs struct {
	angle unit.Angle
	told  bool
	open  bool // it is not, and that would decide something
}

// evenly seats anchors that share one place.
func (s *shelf) evenly(p *path, pl place, pinned []int, most *unit.Force) {
	steepest, _ := handbook.SlingAngleMost()
	l := legs{told: true}
	for _, i := range pinned {
		if a := s.anchors[i].a.SlingAngle; a == nil {
			l.told, l.angle = false, steepest
		} else {
			l.angle = max(l.angle, a.High)
		}
	}
	carries := func(leg unit.Angle) place {
		k := 0.5 / math.Cos(min(leg, steepest).Radians())
		q := pl
		q.tension, q.perHaul, q.more = pl.tension.Scale(k), pl.perHaul*k, pl.more.Scale(k)
		return q
	}
	for _, i := range pinned {
		t, along := s.anchorSeat(carries(l.angle), i, most, p), s.anchorSeat(carries(0), i, most, p)
		own := l
		own.open = !l.told && tier(t.cost()) > tier(along.cost())
		if own.open {
			t.working, t.breaks = nil, nil
		}
		t.legs = &own
		p.seats = append(p.seats, t)
	}
}

// judgeLegs makes the finding on how the legs of anchors that share lean.
func judgeLegs(fs *findings, o weighed) {
	steepest, _ := handbook.SlingAngleMost()
	good, any := true, false
	for _, t := range o.path.seats {
		switch {
		case t.legs == nil:
			continue
		case t.legs.open:
			fs.ask("A1/legs", fs.of(t.path, ".sling_angle"), t.label)
			good = false
		case t.legs.told && t.legs.angle >= steepest:
			fs.add("A1/legs", Fail, t.label, degrees(steepest))
			good = false
		}
		any = true
	}
	if good && any {
		fs.add("A1/legs", Pass)
	}
}
