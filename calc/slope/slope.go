// Package slope resolves a weight on a slope into the pull along the fall
// line and the load on the ground.
//
// Both are exact. The recovery manuals' rule, a sixtieth of the weight for
// each degree, is [Sixtieth]; it stands beside the exact value and never in
// its place: it reads 4.5 % low near level, is right at 30° and 6 % high at 45°.
package slope

import (
	"math"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// steepest is the end of what this package is valid for.
var steepest = unit.Degrees(90)

// Pull returns the component of weight acting down the fall line, positive
// downhill. Rolling and mire resistance are not included.
//
// Valid for grades from -90° to 90°, negative where the line of travel falls;
// rigid body, no acceleration.
// Errors: *unit.RangeError if m is not positive and finite, or grade is out of range.
//
// Source: derived, equilibrium along the slope: W sin θ.
func Pull(m unit.Mass, grade unit.Angle) (unit.Force, error) {
	if err := domain(m, grade); err != nil {
		return 0, err
	}
	return unit.Weight(m).Scale(grade.Sin()), nil
}

// Normal returns the load that weight puts on the ground, square to it.
//
// Validity and errors as [Pull].
//
// Source: derived, equilibrium square to the slope: W cos θ.
func Normal(m unit.Mass, grade unit.Angle) (unit.Force, error) {
	if err := domain(m, grade); err != nil {
		return 0, err
	}
	return unit.Weight(m).Scale(grade.Cos()), nil
}

// Sixtieth returns the manuals' estimate of [Pull], a sixtieth of the weight
// for each degree up to 45° and the whole weight beyond.
//
// Errors as [Pull].
//
// Source: Commonwealth recovery practice, from memory.
func Sixtieth(m unit.Mass, grade unit.Angle) (unit.Force, error) {
	if err := domain(m, grade); err != nil {
		return 0, err
	}
	divisor, _ := handbook.GradeRule()
	end, _ := handbook.GradeRuleEnd()
	share := float64(grade / divisor)
	if grade < -end || grade > end {
		share = math.Copysign(1, share)
	}
	return unit.Weight(m).Scale(share), nil
}

func domain(m unit.Mass, grade unit.Angle) error {
	if !(m > 0 && !math.IsInf(m.Kilograms(), 0)) {
		return &unit.RangeError{Name: "mass", Got: m.Kilograms(), Low: 0, High: math.Inf(1), Unit: "kg"}
	}
	if !(-steepest <= grade && grade <= steepest) {
		return &unit.RangeError{Name: "grade", Got: grade.Degrees(), Low: -90, High: 90, Unit: "deg"}
	}
	return nil
}
