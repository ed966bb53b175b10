// Package puller finds what a machine, a winch or people can give where they
// stand: the least of grip, rating, hitch and tipping, and apart from it the
// most that nothing but their own limits stops.
//
// The least tells whether the load will move. The most tells what breaks when
// a wheel meets a stone.
package puller

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// A Stand is a machine on its ground. Way is the slope in the direction it
// pulls, positive where it climbs.
type Stand struct {
	Mass    bound.Of[unit.Mass]
	Way     bound.Of[unit.Angle]
	Driven  bound.Of[bound.Ratio] // share of the weight on driven wheels or tracks
	Grip    bound.Of[bound.Ratio] // pull over driven weight
	Rolling bound.Of[bound.Ratio] // of its own wheels
}

func (s Stand) check() error {
	if !(s.Mass.Ordered() && s.Mass.Low > 0) {
		return &unit.RangeError{Name: "mass", Got: s.Mass.Low.Kilograms(), Low: 0, High: math.Inf(1), Unit: "kg"}
	}
	if !(s.Way.Ordered() && s.Way.Low.Degrees() >= -90 && s.Way.High.Degrees() <= 90) {
		return &unit.RangeError{Name: "way", Got: s.Way.High.Degrees(), Low: -90, High: 90, Unit: "deg"}
	}
	for _, r := range []struct {
		name string
		v    bound.Of[bound.Ratio]
		most bound.Ratio
	}{{"driven share", s.Driven, 1}, {"grip", s.Grip, 2}, {"rolling", s.Rolling, 2}} {
		if !(r.v.Ordered() && r.v.Low >= 0 && r.v.High <= r.most) {
			return &unit.RangeError{Name: r.name, Got: float64(r.v.High), Low: 0, High: float64(r.most)}
		}
	}
	return nil
}

// Traction returns the pull that the driven wheels can pass to the ground,
// less what its own wheels and its own grade take. It is never below zero: a
// machine that can't hold itself pulls nothing.
//
// Errors: *unit.RangeError if a range of s is not ordered or out of reason.
//
// Source: derived, µ N driven − c N − W sin θ, N = W cos θ.
func Traction(s Stand) (bound.Of[unit.Force], error) {
	if err := s.check(); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	k := func(grip, driven, rolling bound.Ratio) float64 { return float64(grip*driven - rolling) }
	share := func(k float64, way unit.Angle) float64 { return k*way.Cos() - way.Sin() }
	worst, most := math.Inf(1), math.Inf(-1)
	for _, k := range []float64{
		k(s.Grip.Low, s.Driven.Low, s.Rolling.High),
		k(s.Grip.High, s.Driven.High, s.Rolling.Low),
	} {
		ways := []unit.Angle{s.Way.Low, s.Way.High}
		if crest := unit.Radians(math.Atan2(-1, k)); s.Way.Low < crest && crest < s.Way.High {
			ways = append(ways, crest)
		}
		for _, way := range ways {
			worst, most = min(worst, share(k, way)), max(most, share(k, way))
		}
	}
	best := share(k(s.Grip.Best, s.Driven.Best, s.Rolling.Best), s.Way.Best)
	at := func(share float64, m unit.Mass) unit.Force { return max(0, unit.Weight(m).Scale(share)) }
	return bound.Of[unit.Force]{
		Low:  at(worst, s.Mass.Low),
		Best: at(best, s.Mass.Best),
		High: at(most, s.Mass.High),
	}, nil
}

// Most returns the greatest pull that grip can ever give: its high end on the
// whole weight, and the machine's own weight where it may head downhill. A
// climb is not taken off (judgment: errs high).
//
// Errors as [Traction].
func Most(s Stand) (unit.Force, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	w := unit.Weight(s.Mass.High)
	flattest := 1.0
	if s.Way.Low > 0 || s.Way.High < 0 {
		flattest = max(s.Way.Low.Cos(), s.Way.High.Cos())
	}
	down := max(0, -s.Way.Low.Sin())
	return w.Scale(float64(s.Grip.High)*flattest + down), nil
}

// Braked returns what a machine that stands with all brakes on can hold
// without sliding, as an anchor or under its own winch.
//
// Errors as [Traction].
func Braked(s Stand) (bound.Of[unit.Force], error) {
	s.Driven, s.Rolling = bound.Exactly(bound.Ratio(1)), bound.Exactly(bound.Ratio(0))
	return Traction(s)
}

