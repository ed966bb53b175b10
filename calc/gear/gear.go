// Package gear finds what a marked piece may carry.
//
// Only a stamp says what a piece may carry. Size rules can say that even a
// sound new piece would not do; they never say that one will.
package gear

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// A Stamp is the figure on a piece and what takes from it.
type Stamp struct {
	Force    unit.Force  // at its low end
	Breaking bool        // Force is where a new one breaks, not what it may carry
	Factor   bound.Ratio // breaking strength over working limit for its kind
	Kept     bound.Ratio // share kept by its worst knot, splice or bend; 1 for none
	Leg      unit.Angle  // from the line of pull to a leg; 0 in line
	Legs     int         // legs or pieces side by side that count: 1, or 2 made to equalise
}

// check refuses what no piece can have. Past the steepest leg a piece pulls
// sideways more than it helps.
func (s Stamp) check(steepest unit.Angle) error {
	for _, c := range []struct {
		name           string
		got, low, high float64
	}{
		{"stamped force", s.Force.Newtons(), 0, math.MaxFloat64},
		{"design factor", float64(s.Factor), 1, 100},
		{"share kept", float64(s.Kept), 0, 1},
		{"leg angle", s.Leg.Degrees(), 0, steepest.Degrees()},
		{"legs that count", float64(s.Legs), 1, 2},
	} {
		if !(c.low <= c.got && c.got <= c.high) {
			return &unit.RangeError{Name: c.name, Got: c.got, Low: c.low, High: c.high}
		}
	}
	return nil
}

// Working returns what the piece may carry along the line of pull.
//
// Errors: *unit.RangeError if a field is out of reason or a leg leans more than steepest.
//
// Source: derived; the leg's share of the pull is cos(angle), as in
// T = (W/N)(L/V), Site Safe NZ, Good Slinging Practice, sheet 4.2.
func Working(s Stamp, steepest unit.Angle) (unit.Force, error) {
	if err := s.check(steepest); err != nil {
		return 0, err
	}
	f := s.Force
	if s.Breaking {
		f = f.Scale(1 / float64(s.Factor))
	}
	return f.Scale(s.left()), nil
}

// Breaks returns where the piece must be expected to break: its breaking
// strength, or so many times its working limit where only that is stamped.
//
// Errors as [Working].
func Breaks(s Stamp, overWorking bound.Ratio, steepest unit.Angle) (unit.Force, error) {
	if err := s.check(steepest); err != nil {
		return 0, err
	}
	f := s.Force
	if !s.Breaking {
		f = f.Scale(float64(overWorking))
	}
	return f.Scale(s.left()), nil
}

func (s Stamp) left() float64 {
	return float64(s.Kept) * s.Leg.Cos() * float64(s.Legs)
}

// SlingLeg returns the tension in each of legs legs of length long whose hook
// stands height above the load.
//
// Errors: *unit.RangeError if load is negative, legs is under 1 or height is not
// over 0 and up to long.
//
// Source: T = (W/N)(L/V), Site Safe NZ, Good Slinging Practice, sheet 4.2.
func SlingLeg(load unit.Force, legs int, long, height unit.Length) (unit.Force, error) {
	if !(0 <= load && load.Newtons() <= math.MaxFloat64) {
		return 0, &unit.RangeError{Name: "load", Got: load.Newtons(), Low: 0, High: math.MaxFloat64, Unit: "N"}
	}
	if legs < 1 {
		return 0, &unit.RangeError{Name: "legs", Got: float64(legs), Low: 1, High: math.MaxInt32}
	}
	if !(0 < height && height <= long) {
		return 0, &unit.RangeError{Name: "height", Got: height.Metres(), Low: 0, High: long.Metres(), Unit: "m"}
	}
	return load.Scale(float64(long) / float64(height) / float64(legs)), nil
}
