package gear

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func stamps(t *rapid.T) Stamp {
	return Stamp{
		Force: unit.Newtons(rapid.Float64Range(1, 1e6).Draw(t, "force")), Breaking: rapid.Bool().Draw(t, "breaking"),
		Factor: bound.Ratio(rapid.Float64Range(1, 12).Draw(t, "factor")), Kept: bound.Ratio(rapid.Float64Range(0, 1).Draw(t, "kept")),
		Leg: unit.Degrees(rapid.Float64Range(0, 59).Draw(t, "leg")), Legs: rapid.IntRange(1, 2).Draw(t, "legs"),
	}
}

// TestNeverMoreThanItsStamp: what takes from a piece never adds to it, and it always
// breaks past what it may carry, where its factor is over what the stamp claims.
func TestNeverMoreThanItsStamp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := stamps(t)
		w, err := Working(s, steepest)
		if err != nil {
			t.Fatal(err)
		}
		if w > s.Force.Scale(float64(s.Legs)) || w < 0 {
			t.Fatalf("%+v may carry %v", s, w)
		}
		b, err := Breaks(s, 2, steepest)
		if err != nil {
			t.Fatal(err)
		}
		if b < w {
			t.Fatalf("%+v may carry %v and breaks at %v", s, w, b)
		}
		if s.Breaking && !proof.Same(b.Newtons(), w.Newtons()*float64(s.Factor), 1e-9) {
			t.Fatalf("%+v: breaks at %v, may carry %v", s, b, w)
		}
		worse := s
		worse.Kept *= bound.Ratio(rapid.Float64Range(0, 1).Draw(t, "worse"))
		worse.Leg = max(s.Leg, unit.Degrees(rapid.Float64Range(0, 60).Draw(t, "steeper")))
		worse.Factor *= bound.Ratio(rapid.Float64Range(1, 2).Draw(t, "more careful"))
		worse.Legs = 1
		if v, err := Working(worse, steepest); err != nil || v > w {
			t.Fatalf("%+v may carry %v, worse %+v %v, %v", s, w, worse, v, err)
		}
	})
}

// TestSlingLegAgainstNode solves the hook: two tensions unknown, two balances.
func TestSlingLegAgainstNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(1, 1e6).Draw(t, "weight")
		long := rapid.Float64Range(0.5, 20).Draw(t, "length")
		high := long * rapid.Float64Range(0.05, 0.999).Draw(t, "height over length")
		a := math.Acos(high / long)
		A := mat.NewDense(2, 2, []float64{math.Cos(a), math.Cos(a), math.Sin(a), -math.Sin(a)})
		var x mat.VecDense
		if err := x.SolveVec(A, mat.NewVecDense(2, []float64{w, 0})); err != nil {
			t.Fatal(err)
		}
		f, err := SlingLeg(unit.Newtons(w), 2, unit.Metres(long), unit.Metres(high))
		if err != nil {
			t.Fatal(err)
		}
		for i := range 2 {
			if !proof.Same(f.Newtons(), x.AtVec(i), 1e-9) {
				t.Fatalf("%v, leg %d by the system %v", f, i, x.AtVec(i))
			}
		}
	})
}

func TestRefused(t *testing.T) {
	good := Stamp{Force: 1000, Factor: 5, Kept: 1, Legs: 1}
	for what, spoil := range map[string]func(*Stamp){
		"negative force":   func(s *Stamp) { s.Force = -1 },
		"endless force":    func(s *Stamp) { s.Force = unit.Newtons(math.Inf(1)) },
		"factor under one": func(s *Stamp) { s.Factor = 0.5 },
		"no factor":        func(s *Stamp) { s.Factor = 0 },
		"gains by a knot":  func(s *Stamp) { s.Kept = 1.1 },
		"undefined share":  func(s *Stamp) { s.Kept = bound.Ratio(math.NaN()) },
		"too steep":        func(s *Stamp) { s.Leg = unit.Degrees(61) },
		"leaning back":     func(s *Stamp) { s.Leg = unit.Degrees(-1) },
		"three legs":       func(s *Stamp) { s.Legs = 3 },
		"no legs":          func(s *Stamp) { s.Legs = 0 },
	} {
		s := good
		spoil(&s)
		f, err := Working(s, steepest)
		proof.Refused(t, what, err)
		g, err := Breaks(s, 2, steepest)
		proof.Refused(t, what, err)
		if f != 0 || g != 0 {
			t.Errorf("%s: %v and %v beside an error", what, f, g)
		}
	}
	for _, c := range []struct{ load, long, high float64 }{{-1, 2, 1}, {math.Inf(1), 2, 1}, {1, 2, 0}, {1, 2, 2.1}, {1, math.NaN(), 1}, {1, 2, -1}} {
		_, err := SlingLeg(unit.Newtons(c.load), 2, unit.Metres(c.long), unit.Metres(c.high))
		proof.Refused(t, "sling", err)
	}
	_, err := SlingLeg(1, 0, 2, 1)
	proof.Refused(t, "no legs", err)
}
