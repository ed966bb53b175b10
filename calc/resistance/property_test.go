package resistance

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

type (
	ratio = bound.Ratio
	angle = unit.Angle
)

func loads(t *rapid.T) Load {
	return Load{
		Mass: proof.Some[unit.Mass](t, "mass", 1, 2e5), Way: proof.Some[angle](t, "way", -math.Pi/2, math.Pi/2),
		Rolling: proof.Some[ratio](t, "rolling", 0, 0.5), Sliding: proof.Some[ratio](t, "sliding", 0, 1.2),
		Locked: proof.Some[ratio](t, "locked", 0, 1), Belly: proof.Some[ratio](t, "belly", 0, 1),
		Mire: proof.Some[ratio](t, "mire", 0, 3.75), Step: proof.Some[ratio](t, "step", 0, 3),
	}
}

// within draws one load that a range of loads holds.
func within(t *rapid.T, l Load) Load {
	one := func(name string, r bound.Of[ratio]) bound.Of[ratio] { return bound.Exactly(proof.Point(t, name, r)) }
	return Load{
		Mass: bound.Exactly(proof.Point(t, "a mass", l.Mass)), Way: bound.Exactly(proof.Point(t, "a way", l.Way)),
		Rolling: one("a rolling", l.Rolling), Sliding: one("a sliding", l.Sliding), Locked: one("a locked", l.Locked),
		Belly: one("a belly", l.Belly), Mire: one("a mire", l.Mire), Step: one("a step", l.Step),
	}
}

func must(t *rapid.T, l Load) Sum {
	t.Helper()
	s, err := Of(l)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestPointsStayInside: no load inside the ranges resists more or less than they say,
// in all and by each cause.
func TestPointsStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := loads(t)
		all, one := must(t, l), must(t, within(t, l))
		proof.Holds(t, "grade", all.Grade, one.Grade.Best)
		proof.Holds(t, "rolling", all.Rolling, one.Rolling.Best)
		proof.Holds(t, "drag", all.Drag, one.Drag.Best)
		proof.Holds(t, "mire", all.Mire, one.Mire.Best)
		proof.Holds(t, "lip", all.Lip, one.Lip.Best)
		proof.Holds(t, "total", all.Total, one.Total.Best)
	})
}

// TestEndsAreReached: the range of the total is no wider than it must be. A fine walk
// over the box, by the formula written out once more, comes within a hundredth of the
// weight of both ends and never past them.
func TestEndsAreReached(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := loads(t)
		l.Mass = bound.Exactly(unit.Kilograms(1000))
		all := must(t, l)
		least, most := math.Inf(1), math.Inf(-1)
		for bits := range 1 << 6 {
			end := func(i int, r bound.Of[ratio]) float64 {
				if bits>>i&1 == 0 {
					return float64(r.Low)
				}
				return float64(r.High)
			}
			rolls := end(0, l.Rolling) * (1 - end(2, l.Locked))
			drags := end(1, l.Sliding) * (end(2, l.Locked) + end(3, l.Belly))
			mire, step := end(4, l.Mire), end(5, l.Step)
			const steps = 60
			for i := range steps + 1 {
				way := l.Way.Low + (l.Way.High - l.Way.Low).Scale(float64(i)/steps)
				total := way.Sin() + max((rolls+drags)*way.Cos(), mire) + step*way.Cos()
				least, most = min(least, total), max(most, total)
			}
		}
		w := unit.Weight(unit.Kilograms(1000)).Newtons()
		const near, hair = 1e-2, 1e-9
		if high := all.Total.High.Newtons() / w; high > most+near || high < most-hair {
			t.Fatalf("high end %v of the weight, walked to %v", high, most)
		}
		if low := all.Total.Low.Newtons() / w; low < least-near || low > least+hair {
			t.Fatalf("low end %v of the weight, walked to %v", low, least)
		}
	})
}

// TestSumOfItsCauses: for one load the total is its grade, the greater of what
// rolls and drags or the mire, and the step.
func TestSumOfItsCauses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := within(t, loads(t))
		s := must(t, l)
		want := s.Grade.Best + max(s.Rolling.Best+s.Drag.Best, s.Mire.Best) + s.Lip.Best
		w := unit.Weight(l.Mass.Best).Newtons()
		if math.Abs((want - s.Total.Best).Newtons()) > 1e-9*w {
			t.Fatalf("causes make %v, the total is %v", want, s.Total.Best)
		}
	})
}

