package calc

import (
	"fmt"
	"math"
	"slices"

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
	far, all := longest.High, whole.High
	if !ok { // all the rope that is there may be in it
		var known bool
		far, known = o.path.listed(false)
		for _, l := range []*Length{s.c.Reach, s.c.Lead} {
			if l != nil {
				far = max(far, l.High)
			}
		}
		all, e.Least = far, !known
	}
	e.Clear = motion.ClearDistance(far, all, spans, recoils, least)
	e.far = farSum(far, all, spans, recoils, least)
	if o.path.hold.Main {
		return s.held(e, o, spans, least)
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
	e.tight = tight{rope, inNewtons(tension.High), whole.High, stiff.Low}
	e.Beside = beside(stored.High, s.c.Load.Mass.Best)
	return e
}

// listed is how long the haul line, or the one that holds, can be at the most:
// all of its rope, end to end. It is not known while a length of it is not.
func (p path) listed(hold bool) (most unit.Length, known bool) {
	var counted []*piece
	for _, t := range p.seats {
		if t.piece == nil || t.hold != hold || !hold && t.use != "haul" || !slices.Contains(roped, t.kind) || slices.Contains(counted, t.piece) {
			continue
		}
		counted = append(counted, t.piece)
		if t.piece.g.Length == nil {
			return 0, false
		}
		most += t.piece.g.Length.High.Scale(float64(t.piece.g.Count))
	}
	return most, len(counted) > 0
}

// held is energy where the load runs by itself: the tight line is the one that
// holds, with the grade in it and at its high end the arrest, which puts most into
// a line that is soft and has been paid out for the whole way.
func (s *search) held(e *Stored, o weighed, spans bound.Ratio, least unit.Length) *Stored {
	h := o.path.hold
	if s.c.Reach == nil || s.c.Distance == nil {
		most, known := o.path.listed(true)
		e.Clear, e.Least = max(e.Clear, motion.ClearDistance(most, most, spans, true, least)), e.Least || !known
		e.far = fmt.Sprintf("max(%s, %s)", e.far, farSum(most, most, spans, true, least))
		return e
	}
	long := Length{Low: s.c.Reach.Low, Best: s.c.Reach.Best, High: s.c.Reach.High + s.c.Distance.High}
	e.Clear = max(e.Clear, motion.ClearDistance(long.High, long.High, spans, true, least))
	e.far = fmt.Sprintf("max(%s, %s)", e.far, farSum(long.High, long.High, spans, true, least))
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
	e.tight = tight{h.rope, arrestSum(h.Static.High, h.slack, h.line.Stiffness.Low, long.High), long.High, h.line.Stiffness.Low}
	return e
}

// tight is what a line stores energy by: its rope, the sum for its tension, how
// long it is and its stiffness at the softest.
type tight struct {
	rope      *piece
	tension   string
	long      unit.Length
	stiffness unit.Force
}

// farSum is the sum for how far everyone stands off.
func farSum(span, whole unit.Length, spans bound.Ratio, recoils bool, least unit.Length) string {
	sum := fmt.Sprintf("%s, %s × %s", inMetres(least), in(float64(spans)), inMetres(span))
	if recoils {
		sum += ", " + inMetres(whole)
	}
	return "max(" + sum + ")"
}

// arrestSum is the sum for what a line takes that catches a load.
func arrestSum(static unit.Force, slack unit.Length, stiffness unit.Force, long unit.Length) string {
	s := inNewtons(static)
	return fmt.Sprintf("%s + √(%s^2 + 2 × %s × %s × %s ÷ %s)", s, s, s, inMetres(slack), inNewtons(stiffness), inMetres(long))
}

// beside sets an energy beside the load itself rolling: the speed at which it
// would carry as much.
func beside(e unit.Energy, m unit.Mass) string {
	speed := unit.MetresPerSecond(math.Sqrt(2 * e.Joules() / m.Kilograms()))
	return fmt.Sprintf("as much as the load itself rolling at %s km/h (%s mph)", figure(speed.KilometresPerHour(), figures, math.Ceil), figure(speed.MilesPerHour(), figures, math.Ceil))
}
