package calc

import (
	"fmt"
	"math"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// energy is what lies in the tight line, and how far everyone stands off.
func (s *search) energy(o weighed) *Stored {
	least, _ := handbook.ClearLeast()
	spans, _ := handbook.ClearSpans()
	e := &Stored{Clear: least}
	longest, whole, ok := o.span(s.c)
	recoils := !o.rig.straight()
	for _, t := range o.path.seats {
		if t.piece != nil {
			stretchy, _, _ := handbook.Stretchy(t.piece.g.Material)
			recoils = recoils || stretchy
		}
	}
	if ok {
		e.Clear = motion.ClearDistance(longest.High, whole.High, float64(spans), recoils, least)
	}
	if o.path.hold.Main {
		return s.held(e, o, float64(spans), least)
	}
	rope, there := o.ropeInLine()
	if !ok || !there {
		return e
	}
	stiff, ok := rope.stiffness()
	if !ok {
		return e
	}
	tension := o.s.haul
	for _, t := range o.path.seats {
		if t.piece == rope {
			tension.High = max(tension.High, t.tension)
		}
	}
	stored, _, err := motion.Stored(tension, motion.Line{Stiffness: stiff, Length: whole})
	if err != nil {
		return e
	}
	e.Stored = &stored
	e.Beside = beside(stored.High, s.c.Load.Mass.Best)
	return e
}

// held is energy where the load runs by itself: the tight line is the one that
// holds, with the grade in it and at its high end the arrest, which puts most into
// a line that is soft and has been paid out for the whole way.
func (s *search) held(e *Stored, o weighed, spans float64, least unit.Length) *Stored {
	h := o.path.hold
	if s.c.Reach == nil || s.c.Distance == nil {
		return e
	}
	long := Length{Low: s.c.Reach.Low, Best: s.c.Reach.Best, High: s.c.Reach.High + s.c.Distance.High}
	e.Clear = max(e.Clear, motion.ClearDistance(long.High, long.High, spans, true, least))
	if !h.checked {
		return e
	}
	softest := motion.Line{Stiffness: bound.Exactly(h.line.Stiffness.Low), Length: bound.Exactly(long.High)}
	tension := h.Static
	tension.High = must(motion.Arrest(bound.Exactly(h.Static.High), h.slack, softest)).High
	stored, _, err := motion.Stored(tension, motion.Line{Stiffness: h.line.Stiffness, Length: long})
	if err != nil {
		return e
	}
	e.Stored, e.Beside = &stored, beside(stored.High, s.c.Load.Mass.Best)
	return e
}

// beside sets an energy beside the load itself rolling: the speed at which it
// would carry as much.
func beside(e unit.Energy, m unit.Mass) string {
	speed := math.Sqrt(2 * e.Joules() / m.Kilograms())
	return fmt.Sprintf("as much as the load itself rolling at %s km/h (%s mph)", figure(speed*3.6, figures, math.Ceil), figure(speed*2.23694, figures, math.Ceil))
}
