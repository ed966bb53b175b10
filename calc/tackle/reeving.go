// Package tackle finds what each part of a rove tackle carries, with the
// friction of its sheaves.
//
// A sheave of efficiency η passes on η of the tension that comes to it. So
// from the haul line on, tension falls by η at every sheave to the dead end:
//
//	haul from the standing block, n parts, n sheaves:     F = T (η + η² + … + ηⁿ)
//	haul from the moving block,   n parts, n − 1 sheaves: F = T (1 + η + … + ηⁿ⁻¹)
//
// Only parts that pull on the moving block help. A block that does not travel
// with the load only turns the rope.
//
// Sources: derived, equilibrium of the moving block; the same sum is printed
// as MA = E (1 − Eⁿ)/(1 − E) in the Pipeline Rules of Thumb Handbook, p. 6.
// The US manuals' rule of ten per cent of the load for each sheave is [Manual].
package tackle

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Haul says which block the haul line leaves from.
type Haul int

// Standing is the block on the anchor, Moving the one that travels with the load.
const (
	Standing Haul = iota
	Moving
)

func (h Haul) String() string {
	if h == Moving {
		return "moving"
	}
	return "standing"
}

// A Reeving is how a rope is rove: Parts run to the moving block, the haul
// line leaves from From.
type Reeving struct {
	Parts int
	From  Haul
}

// MostParts is the end of what this package is valid for.
const MostParts = 64

func (r Reeving) check() error {
	if r.Parts < 1 || r.Parts > MostParts {
		return &unit.RangeError{Name: "parts", Got: float64(r.Parts), Low: 1, High: MostParts}
	}
	return nil
}

// Sheaves returns how many sheaves the rope passes, lead blocks not counted.
func (r Reeving) Sheaves() int { return r.MovingSheaves() + r.StandingSheaves() }

// MovingSheaves returns how many of them travel with the load.
func (r Reeving) MovingSheaves() int { return r.Parts / 2 }

// StandingSheaves returns how many of them are at the anchor.
func (r Reeving) StandingSheaves() int {
	if r.From == Moving {
		return (r.Parts - 1) / 2
	}
	return (r.Parts + 1) / 2
}

// DeadEndStands reports whether the rope's dead end is made fast at the
// anchor rather than at the moving block.
func (r Reeving) DeadEndStands() bool { return r.Parts%2 == 0 }

// Straight reports whether there is no tackle at all: one part, hauled from
// the load.
func (r Reeving) Straight() bool { return r.Parts == 1 && r.From == Moving }

// gain is the sum of the parts' tensions for a haul tension of one.
func (r Reeving) gain(eta float64) float64 {
	sum, t := 0.0, 1.0
	if r.From == Standing {
		t = eta
	}
	for range r.Parts {
		sum += t
		t *= eta
	}
	return sum
}

// held is the same for a load that is held and about to run back, when every
// sheave works the other way.
func (r Reeving) held(eta float64) float64 { return r.gain(1 / eta) }

func efficiency(eta bound.Of[bound.Ratio]) error {
	if !(eta.Ordered() && eta.Low > 0 && eta.High <= 1) {
		return &unit.RangeError{Name: "sheave efficiency", Got: float64(eta.Low), Low: 0, High: 1}
	}
	return nil
}

// pull refuses a force that no rope can have: a rope does not push.
func pull(f bound.Of[unit.Force]) error {
	if !(f.Ordered() && f.Low >= 0) {
		return &unit.RangeError{Name: "force", Got: f.Low.Newtons(), Low: 0, High: math.MaxFloat64, Unit: "N"}
	}
	return nil
}

