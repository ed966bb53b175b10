package bound

import (
	"math"
	"testing"

	"linetender/calc/unit"

	"pgregory.net/rapid"
)

func holds[Q Quantity](o Of[Q], q Q) bool { return o.Low <= q && q <= o.High }

// drawFigure draws finite figures of the sizes the trade has, and zero.
func drawFigure(t *rapid.T, name string) float64 {
	return rapid.OneOf(rapid.Just(0.), rapid.Float64Range(-1e6, 1e6)).Draw(t, name)
}

func drawRange(t *rapid.T, name string) Of[unit.Force] {
	return Between(unit.Newtons(drawFigure(t, name+" one end")), unit.Newtons(drawFigure(t, name+" other end")))
}

// inside draws a figure of o.
func inside(t *rapid.T, o Of[unit.Force], name string) unit.Force {
	return unit.Newtons(rapid.Float64Range(o.Low.Newtons(), o.High.Newtons()).Draw(t, name))
}

func TestConstructorsAreOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := unit.Newtons(drawFigure(t, "a")), unit.Newtons(drawFigure(t, "b"))
		share := rapid.Float64Range(-2, 2).Draw(t, "share")
		for name, o := range map[string]Of[unit.Force]{
			"Exactly": Exactly(a), "Between": Between(a, b), "Spread": Spread(a, share), "Plus": Plus(a, b),
			"Span": Exactly(a).Span(Exactly(b)), "Scale": Between(a, b).Scale(share),
		} {
			if !o.Ordered() {
				t.Fatalf("%s(%v, %v or %v): got %v, which is not ordered", name, a, b, share, o)
			}
		}
		if o := Between(a, b); !holds(o, a) || !holds(o, b) || o != Between(b, a) {
			t.Fatalf("Between(%v, %v): got %v", a, b, o)
		}
	})
}

func TestSpreadAndPlus(t *testing.T) {
	want := Of[unit.Mass]{Low: 2160, Best: 2400, High: 2640}
	for name, got := range map[string]Of[unit.Mass]{
		"10 %":         Spread(unit.Kilograms(2400), 0.1),
		"minus 10 %":   Spread(unit.Kilograms(2400), -0.1),
		"240 kg":       Plus(unit.Kilograms(2400), unit.Kilograms(240)),
		"minus 240 kg": Plus(unit.Kilograms(2400), unit.Kilograms(-240)),
	} {
		if got != want {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
	if got := Spread(unit.Newtons(-100), 0.1); got != (Of[unit.Force]{-110, -100, -90}) {
		t.Errorf("a force down the slope: got %v", got)
	}
}

func TestOrderedRefuses(t *testing.T) {
	nan, inf := unit.Force(math.NaN()), unit.Force(math.Inf(1))
	for _, o := range []Of[unit.Force]{
		{2, 1, 3}, {1, 3, 2}, {3, 2, 1}, {nan, 1, 2}, {1, nan, 2}, {1, 2, nan}, {-inf, 1, 2}, {1, 2, inf}, {inf, inf, inf}, {nan, nan, nan},
	} {
		if o.Ordered() {
			t.Errorf("%v passes for ordered", o)
		}
	}
	if bad := Spread(unit.Newtons(1), math.NaN()); bad.Ordered() {
		t.Errorf("an undefined spread passes for ordered: %v", bad)
	}
}

// TestScaleHoldsWhatWasInside is the property all interval arithmetic rests on.
func TestScaleHoldsWhatWasInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, k := drawRange(t, "range"), rapid.Float64Range(-10, 10).Draw(t, "k")
		q := inside(t, o, "inside")
		if got := o.Scale(k); !holds(got, q.Scale(k)) || !got.Ordered() {
			t.Fatalf("%v scaled by %v is %v, which misses %v", o, k, got, q.Scale(k))
		}
	})
}

func TestSpanHoldsBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRange(t, "a"), drawRange(t, "b")
		got := a.Span(b)
		if got != b.Span(a) || !got.Ordered() {
			t.Fatalf("%v and %v: %v one way, %v the other", a, b, got, b.Span(a))
		}
		for _, q := range []unit.Force{a.Low, a.Best, a.High, b.Low, b.Best, b.High} {
			if !holds(got, q) {
				t.Fatalf("%v and %v: %v misses %v", a, b, got, q)
			}
		}
		if got.Low != a.Low && got.Low != b.Low || got.High != a.High && got.High != b.High {
			t.Fatalf("%v and %v: %v is wider than it need be", a, b, got)
		}
	})
}

func TestBetweenTakesTheMiddleOfLargeFigures(t *testing.T) {
	if o := Between(unit.Force(1e308), unit.Force(1.5e308)); !o.Ordered() || o.Best != 1.25e308 {
		t.Errorf("got %v, want a best of 1.25e308", o)
	}
}

// TestCornersAgainstSampling is a second opinion on a sum that rises in one
// input and falls in the other.
func TestCornersAgainstSampling(t *testing.T) {
	f := func(x []float64) float64 { return x[0]*x[1] - x[2] }
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawRange(t, "a"), drawRange(t, "b"), drawRange(t, "c")
		low, high := Corners(f, a.Ends(), b.Ends(), c.Ends())
		x := []float64{inside(t, a, "x").Newtons(), inside(t, b, "y").Newtons(), inside(t, c, "z").Newtons()}
		slack := 1e-9 * (1 + math.Max(math.Abs(low), math.Abs(high)))
		if y := f(x); y < low-slack || y > high+slack {
			t.Fatalf("f%v = %v lies outside %v to %v", x, y, low, high)
		}
	})
}

// TestCornersNeedTheCrest shows what a caller owes: with friction the pull up a
// slope is greatest at tan a = 1/µ, inside the range.
func TestCornersNeedTheCrest(t *testing.T) {
	const friction = 0.8
	pull := func(x []float64) float64 { return math.Sin(x[0]) + friction*math.Cos(x[0]) }
	ends := Between(unit.Degrees(20), unit.Degrees(80)).Ends()
	_, without := Corners(pull, ends)
	_, with := Corners(pull, append(ends, math.Atan(1/friction)))
	want := math.Hypot(1, friction) // the amplitude of sin a + µ cos a
	if math.Abs(with-want) > 1e-15 || !(without < want) {
		t.Errorf("crest: got %v with the crest and %v without, want %v and less", with, without, want)
	}
}

func TestCornersVisitsEveryCombination(t *testing.T) {
	seen := map[[3]float64]int{}
	low, high := Corners(func(x []float64) float64 {
		seen[[3]float64(x)]++
		return x[0] + x[1] + x[2]
	}, []float64{1, 2}, []float64{10, 20, 30}, []float64{100})
	if len(seen) != 6 || low != 111 || high != 132 {
		t.Errorf("saw %v, got %v to %v; want 6 combinations once each, 111 to 132", seen, low, high)
	}
	for x, n := range seen {
		if n != 1 {
			t.Errorf("%v was visited %d times", x, n)
		}
	}
	if low, high := Corners(func([]float64) float64 { return 7 }); low != 7 || high != 7 {
		t.Errorf("no inputs: got %v to %v, want the constant", low, high)
	}
}

func TestCornersNeverLooksBetterThanKnown(t *testing.T) {
	sum := func(x []float64) float64 { return x[0] + x[1] }
	nan, inf := math.NaN(), math.Inf(1)
	for name, got := range map[string][2]float64{
		"no candidates":      pair(Corners(sum, []float64{1}, nil)),
		"undefined":          pair(Corners(sum, []float64{1, nan}, []float64{1})),
		"infinite":           pair(Corners(sum, []float64{1}, []float64{-inf, 1})),
		"f undefined":        pair(Corners(func([]float64) float64 { return nan }, []float64{1})),
		"f infinite halfway": pair(Corners(func(x []float64) float64 { return 1 / x[0] }, []float64{1, 0, 2})),
	} {
		if got[0] != -inf || got[1] != inf {
			t.Errorf("%s: got %v, want everything from minus to plus infinity", name, got)
		}
	}
}

func pair(a, b float64) [2]float64 { return [2]float64{a, b} }
