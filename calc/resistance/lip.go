package resistance

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Lip returns the level pull at the hub that starts a wheel of radius r, with
// load n on it, over a step of height h: the moment of both about the step's
// edge is zero, P (r − h) = n √(2rh − h²).
//
// Errors: *unit.RangeError if r is not positive, h is negative or h is not
// under r: a wheel can't be pulled over a step as high as its hub.
//
// Source: derived, moments about the edge of the step.
func Lip(n unit.Force, h, r unit.Length) (unit.Force, error) {
	k, err := lip(h, r)
	if err != nil {
		return 0, err
	}
	return n.Scale(k), nil
}

func lip(h, r unit.Length) (float64, error) {
	if !(r > 0 && !math.IsInf(r.Metres(), 0)) {
		return 0, &unit.RangeError{Name: "wheel radius", Got: r.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	if !(0 <= h && h < r) {
		return 0, &unit.RangeError{Name: "step height", Got: h.Metres(), Low: 0, High: r.Metres(), Unit: "m"}
	}
	up := float64(h / r)
	return math.Sqrt(2*up-up*up) / (1 - up), nil
}

// An Edge is a step and what meets it. Axle is the share of the load's weight on the
// axle that climbs; Locked the share on wheels that don't turn, wherever they are; and
// Sliding what those drag with, on the ground and up the edge.
type Edge struct {
	Height, Radius  bound.Of[unit.Length]
	Axle            bound.Of[bound.Ratio]
	Locked, Sliding bound.Of[bound.Ratio]
}

// Step returns the share of the load's weight that a step asks for beside what rolls
// and drags.
//
// A wheel that turns is levered over the edge, k = √(2rh − h²)/(r − h) of what is on
// it. One that doesn't slides up the edge, on a slope of atan k under friction µ:
// tan(atan k + atan µ) = (k + µ)/(1 − kµ), of which µ is counted as drag already; from
// kµ = 1 on it jams and no force moves it. Nobody says which wheels are locked, so at
// the high end and at best those of the axle are, as far as the share goes (judgment:
// errs high), and at the low end the others.
//
// Errors as [Lip], the highest step held against the smallest wheel, if a range is not
// ordered, axle or locked not from 0 to 1, or a locked wheel jams.
//
// Source: derived, moments about the edge of the step, and the balance of a body that
// is about to slide up the tangent at it.
func Step(e Edge) (bound.Of[bound.Ratio], error) {
	if !e.Height.Ordered() || !e.Radius.Ordered() {
		return bound.Of[bound.Ratio]{}, &unit.RangeError{Name: "step height", Got: e.Height.High.Metres(), Low: 0, High: e.Radius.Low.Metres(), Unit: "m"}
	}
	for _, s := range []struct {
		name string
		r    bound.Of[bound.Ratio]
		most bound.Ratio
	}{{"axle's share", e.Axle, 1}, {"locked", e.Locked, 1}, {"sliding", e.Sliding, 10}} {
		if !(s.r.Ordered() && s.r.Low >= 0 && s.r.High <= s.most) {
			return bound.Of[bound.Ratio]{}, &unit.RangeError{Name: s.name, Got: float64(s.r.High), Low: 0, High: float64(s.most)}
		}
	}
	var out [3]bound.Ratio
	for i, at := range []struct {
		h, r             unit.Length
		axle, slides, mu bound.Ratio
	}{
		{e.Height.Low, e.Radius.High, e.Axle.Low, max(0, e.Axle.Low+e.Locked.Low-1), e.Sliding.Low},
		{e.Height.Best, e.Radius.Best, e.Axle.Best, min(e.Axle.Best, e.Locked.Best), e.Sliding.Best},
		{e.Height.High, e.Radius.Low, e.Axle.High, min(e.Axle.High, e.Locked.High), e.Sliding.High},
	} {
		climb, err := lip(at.h, at.r)
		if err != nil {
			return bound.Of[bound.Ratio]{}, err
		}
		k := bound.Ratio(climb)
		out[i] = at.axle * k
		if at.slides == 0 {
			continue
		}
		if !(k*at.mu < 1) {
			return bound.Of[bound.Ratio]{}, &unit.RangeError{Name: "step under a locked wheel", Got: float64(k * at.mu), Low: 0, High: 1}
		}
		out[i] += at.slides * Slid(k, at.mu)
	}
	return bound.Of[bound.Ratio]{Low: out[0], Best: out[1], High: out[2]}, nil
}

// Slid returns what a locked wheel on an edge takes more than a turning one does and
// than it drags on the level, over what is on it: k is what levers it over, µ what it
// drags with, and kµ under 1.
//
// Source: derived, (k + µ)/(1 − kµ) − µ − k = kµ(k + µ)/(1 − kµ).
func Slid(k, mu bound.Ratio) bound.Ratio { return k * mu * (k + mu) / (1 - k*mu) }

// Leans returns the angle from upright at which a locked wheel of radius r bears on
// the edge of a step of height h when it is about to slide up: that of the edge's
// tangent and the angle of friction. At 90° it jams.
//
// Errors as [Lip], and if mu is not from 0 to 10.
func Leans(h, r unit.Length, mu bound.Ratio) (unit.Angle, error) {
	k, err := lip(h, r)
	if err != nil {
		return 0, err
	}
	if !(0 <= mu && mu <= 10) {
		return 0, &unit.RangeError{Name: "sliding", Got: float64(mu), Low: 0, High: 10}
	}
	return unit.Radians(math.Atan(k) + math.Atan(float64(mu))), nil
}

// AlongLine returns the force in a line that leads off degrees away from the
// way the load will move, and the side load that comes with it.
//
// A total that is negative, of a load that runs by itself, gives a negative line.
// Errors: *unit.RangeError if total is not ordered or off not from 0 to under 90°.
//
// Source: derived: only the share cos off of the line's tension is along the
// way; the rest, tan off of the resistance, is across it.
func AlongLine(total bound.Of[unit.Force], off bound.Of[unit.Angle]) (line, side bound.Of[unit.Force], err error) {
	if !total.Ordered() {
		return line, side, &unit.RangeError{Name: "resistance", Got: total.High.Newtons(), Low: -math.MaxFloat64, High: math.MaxFloat64, Unit: "N"}
	}
	if !(off.Ordered() && off.Low >= 0 && off.High.Degrees() < 90) {
		return line, side, &unit.RangeError{Name: "angle off the line", Got: off.High.Degrees(), Low: 0, High: 90, Unit: "deg"}
	}
	return times(total, 1/off.Low.Cos(), 1/off.Best.Cos(), 1/off.High.Cos()),
		times(total, off.Low.Tan(), off.Best.Tan(), off.High.Tan()), nil
}

// times multiplies a force that may be negative by a factor that is not.
func times(f bound.Of[unit.Force], low, best, high float64) bound.Of[unit.Force] {
	return bound.Of[unit.Force]{
		Low:  min(f.Low.Scale(low), f.Low.Scale(high)),
		Best: f.Best.Scale(best),
		High: max(f.High.Scale(low), f.High.Scale(high)),
	}
}
