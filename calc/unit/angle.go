package unit

import "math"

// Angle is an angle in radians. A slope is an angle from level, positive uphill.
type Angle float64

// Radians returns the angle of that many radians.
func Radians(rad float64) Angle { return Angle(rad) }

// Degrees returns the angle of that many degrees, 360 to the turn.
func Degrees(deg float64) Angle { return Angle(deg * radiansPerDegree) }

// Percent returns the slope of a grade in per cent: rise over level run, times
// 100. A grade of 100 % is 45°, and no grade reaches 90°.
func Percent(grade float64) Angle { return Angle(math.Atan(grade / 100)) }

// Rise returns the slope that gains rise over a level run: what a level held
// horizontal shows, with the gap under its low end. It is the arc tangent.
//
// For a positive run. A run of zero is a vertical face, and both zero is no
// slope at all: the result is then not a number.
func Rise(rise, run Length) Angle { return Angle(math.Atan(float64(rise) / float64(run))) }

// Incline returns the slope of a board lying on the ground whose ends differ in
// height by rise. It is the arc sine: a board shows a steeper slope than a
// level run of its length with the same figures (3 in 10 is 17.5°, not 16.7°).
//
// Errors: *RangeError if board is not positive and finite, or rise is outside
// plus or minus board.
func Incline(rise, board Length) (Angle, error) {
	if !(board > 0 && float64(board) <= math.MaxFloat64) {
		return 0, &RangeError{Name: "board", Got: float64(board), Low: 0, High: math.MaxFloat64, Unit: "m"}
	}
	if !(-board <= rise && rise <= board) {
		return 0, &RangeError{Name: "rise", Got: float64(rise), Low: -float64(board), High: float64(board), Unit: "m"}
	}
	return Angle(math.Asin(float64(rise) / float64(board))), nil
}

// Radians returns a in radians.
func (a Angle) Radians() float64 { return float64(a) }

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a) / radiansPerDegree }

// Percent returns the slope a as a grade in per cent.
//
// For slopes within 90° either way; beyond, the tangent repeats.
func (a Angle) Percent() float64 { return 100 * math.Tan(float64(a)) }

// Sin returns the sine of a: the share of a weight that acts along the slope.
func (a Angle) Sin() float64 { return math.Sin(float64(a)) }

// Cos returns the cosine of a: the share of a weight that presses on the slope.
func (a Angle) Cos() float64 { return math.Cos(float64(a)) }

// Tan returns the tangent of a: rise over level run.
func (a Angle) Tan() float64 { return math.Tan(float64(a)) }

// Scale returns a multiplied by the pure number k.
func (a Angle) Scale(k float64) Angle { return Angle(float64(a) * k) }
