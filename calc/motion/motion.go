// Package motion finds how far the haul line travels and how much rope it
// takes, what the holding line carries, and what energy lies in a tight line.
package motion

import (
	"cmp"
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Travel returns how far the haul line comes out while the load goes distance
// with parts parts.
//
// Errors: *unit.RangeError if parts is under 1, or distance is not ordered or negative.
//
// Source: derived, the rope does not stretch: each part shortens by distance.
func Travel(distance bound.Of[unit.Length], parts int) (bound.Of[unit.Length], error) {
	if parts < 1 {
		return bound.Of[unit.Length]{}, &unit.RangeError{Name: "parts", Got: float64(parts), Low: 1, High: math.Inf(1)}
	}
	if err := long("distance", distance); err != nil {
		return bound.Of[unit.Length]{}, err
	}
	return distance.Scale(float64(parts)), nil
}

func long(name string, l bound.Of[unit.Length]) error {
	if !(l.Ordered() && l.Low >= 0) {
		return &unit.RangeError{Name: name, Got: l.Low.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	return nil
}

// MostBites caps [Bites]: past it the room is no room.
const MostBites = 1_000_000

// Bites returns in how many goes the puller covers travel when it has room
// for run each time.
//
// Errors: *unit.RangeError if travel is negative, run is not positive or there
// would be more than MostBites.
func Bites(travel, run unit.Length) (int, error) {
	if !(travel >= 0) {
		return 0, &unit.RangeError{Name: "travel", Got: travel.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	if !(run > 0) {
		return 0, &unit.RangeError{Name: "run", Got: run.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	n := math.Ceil(float64(travel)/float64(run) - 1e-9)
	if !(n <= MostBites) {
		return 0, &unit.RangeError{Name: "bites", Got: n, Low: 1, High: MostBites}
	}
	return max(1, int(n)), nil
}

// Rope returns the rope needed: every part at full reach and the lead, with a
// share more and a tail.
//
// Errors: *unit.RangeError if parts is under 1, a length is not ordered or is
// negative, or more is under 1.
func Rope(parts int, reach, lead bound.Of[unit.Length], more bound.Ratio, tail unit.Length) (bound.Of[unit.Length], error) {
	if parts < 1 {
		return bound.Of[unit.Length]{}, &unit.RangeError{Name: "parts", Got: float64(parts), Low: 1, High: math.Inf(1)}
	}
	if err := cmp.Or(long("reach", reach), long("lead", lead), long("tail", bound.Exactly(tail))); err != nil {
		return bound.Of[unit.Length]{}, err
	}
	if !(more >= 1) {
		return bound.Of[unit.Length]{}, &unit.RangeError{Name: "share more", Got: float64(more), Low: 1, High: math.MaxFloat64}
	}
	need := func(reach, lead unit.Length) unit.Length {
		return (reach.Scale(float64(parts)) + lead).Scale(float64(more)) + tail
	}
	return bound.Of[unit.Length]{
		Low: need(reach.Low, lead.Low), Best: need(reach.Best, lead.Best), High: need(reach.High, lead.High),
	}, nil
}

// A Line is a rope under load: Stiffness is EA, the force that would stretch
// it to twice its length if it stayed linear.
type Line struct {
	Stiffness bound.Of[unit.Force]
	Length    bound.Of[unit.Length]
}

func (l Line) check() error {
	if !(l.Stiffness.Ordered() && l.Stiffness.Low > 0) {
		return &unit.RangeError{Name: "stiffness", Got: l.Stiffness.Low.Newtons(), Low: 0, High: math.Inf(1), Unit: "N"}
	}
	if !(l.Length.Ordered() && l.Length.Low > 0) {
		return &unit.RangeError{Name: "length", Got: l.Length.Low.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	return nil
}

// Stiffness returns EA of a rope that breaks at breaking with so much strain.
//
// Errors: *unit.RangeError if breaking is not positive or strain is not over 0.
//
// Source: derived, linear to the break; real rope is stiffer near its break,
// which the range of strains spans.
func Stiffness(breaking bound.Of[unit.Force], strain bound.Of[bound.Ratio]) (bound.Of[unit.Force], error) {
	if !(breaking.Ordered() && breaking.Low > 0) {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "breaking strength", Got: breaking.Low.Newtons(), Low: 0, High: math.Inf(1), Unit: "N"}
	}
	if !(strain.Ordered() && strain.Low > 0) {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "stretch at break", Got: float64(strain.Low), Low: 0, High: 1}
	}
	return bound.Of[unit.Force]{
		Low:  breaking.Low.Scale(1 / float64(strain.High)),
		Best: breaking.Best.Scale(1 / float64(strain.Best)),
		High: breaking.High.Scale(1 / float64(strain.Low)),
	}, nil
}

// Stored returns the energy in a line of tension t, and how far it is
// stretched.
//
// Errors: *unit.RangeError if the line's stiffness or length is not positive, or
// t is negative.
//
// Source: derived, T² L / (2 EA).
func Stored(t bound.Of[unit.Force], l Line) (bound.Of[unit.Energy], bound.Of[unit.Length], error) {
	if err := l.check(); err != nil {
		return bound.Of[unit.Energy]{}, bound.Of[unit.Length]{}, err
	}
	if !(t.Ordered() && t.Low >= 0) {
		return bound.Of[unit.Energy]{}, bound.Of[unit.Length]{}, &unit.RangeError{Name: "tension", Got: t.Low.Newtons(), Low: 0, High: math.Inf(1), Unit: "N"}
	}
	stretch := func(t unit.Force, long unit.Length, ea unit.Force) unit.Length {
		return long.Scale(float64(t) / float64(ea))
	}
	energy := func(t unit.Force, s unit.Length) unit.Energy { return unit.Joules(t.Newtons() * s.Metres() / 2) }
	s := bound.Of[unit.Length]{
		Low:  stretch(t.Low, l.Length.Low, l.Stiffness.High),
		Best: stretch(t.Best, l.Length.Best, l.Stiffness.Best),
		High: stretch(t.High, l.Length.High, l.Stiffness.Low),
	}
	return bound.Of[unit.Energy]{
		Low: energy(t.Low, s.Low), Best: energy(t.Best, s.Best), High: energy(t.High, s.High),
	}, s, nil
}

// Arrest returns the peak in a holding line that catches a load which has run
// up slack, when static is what it carries at rest. Rolling resistance is not
// credited, nor is slip round the post.
//
// Errors: *unit.RangeError if the line's stiffness or length is not positive, or slack or static is negative.
//
// Source: derived, energy: S (s + δ) = EA δ²/(2 L), so T = S + √(S² + 2 S s EA/L).
func Arrest(static bound.Of[unit.Force], slack unit.Length, l Line) (bound.Of[unit.Force], error) {
	if err := l.check(); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	if !(0 <= slack && slack.Metres() <= math.MaxFloat64) {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "slack", Got: slack.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
	}
	if !(static.Ordered() && static.Low >= 0) {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "static force", Got: static.Low.Newtons(), Low: 0, High: math.Inf(1), Unit: "N"}
	}
	peak := func(s, ea unit.Force, long unit.Length) unit.Force {
		st := s.Newtons()
		return unit.Newtons(st + math.Sqrt(st*st+2*st*slack.Metres()*ea.Newtons()/long.Metres()))
	}
	return bound.Of[unit.Force]{
		Low:  peak(static.Low, l.Stiffness.Low, l.Length.High),
		Best: peak(static.Best, l.Stiffness.Best, l.Length.Best),
		High: peak(static.High, l.Stiffness.High, l.Length.Low),
	}, nil
}

// ClearDistance returns how far everyone stands off: a multiple of the
// longest tensioned span, the whole line where it turns at a block or has a
// stretchy piece, and never less than least.
func ClearDistance(span, whole unit.Length, spans bound.Ratio, recoils bool, least unit.Length) unit.Length {
	clear := max(least, span.Scale(float64(spans)))
	if recoils {
		clear = max(clear, whole)
	}
	return clear
}