// TestWorse: more mass uphill, softer ground, more locked wheels on ground that
// drags more than it rolls, and a wider range never lower the total's high end.
func TestWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := loads(t)
		l.Way = proof.Some[angle](t, "uphill", 0, math.Pi/2)
		l.Sliding = proof.Some[ratio](t, "drags more", 0.5, 1.2)
		before := must(t, l).Total.High
		worse := l
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		switch rapid.IntRange(0, 6).Draw(t, "which") {
		case 0:
			worse.Mass = l.Mass.Scale(more)
		case 1:
			worse.Rolling = l.Rolling.Scale(more)
		case 2:
			worse.Sliding = l.Sliding.Scale(more)
		case 3:
			worse.Mire = l.Mire.Scale(more)
		case 4:
			worse.Step = l.Step.Scale(more)
		case 5:
			worse.Locked = bound.Of[ratio]{Low: l.Locked.Low, Best: l.Locked.Best, High: min(1, l.Locked.High*ratio(more))}
		case 6:
			worse.Way.Low = l.Way.Low.Scale(0.5)
		}
		if after := must(t, worse).Total.High; after.Newtons() < before.Newtons()*(1-1e-12) {
			t.Fatalf("%v, worse %v", before, after)
		}
	})
}

// TestLipAgainstEquilibrium solves for the pull and the edge's force on a wheel
// that just leaves the ground, three balances and three unknowns.
func TestLipAgainstEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(100, 1e5).Draw(t, "load")
		r := rapid.Float64Range(0.2, 1).Draw(t, "radius")
		h := r * rapid.Float64Range(0.01, 0.95).Draw(t, "height")
		// The edge, seen from the hub: ahead by √(2rh − h²), below by r − h.
		x, y := math.Sqrt(2*r*h-h*h), r-h
		A := mat.NewDense(3, 3, []float64{
			1, 1, 0, // pull + edge's level part = 0
			0, 0, 1, // edge's upright part = load
			0, y, x, // moment of the edge's force about the hub is zero
		})
		var u mat.VecDense
		if err := u.SolveVec(A, mat.NewVecDense(3, []float64{0, n, 0})); err != nil {
			t.Fatal(err)
		}
		f, err := Lip(unit.Newtons(n), unit.Metres(h), unit.Metres(r))
		if err != nil {
			t.Fatal(err)
		}
		if !proof.Same(f.Newtons(), u.AtVec(0), 1e-9) {
			t.Fatalf("%v, the system has %v", f, u.AtVec(0))
		}
	})
}

// TestStepHoldsItsPoints: no step, wheel and axle inside the ranges asks for more
// or less than they say.
func TestStepHoldsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := proof.Some[unit.Length](t, "radius", 0.2, 1)
		h := proof.Some[unit.Length](t, "height", 0, 0.9*r.Low.Metres())
		axle, locked := proof.Some[ratio](t, "axle", 0, 1), proof.Some[ratio](t, "locked", 0, 1)
		climbs := math.Tan(math.Acos(float64(1 - h.High/r.Low)))
		sliding := proof.Some[ratio](t, "sliding", 0, min(1.2, 0.95/max(climbs, 1e-9)))
		all, err := Step(Edge{h, r, axle, locked, sliding})
		if err != nil {
			t.Fatal(err)
		}
		one, err := Step(Edge{
			Height: bound.Exactly(proof.Point(t, "a height", h)), Radius: bound.Exactly(proof.Point(t, "a radius", r)),
			Axle: bound.Exactly(proof.Point(t, "an axle", axle)), Locked: bound.Exactly(proof.Point(t, "a locked", locked)), Sliding: bound.Exactly(proof.Point(t, "a sliding", sliding)),
		})
		if err != nil {
			t.Fatal(err)
		}
		proof.Holds(t, "step", all, one.Best)
	})
}

// TestLockedWheelAgainstEquilibrium solves for the pull and the edge's two forces on a
// wheel that can't turn and is about to slide up the edge, held from turning by a
// moment of its own.
func TestLockedWheelAgainstEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		alpha := rapid.Float64Range(0.05, 1.2).Draw(t, "lean of the edge")
		k := math.Tan(alpha)
		mu := rapid.Float64Range(0.01, min(1.2, 0.95/k)).Draw(t, "friction") // beyond it jams, or nearly
		sin, cos := math.Sincos(alpha)
		A := mat.NewDense(3, 3, []float64{
			1, -sin, -cos, // pull against the edge's push and its friction, level
			0, cos, -sin, // the same, upright: they carry the load
			0, -mu, 1, // friction is all it can be
		})
		var u mat.VecDense
		if err := u.SolveVec(A, mat.NewVecDense(3, []float64{0, 1, 0})); err != nil {
			t.Fatal(err)
		}
		if got := ratio(k) + ratio(mu) + Slid(ratio(k), ratio(mu)); !proof.Same(float64(got), u.AtVec(0), 1e-9) {
			t.Fatalf("%v, the system has %v", got, u.AtVec(0))
		}
	})
}