// A Frame is a wheeled machine seen from the side.
type Frame struct {
	Mass       bound.Of[unit.Mass]
	Way        bound.Of[unit.Angle]
	FrontShare bound.Of[bound.Ratio] // of its weight on the front axle, on level ground
	Wheelbase  bound.Of[unit.Length]
	CGHeight   bound.Of[unit.Length]
	Hitch      bound.Of[unit.Length] // height above the ground
}

// Tipping returns the pull at the hitch that would lift the front wheels. A
// downhill way is not credited. It leaves out the turning moment of the
// wheels, so it may only ever say no: a hitch above the axle is refused
// whatever it says.
//
// Errors: *unit.RangeError if a range is not ordered or a length not positive.
//
// Source: derived, moments about the rear wheels' contact:
// W (share · wheelbase · cos θ − h sin θ) / hitch height.
func Tipping(f Frame) (bound.Of[unit.Force], error) {
	for _, l := range []struct {
		name string
		v    bound.Of[unit.Length]
	}{{"wheelbase", f.Wheelbase}, {"centre of gravity's height", f.CGHeight}, {"hitch height", f.Hitch}} {
		if !(l.v.Ordered() && l.v.Low > 0) {
			return bound.Of[unit.Force]{}, &unit.RangeError{Name: l.name, Got: l.v.Low.Metres(), Low: 0, High: math.Inf(1), Unit: "m"}
		}
	}
	s := Stand{Mass: f.Mass, Way: f.Way, Driven: f.FrontShare}
	if err := s.check(); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	pull := func(m unit.Mass, way unit.Angle, share bound.Ratio, base, cg, hitch unit.Length) unit.Force {
		arm := base.Scale(float64(share)*way.Cos()) - cg.Scale(max(0, way.Sin()))
		return max(0, unit.Weight(m).Scale(float64(arm)/float64(hitch)))
	}
	// Level is kindest: a climb takes the front's weight off, and of a way down only
	// the lesser press of the front is counted.
	flattest := max(f.Way.Low, min(f.Way.High, 0))
	weakest := func(way unit.Angle) unit.Force {
		return pull(f.Mass.Low, way, f.FrontShare.Low, f.Wheelbase.Low, f.CGHeight.High, f.Hitch.High)
	}
	return bound.Of[unit.Force]{
		Low:  min(weakest(f.Way.Low), weakest(f.Way.High)),
		Best: pull(f.Mass.Best, f.Way.Best, f.FrontShare.Best, f.Wheelbase.Best, f.CGHeight.Best, f.Hitch.Best),
		High: pull(f.Mass.High, flattest, f.FrontShare.High, f.Wheelbase.High, f.CGHeight.Low, f.Hitch.Low),
	}, nil
}

// Winch returns the pull of a winch with rating on the bare drum when so much
// of it is left at the drum's layer.
//
// Errors: *unit.RangeError if rating is not ordered or negative, or left is not
// in (0, 1].
func Winch(rating bound.Of[unit.Force], left bound.Of[bound.Ratio]) (bound.Of[unit.Force], error) {
	if err := force("rating", rating); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	if !(left.Ordered() && left.Low > 0 && left.High <= 1) {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "share left at the layer", Got: float64(left.Low), Low: 0, High: 1}
	}
	return bound.Of[unit.Force]{
		Low:  rating.Low.Scale(float64(left.Low)),
		Best: rating.Best.Scale(float64(left.Best)),
		High: rating.High.Scale(float64(left.High)),
	}, nil
}

// People returns what n people pull along a level rope, each giving one.
//
// Errors: *unit.RangeError if n is under 1, or one is not ordered or negative.
func People(n int, one bound.Of[unit.Force]) (bound.Of[unit.Force], error) {
	if err := force("one person's pull", one); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	if n < 1 {
		return bound.Of[unit.Force]{}, &unit.RangeError{Name: "people", Got: float64(n), Low: 1, High: math.Inf(1)}
	}
	return one.Scale(float64(n)), nil
}

func force(name string, f bound.Of[unit.Force]) error {
	if !(f.Ordered() && f.Low >= 0) {
		return &unit.RangeError{Name: name, Got: f.Low.Newtons(), Low: 0, High: math.MaxFloat64, Unit: "N"}
	}
	return nil
}