// Advantage returns the force on the load for each unit of haul tension at
// the tackle.
//
// Errors: *unit.RangeError if r has no part or more than MostParts, or eta is not in (0, 1].
func Advantage(r Reeving, eta bound.Of[bound.Ratio]) (bound.Of[bound.Ratio], error) {
	if err := r.check(); err != nil {
		return bound.Of[bound.Ratio]{}, err
	}
	if err := efficiency(eta); err != nil {
		return bound.Of[bound.Ratio]{}, err
	}
	return bound.Of[bound.Ratio]{
		Low:  bound.Ratio(r.gain(float64(eta.Low))),
		Best: bound.Ratio(r.gain(float64(eta.Best))),
		High: bound.Ratio(r.gain(float64(eta.High))),
	}, nil
}

// Tensions returns what the rope carries from the haul line to the dead end
// while it hauls force f, for one efficiency. From the standing block the
// first entry is the haul line, which does not pull on the load; from the
// moving block it is the haul line, which does.
//
// Errors as [Advantage].
func Tensions(r Reeving, f unit.Force, eta bound.Ratio) ([]unit.Force, error) {
	a, err := Advantage(r, bound.Exactly(eta))
	if err != nil {
		return nil, err
	}
	n := r.Parts
	if r.From == Standing {
		n++
	}
	t := make([]unit.Force, n)
	t[0] = f.Scale(1 / float64(a.Best))
	for i := 1; i < n; i++ {
		t[i] = t[i-1].Scale(float64(eta))
	}
	return t, nil
}

// HeldDeadEnd returns what the dead end carries while force f is held and the
// sheaves' friction helps to hold: it is then the most loaded part.
//
// Errors as [Advantage].
func HeldDeadEnd(r Reeving, f unit.Force, eta bound.Ratio) (unit.Force, error) {
	if _, err := Advantage(r, bound.Exactly(eta)); err != nil {
		return 0, err
	}
	haul := 1 / r.held(float64(eta))
	return f.Scale(haul * math.Pow(1/float64(eta), float64(r.Sheaves()))), nil
}

// Held returns the force that is held over what the haul line carries then: the
// sheaves' friction helps to hold, so it is more than the gain of hauling. Eta must be
// one that [Advantage] takes.
func Held(r Reeving, eta bound.Ratio) bound.Ratio { return bound.Ratio(r.held(float64(eta))) }

// Anchor returns what the standing block's anchor carries while the tackle
// hauls force f, or holds it: the parts and the haul line when that leaves the
// standing block, the parts but the haul line when it leaves the moving block.
//
// Hauled, it is most with poor sheaves from the standing block and with good ones from
// the moving block, so both ends of eta are tried. Held, the haul line carries less: that
// leaves the anchor more from the moving block, and most with poor sheaves.
// Errors as [Advantage], and if f is not ordered or negative.
func Anchor(r Reeving, f bound.Of[unit.Force], eta bound.Of[bound.Ratio]) (bound.Of[unit.Force], error) {
	a, err := Advantage(r, eta)
	if err != nil {
		return bound.Of[unit.Force]{}, err
	}
	if err := pull(f); err != nil {
		return bound.Of[unit.Force]{}, err
	}
	k := func(gain bound.Ratio) float64 {
		if r.From == Moving {
			return 1 - 1/float64(gain)
		}
		return 1 + 1/float64(gain)
	}
	low, high := k(a.Low), k(a.High)
	most := max(low, high)
	if r.From == Moving { // held, friction takes from the haul line what the anchor then carries
		most = max(most, k(Held(r, eta.Low)))
	}
	return bound.Of[unit.Force]{
		Low:  f.Low.Scale(min(low, high)),
		Best: f.Best.Scale(k(a.Best)),
		High: f.High.Scale(most),
	}, nil
}

// Ceiling returns the most that any number of parts can gain, the limit of
// [Advantage] for endless parts.
//
// Errors: *unit.RangeError if eta is not in (0, 1).
func Ceiling(from Haul, eta bound.Ratio) (bound.Ratio, error) {
	if !(0 < eta && eta < 1) {
		return 0, &unit.RangeError{Name: "sheave efficiency", Got: float64(eta), Low: 0, High: 1}
	}
	if from == Standing {
		return eta / (1 - eta), nil
	}
	return 1 / (1 - eta), nil
}