// TestLineAgainstItsParts: the line's part along the way is the total, its part
// across is the side load, and no point leaves the range.
func TestLineAgainstItsParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		total, off := proof.Some[unit.Force](t, "total", -1e5, 1e5), proof.Some[angle](t, "off", 0, 1.4)
		line, side, err := AlongLine(total, off)
		if err != nil {
			t.Fatal(err)
		}
		f, a := proof.Point(t, "a total", total), proof.Point(t, "an angle", off)
		oneLine, oneSide, err := AlongLine(bound.Exactly(f), bound.Exactly(a))
		if err != nil {
			t.Fatal(err)
		}
		proof.Holds(t, "line", line, oneLine.Best)
		proof.Holds(t, "side", side, oneSide.Best)
		if l, x := oneLine.Best.Newtons(), oneSide.Best.Newtons(); !proof.Same(l*a.Cos(), f.Newtons(), 1e-9) || !proof.Same(l*a.Sin(), x, 1e-9) {
			t.Fatalf("line %v at %v: along %v, across %v", l, a, l*a.Cos(), l*a.Sin())
		}
	})
}

func TestRefused(t *testing.T) {
	good := exactly(1000, 10)
	for what, spoil := range map[string]func(*Load){
		"no mass":            func(l *Load) { l.Mass = bound.Exactly(unit.Mass(0)) },
		"endless mass":       func(l *Load) { l.Mass.High = unit.Kilograms(math.Inf(1)) },
		"mass out of order":  func(l *Load) { l.Mass.Low = unit.Kilograms(2000) },
		"way over the top":   func(l *Load) { l.Way = bound.Exactly(unit.Degrees(91)) },
		"way below":          func(l *Load) { l.Way = bound.Exactly(unit.Degrees(-91)) },
		"way undefined":      func(l *Load) { l.Way.Best = unit.Radians(math.NaN()) },
		"negative rolling":   func(l *Load) { l.Rolling = share(-0.1) },
		"locked over all":    func(l *Load) { l.Locked = share(1.1) },
		"belly over all":     func(l *Load) { l.Belly = share(1.1) },
		"sliding undefined":  func(l *Load) { l.Sliding = share(math.NaN()) },
		"endless step":       func(l *Load) { l.Step = share(math.Inf(1)) },
		"mire beyond reason": func(l *Load) { l.Mire = share(11) },
	} {
		l := good
		spoil(&l)
		s, err := Of(l)
		proof.Refused(t, what, err)
		if s != (Sum{}) {
			t.Errorf("%s: %v beside an error", what, s)
		}
	}
	for _, c := range [][2]float64{{0.5, 0.5}, {0.6, 0.5}, {-0.1, 0.5}, {0.1, 0}, {0.1, math.Inf(1)}, {math.NaN(), 1}} {
		_, err := Lip(unit.Newtons(1), unit.Metres(c[0]), unit.Metres(c[1]))
		proof.Refused(t, "a step that no wheel climbs", err)
		_, err = Step(Edge{Height: bound.Exactly(unit.Metres(c[0])), Radius: bound.Exactly(unit.Metres(c[1])), Axle: share(0.5)})
		proof.Refused(t, "a step that no wheel climbs", err)
	}
	step := func(h, r bound.Of[unit.Length], axle bound.Of[ratio]) error {
		_, err := Step(Edge{Height: h, Radius: r, Axle: axle})
		return err
	}
	h, r := bound.Exactly(unit.Metres(0.1)), bound.Exactly(unit.Metres(0.4))
	proof.Refused(t, "an axle with more than all", step(h, r, share(1.1)))
	proof.Refused(t, "heights out of order", step(bound.Of[unit.Length]{Low: 2, Best: 1, High: 0}, r, share(1)))
	proof.Refused(t, "the highest step before the smallest wheel", step(bound.Between(unit.Metres(0.1), unit.Metres(0.39)), bound.Between(unit.Metres(0.38), unit.Metres(0.5)), share(1)))
	for _, off := range []bound.Of[angle]{bound.Exactly(unit.Degrees(90)), bound.Exactly(unit.Degrees(-1)), bound.Exactly(unit.Radians(math.NaN()))} {
		_, _, err := AlongLine(bound.Exactly(unit.Newtons(1)), off)
		proof.Refused(t, "a line across the way", err)
	}
	_, _, err := AlongLine(bound.Exactly(unit.Newtons(math.Inf(1))), bound.Exactly(angle(0)))
	proof.Refused(t, "an endless pull", err)
}
