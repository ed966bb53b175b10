// Package resistance adds up what a load opposes to being moved: its grade,
// its free wheels, what drags, the mire and a step.
//
// The sum is
//
//	grade + max(rolling + drag, mire) + lip
//
// with grade = W sin θ, rolling = c N (1 − locked), drag = µ N (locked + belly),
// mire = k W, lip = share N √(2rh − h²)/(r − h), W = m g and N = W cos θ. Mire
// and rolling are not added: the manuals' depth rule is the resistance of the
// stuck vehicle whole. A hung belly drags as well as the wheels; the weight it
// takes off them is not credited (judgment: errs high). A wheel that does not turn
// takes more at a step than one that does, and its lip grows by that: see [Step].
//
// Sources: derived, free body of the load along its way; mire by the depth
// rule of the US Army recovery manuals (63B34G01 practical-exercise sheet).
package resistance

import (
	"math"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Load is what resists, each a range. Way is the slope along the line of
// travel, positive where it climbs and negative where it falls.
type Load struct {
	Mass    bound.Of[unit.Mass]
	Way     bound.Of[unit.Angle]
	Rolling bound.Of[bound.Ratio] // of free wheels
	Sliding bound.Of[bound.Ratio] // of what drags
	Locked  bound.Of[bound.Ratio] // share of the weight on wheels that will not turn
	Belly   bound.Of[bound.Ratio] // share of the weight that drags on the frame as well
	Mire    bound.Of[bound.Ratio] // of the weight, 0 when not sunk
	Step    bound.Of[bound.Ratio] // of the weight: see Step
}

// Sum is the resistance by cause and in all.
type Sum struct {
	Grade, Rolling, Drag, Mire, Lip, Total bound.Of[unit.Force]
}

// corner is one choice of everything but mass and way, per unit of weight.
type corner struct{ rolling, drag, mire, lip float64 }

func (c corner) total(way float64) float64 {
	return math.Sin(way) + max((c.rolling+c.drag)*math.Cos(way), c.mire) + c.lip*math.Cos(way)
}

// turns are the ways between the ends where the total may have an inner
// extreme: level, the two crests of sin θ + k cos θ, and where the mire takes
// over from friction.
func (c corner) turns() [5]float64 {
	k := c.rolling + c.drag
	meet := math.Acos(min(1, c.mire/max(k, c.mire, 1e-12)))
	return [5]float64{0, math.Atan2(1, k+c.lip), math.Atan2(1, c.lip), meet, -meet}
}

// Of returns the resistance of l. The ends of each range are the extremes
// over the whole box of inputs: the sum is not monotone in the way (it crests
// where tan θ = 1/µ), so its inner turning points are tried too.
//
// Errors: *unit.RangeError if a range of l is not ordered, the mass is not
// positive or the way is steeper than 90°.
func Of(l Load) (Sum, error) {
	if err := l.check(); err != nil {
		return Sum{}, err
	}
	worst, least := math.Inf(-1), math.Inf(1)
	ends := [2]float64{float64(l.Way.Low), float64(l.Way.High)}
	for bits := range 1 << 6 {
		pick := func(i int, r bound.Of[bound.Ratio]) float64 {
			if bits>>i&1 == 0 {
				return float64(r.Low)
			}
			return float64(r.High)
		}
		locked := pick(2, l.Locked)
		slide := pick(1, l.Sliding)
		c := corner{
			rolling: pick(0, l.Rolling) * (1 - locked),
			drag:    slide * (locked + pick(3, l.Belly)),
			mire:    pick(4, l.Mire),
			lip:     pick(5, l.Step),
		}
		try := func(way float64) {
			t := c.total(way)
			worst, least = max(worst, t), min(least, t)
		}
		try(ends[0])
		try(ends[1])
		for _, t := range c.turns() {
			if ends[0] < t && t < ends[1] {
				try(t)
			}
		}
	}
	best := corner{
		rolling: float64(l.Rolling.Best) * (1 - float64(l.Locked.Best)),
		drag:    float64(l.Sliding.Best) * (float64(l.Locked.Best) + float64(l.Belly.Best)),
		mire:    float64(l.Mire.Best),
		lip:     float64(l.Step.Best),
	}
	cos := cosine(l.Way)
	free := bound.Of[bound.Ratio]{Low: 1 - l.Locked.High, Best: 1 - l.Locked.Best, High: 1 - l.Locked.Low}
	dragging := bound.Of[bound.Ratio]{Low: l.Locked.Low + l.Belly.Low, Best: l.Locked.Best + l.Belly.Best, High: l.Locked.High + l.Belly.High}
	one := bound.Exactly(bound.Ratio(1))
	return Sum{
		Grade:   weighed(l.Mass, math.Sin(float64(l.Way.Low)), math.Sin(float64(l.Way.Best)), math.Sin(float64(l.Way.High))),
		Rolling: product(l.Mass, l.Rolling, free, cos),
		Drag:    product(l.Mass, l.Sliding, dragging, cos),
		Mire:    product(l.Mass, l.Mire, one, one),
		Lip:     product(l.Mass, l.Step, one, cos),
		Total:   weighed(l.Mass, least, best.total(float64(l.Way.Best)), worst),
	}, nil
}

// cosine returns the range of cos over a way that may pass through level.
func cosine(way bound.Of[unit.Angle]) bound.Of[bound.Ratio] {
	high := max(way.Low.Cos(), way.High.Cos())
	if way.Low < 0 && way.High > 0 {
		high = 1
	}
	return bound.Of[bound.Ratio]{
		Low:  bound.Ratio(min(way.Low.Cos(), way.High.Cos())),
		Best: bound.Ratio(way.Best.Cos()),
		High: bound.Ratio(high),
	}
}

// weighed multiplies a share of the weight by the weight; a negative share is
// at its least with the most mass.
func weighed(m bound.Of[unit.Mass], low, best, high float64) bound.Of[unit.Force] {
	end := func(share float64, whenPositive, whenNegative unit.Mass) unit.Force {
		if share < 0 {
			return unit.Weight(whenNegative).Scale(share)
		}
		return unit.Weight(whenPositive).Scale(share)
	}
	return bound.Of[unit.Force]{
		Low:  end(low, m.Low, m.High),
		Best: unit.Weight(m.Best).Scale(best),
		High: end(high, m.High, m.Low),
	}
}

// product multiplies a weight by three shares that are not negative.
func product(m bound.Of[unit.Mass], a, b, c bound.Of[bound.Ratio]) bound.Of[unit.Force] {
	return weighed(m, float64(a.Low*b.Low*c.Low), float64(a.Best*b.Best*c.Best), float64(a.High*b.High*c.High))
}

func (l Load) check() error {
	if !(l.Mass.Ordered() && l.Mass.Low > 0) {
		return &unit.RangeError{Name: "mass", Got: l.Mass.Low.Kilograms(), Low: 0, High: math.Inf(1), Unit: "kg"}
	}
	if !(l.Way.Ordered() && l.Way.Low.Degrees() >= -90 && l.Way.High.Degrees() <= 90) {
		return &unit.RangeError{Name: "way", Got: l.Way.High.Degrees(), Low: -90, High: 90, Unit: "deg"}
	}
	for _, s := range []struct {
		name string
		r    bound.Of[bound.Ratio]
		most bound.Ratio
	}{
		{"rolling", l.Rolling, 10}, {"sliding", l.Sliding, 10}, {"locked", l.Locked, 1},
		{"belly", l.Belly, 1}, {"mire", l.Mire, 10}, {"step", l.Step, math.MaxFloat64},
	} {
		if !(s.r.Ordered() && s.r.Low >= 0 && s.r.High <= s.most) {
			return &unit.RangeError{Name: s.name, Got: float64(s.r.High), Low: 0, High: float64(s.most)}
		}
	}
	return nil
}
