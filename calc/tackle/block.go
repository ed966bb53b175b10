package tackle

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Lead returns the haul tension beyond blocks lead blocks, each of which only
// turns the rope and takes its friction.
//
// Errors: *unit.RangeError if t is not ordered or negative, blocks is negative or
// over MostParts, or eta is not in (0, 1].
func Lead(t bound.Of[unit.Force], blocks int, eta bound.Of[bound.Ratio]) (bound.Of[unit.Force], error) {
	if blocks < 0 || blocks > MostParts {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "lead blocks", Got: float64(blocks), Low: 0, High: MostParts}
	}
	if err := efficiency(eta); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	if err := pull(t); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	lose := func(e bound.Ratio) float64 { return math.Pow(float64(e), -float64(blocks)) }
	return bound.Of[unit.Force]{
		Low:  t.Low.Scale(lose(eta.High)),
		Best: t.Best.Scale(lose(eta.Best)),
		High: t.High.Scale(lose(eta.Low)),
	}, nil
}

// BlockLoad returns what a block and its strop carry when a rope of tension t
// turns in it, with inside angle between its two lines: 0 is doubled back.
//
// Errors: *unit.RangeError if the angle is not from 0 to 180°.
//
// Source: derived, vector sum of the two lines, 2 T cos(angle/2).
func BlockLoad(t unit.Force, angle unit.Angle) (unit.Force, error) {
	if !(0 <= angle && angle.Degrees() <= 180) {
		return 0, &unit.RangeError{Name: "angle between the lines", Got: angle.Degrees(), Low: 0, High: 180, Unit: "deg"}
	}
	if angle.Degrees() == 180 {
		return 0, nil // the cosine of a right angle, without the noise of the sum
	}
	return t.Scale(2 * angle.Scale(0.5).Cos()), nil
}

// SidePull returns the tension in each half of a rope that is pulled sideways
// at its middle with force f, so that each half leans angle from the straight
// run. It is one tension, the same on both sides: never their sum.
//
// Errors: *unit.RangeError if the angle is not over 0 and up to 90°.
//
// Source: derived, equilibrium at the middle, F = 2 T sin α. Checked against
// OpenStax, College Physics, ch. 4, problem 32.
func SidePull(f unit.Force, angle unit.Angle) (unit.Force, error) {
	if !(0 < angle && angle.Degrees() <= 90) {
		return 0, &unit.RangeError{Name: "angle", Got: angle.Degrees(), Low: 0, High: 90, Unit: "deg"}
	}
	return f.Scale(1 / (2 * angle.Sin())), nil
}

// Manual returns the haul by the US manuals' rule: each sheave adds share of
// the load, and the whole is divided by the advantage without friction.
//
// Errors: *unit.RangeError if parts is under 1, or sheaves or share negative.
//
// Source: NAVEDTRA 14251 Steelworker V2, ch. 6, with a share of 0.1; the US
// Army exercise sheet 63B34G01 has the same.
func Manual(load unit.Force, parts, sheaves int, share bound.Ratio) (haul, friction unit.Force, err error) {
	if parts < 1 {
		return 0, 0, &unit.RangeError{Name: "parts", Got: float64(parts), Low: 1, High: MostParts}
	}
	if sheaves < 0 {
		return 0, 0, &unit.RangeError{Name: "sheaves", Got: float64(sheaves), Low: 0, High: MostParts}
	}
	if !(share >= 0) {
		return 0, 0, &unit.RangeError{Name: "share of the load", Got: float64(share), Low: 0, High: 1}
	}
	friction = load.Scale(float64(share) * float64(sheaves))
	return (load + friction).Scale(1 / float64(parts)), friction, nil
}

// Limit returns the load that a rope of working limit rope may move with a
// tackle, by the manuals' rule turned round: rope × parts × 10/(10 + sheaves).
//
// Errors as [Manual].
//
// Source: NAVEDTRA 14043 Builder 3 & 2.
func Limit(rope unit.Force, parts, sheaves int, share bound.Ratio) (unit.Force, error) {
	haul, _, err := Manual(unit.Newtons(1), parts, sheaves, share)
	if err != nil {
		return 0, err
	}
	return rope.Scale(1 / haul.Newtons()), nil
}

// Turns are how often a rope lies round a post, parts of one among them.
type Turns float64

// Post returns what a rope holds that is laid turns times round a fixed post
// and tended with tension hold, and the ratio of the two.
//
// Errors: *unit.RangeError if turns is not from 0 to 100, friction not from 0 to
// 2, or hold negative or too large to write the result.
//
// Source: derived (the belt equation, e^{µ·angle}).
func Post(turns Turns, friction bound.Ratio, hold unit.Force) (unit.Force, bound.Ratio, error) {
	if !(turns >= 0 && turns <= 100) {
		return 0, 0, &unit.RangeError{Name: "turns", Got: float64(turns), Low: 0, High: 100}
	}
	if !(friction >= 0 && friction <= 2) {
		return 0, 0, &unit.RangeError{Name: "friction", Got: float64(friction), Low: 0, High: 2}
	}
	ratio := math.Exp(float64(friction) * 2 * math.Pi * float64(turns))
	if !(hold >= 0 && ratio*hold.Newtons() <= math.MaxFloat64) {
		return 0, 0, &unit.RangeError{Name: "hold", Got: hold.Newtons(), Low: 0, High: math.MaxFloat64 / ratio, Unit: "N"}
	}
	return hold.Scale(ratio), bound.Ratio(ratio), nil
}
