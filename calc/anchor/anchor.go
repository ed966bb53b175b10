// Package anchor finds what a fixed point may be asked to hold.
//
// A computed capacity keeps a factor, two as settled, over the greatest force
// that comes on it: the vector sum of all its lines, never one line's tension.
package anchor

import (
	"math"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// Picket returns what a holdfast of stakes may hold: its figure in firm loam,
// the share that its soil keeps, and the factor.
//
// Errors: *unit.RangeError if loam is negative, soil is not from 0 to 1 or factor
// is under 1.
//
// Source: NAVEDTRA 14251 Steelworker V2, ch. 6, for the loam figures.
func Picket(loam unit.Force, soil, factor bound.Ratio) (unit.Force, error) {
	if !(0 <= loam && loam.Newtons() <= math.MaxFloat64) {
		return 0, &unit.RangeError{Name: "hold in loam", Got: loam.Newtons(), Low: 0, High: math.MaxFloat64, Unit: "N"}
	}
	if !(0 <= soil && soil <= 1) {
		return 0, &unit.RangeError{Name: "soil factor", Got: float64(soil), Low: 0, High: 1}
	}
	return over(loam.Scale(float64(soil)), factor)
}

// A Log is a deadman: a timber or log across the pull at the bottom of a trench.
type Log struct {
	Face, Length unit.Length   // of the side that bears, square to and along its trench
	Trench       unit.Length   // of the rope, which takes so much length out of use
	Pressure     unit.Pressure // that the soil bears at its depth and the pull's slope, in loam
	Soil         bound.Ratio
}

func (l Log) check() error {
	if !(l.Face > 0 && l.Length > 0 && l.Trench >= 0 && !math.IsInf(float64(l.Face)*float64(l.Length), 0)) {
		return &unit.RangeError{Name: "log", Got: l.Length.Metres(), Low: 0, High: math.MaxFloat64, Unit: "m"}
	}
	if !(l.Pressure > 0 && l.Soil > 0 && l.Soil <= 5) {
		return &unit.RangeError{Name: "bearing pressure", Got: l.Pressure.Pascals(), Low: 0, High: math.MaxFloat64, Unit: "Pa"}
	}
	return nil
}

// Deadman returns what a buried log may hold by the bearing of its face.
//
// Errors: *unit.RangeError if a field is not positive or factor is under 1.
//
// Source: TM 5-5420-278-10, p. 0035 00-22: length = strength/(pressure × face) + trench.
func Deadman(l Log, factor bound.Ratio) (unit.Force, error) {
	if err := l.check(); err != nil {
		return 0, err
	}
	bearing := max(0, l.Length-l.Trench)
	pa := l.Pressure.Pascals() * float64(l.Soil)
	return over(unit.Newtons(pa*l.Face.Metres()*bearing.Metres()), factor)
}

// DeadmanLength returns the length of log that bears hold, its trench included.
//
// Errors and source as [Deadman], and if hold is negative; l.Length is not used.
func DeadmanLength(l Log, hold unit.Force) (unit.Length, error) {
	l.Length = unit.Metres(1) // any that passes the check
	if err := l.check(); err != nil {
		return 0, err
	}
	if !(0 <= hold && hold.Newtons() <= math.MaxFloat64) {
		return 0, &unit.RangeError{Name: "hold", Got: hold.Newtons(), Low: 0, High: math.MaxFloat64, Unit: "N"}
	}
	pa := l.Pressure.Pascals() * float64(l.Soil)
	return unit.Metres(hold.Newtons()/(pa*l.Face.Metres())) + l.Trench, nil
}

// Vehicle returns what a braked and chocked machine may hold on ground that
// falls by down the way it is pulled: so much of its weight as grips, less what
// already draws it down, and of the rest a share. Where nothing is left it holds
// nothing.
//
// Errors: *unit.RangeError if m is not positive, down is not from level to
// upright, or grip or share is out of reason.
//
// Source: derived, equilibrium along the slope: (µ W cos θ − W sin θ) × share; the
// share is common practice.
func Vehicle(m unit.Mass, down unit.Angle, grip, share bound.Ratio) (unit.Force, error) {
	if !(m > 0 && m.Kilograms() <= math.MaxFloat64) {
		return 0, &unit.RangeError{Name: "mass", Got: m.Kilograms(), Low: 0, High: math.MaxFloat64, Unit: "kg"}
	}
	if !(0 <= grip && grip <= 2) {
		return 0, &unit.RangeError{Name: "grip", Got: float64(grip), Low: 0, High: 2}
	}
	if !(0 <= share && share <= 1) {
		return 0, &unit.RangeError{Name: "share", Got: float64(share), Low: 0, High: 1}
	}
	if !(0 <= down && down.Degrees() <= 90) {
		return 0, &unit.RangeError{Name: "slope", Got: down.Degrees(), Low: 0, High: 90, Unit: "deg"}
	}
	left := max(0, float64(grip)*down.Cos()-down.Sin())
	return unit.Weight(m).Scale(left * float64(share)), nil
}

// Shared returns what anchors hold together: one counts, the weakest, unless
// the line runs free between them so that they must share evenly; then two do.
//
// Errors: *unit.RangeError if there is none.
//
// Source: common practice; BC Forest Safety reports a tower lost when two of
// three stumps took uneven shares.
func Shared(holds []unit.Force, equalised bool) (unit.Force, error) {
	if len(holds) == 0 {
		return 0, &unit.RangeError{Name: "anchors", Got: 0, Low: 1, High: math.MaxInt32}
	}
	count, _ := handbook.PartsThatCount(equalised)
	return slices.Min(holds).Scale(float64(min(count, len(holds)))), nil
}

func over(f unit.Force, factor bound.Ratio) (unit.Force, error) {
	if !(factor >= 1) {
		return 0, &unit.RangeError{Name: "factor", Got: float64(factor), Low: 1, High: math.MaxFloat64}
	}
	return f.Scale(1 / float64(factor)), nil
}
