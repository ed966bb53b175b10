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

// Step returns the share of the load's weight that a step asks for when an
// axle that carries axle of it climbs.
//
// Errors as [Lip], the highest step held against the smallest wheel, and if a
// range is not ordered or axle not from 0 to 1.
func Step(h, r bound.Of[unit.Length], axle bound.Of[bound.Ratio]) (bound.Of[bound.Ratio], error) {
	if !h.Ordered() || !r.Ordered() {
		return bound.Of[bound.Ratio]{}, &unit.RangeError{Name: "step height", Got: h.High.Metres(), Low: 0, High: r.Low.Metres(), Unit: "m"}
	}
	if !(axle.Ordered() && axle.Low >= 0 && axle.High <= 1) {
		return bound.Of[bound.Ratio]{}, &unit.RangeError{Name: "axle's share", Got: float64(axle.High), Low: 0, High: 1}
	}
	var k [3]float64
	for i, at := range [3][2]unit.Length{{h.Low, r.High}, {h.Best, r.Best}, {h.High, r.Low}} {
		var err error
		if k[i], err = lip(at[0], at[1]); err != nil {
			return bound.Of[bound.Ratio]{}, err
		}
	}
	return bound.Of[bound.Ratio]{
		Low:  axle.Low * bound.Ratio(k[0]),
		Best: axle.Best * bound.Ratio(k[1]),
		High: axle.High * bound.Ratio(k[2]),
	}, nil
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
