package puller

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

func stands(t *rapid.T) Stand {
	return Stand{
		Mass: proof.Some[unit.Mass](t, "mass", 1, 5e4), Way: proof.Some[angle](t, "way", -1.2, 1.2),
		Driven: proof.Some[ratio](t, "driven", 0, 1), Grip: proof.Some[ratio](t, "grip", 0, 1.2), Rolling: proof.Some[ratio](t, "rolling", 0, 0.5),
	}
}

func within(t *rapid.T, s Stand) Stand {
	return Stand{
		Mass: bound.Exactly(proof.Point(t, "a mass", s.Mass)), Way: bound.Exactly(proof.Point(t, "a way", s.Way)),
		Driven: bound.Exactly(proof.Point(t, "a driven", s.Driven)), Grip: bound.Exactly(proof.Point(t, "a grip", s.Grip)),
		Rolling: bound.Exactly(proof.Point(t, "a rolling", s.Rolling)),
	}
}

func frames(t *rapid.T) Frame {
	return Frame{
		Mass: proof.Some[unit.Mass](t, "mass", 1, 5e4), Way: proof.Some[angle](t, "way", -1.2, 1.2), FrontShare: proof.Some[ratio](t, "front", 0, 1),
		Wheelbase: proof.Some[unit.Length](t, "wheelbase", 0.5, 6), CGHeight: proof.Some[unit.Length](t, "cg", 0.1, 3), Hitch: proof.Some[unit.Length](t, "hitch", 0.1, 2),
	}
}

// TestPointsStayInside: no stand inside the ranges pulls more or less than they say,
// and none ever more than its most.
func TestPointsStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := stands(t)
		one := within(t, s)
		for what, f := range map[string]func(Stand) (bound.Of[unit.Force], error){"traction": Traction, "braked": Braked} {
			all, err := f(s)
			if err != nil {
				t.Fatal(err)
			}
			a, err := f(one)
			if err != nil {
				t.Fatal(err)
			}
			proof.Holds(t, what, all, a.Best)
			most, err := Most(s)
			if err != nil {
				t.Fatal(err)
			}
			if a.Best.Newtons() > most.Newtons()*(1+1e-12)+1e-9 || all.High.Newtons() > most.Newtons()*(1+1e-12)+1e-9 {
				t.Fatalf("%s %v, the most is %v", what, a.Best, most)
			}
		}
		whole, _ := Braked(s)
		free, _ := Traction(s)
		if free.Low > whole.Low || free.High > whole.High {
			t.Fatalf("driving gives %v, standing braked %v", free, whole)
		}
	})
}

// TestTippingHoldsItsPoints: no machine inside the ranges tips earlier or later.
func TestTippingHoldsItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := frames(t)
		all, err := Tipping(f)
		if err != nil {
			t.Fatal(err)
		}
		one, err := Tipping(Frame{
			Mass: bound.Exactly(proof.Point(t, "a mass", f.Mass)), Way: bound.Exactly(proof.Point(t, "a way", f.Way)),
			FrontShare: bound.Exactly(proof.Point(t, "a front", f.FrontShare)), Wheelbase: bound.Exactly(proof.Point(t, "a wheelbase", f.Wheelbase)),
			CGHeight: bound.Exactly(proof.Point(t, "a cg", f.CGHeight)), Hitch: bound.Exactly(proof.Point(t, "a hitch", f.Hitch)),
		})
		if err != nil {
			t.Fatal(err)
		}
		proof.Holds(t, "tipping", all, one.Best)
	})
}

// TestTippingAgainstEquilibrium solves a machine whose front wheels just leave the
// ground: the ground's two forces at the rear and the pull are unknown.
func TestTippingAgainstEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, a := unit.Kilograms(rapid.Float64Range(100, 5e4).Draw(t, "kg")), unit.Degrees(rapid.Float64Range(0, 20).Draw(t, "climb"))
		front, base := rapid.Float64Range(0.3, 0.6).Draw(t, "front"), rapid.Float64Range(1.5, 4).Draw(t, "wheelbase")
		cg, hitch := rapid.Float64Range(0.3, 0.9).Draw(t, "cg"), rapid.Float64Range(0.2, 0.8).Draw(t, "hitch")
		w := unit.Weight(m).Newtons()
		// Along the slope, square to it, and moments about the rear wheels' contact.
		A := mat.NewDense(3, 3, []float64{
			1, 0, -1, // drive − pull = W sin
			0, 1, 0, // ground = W cos
			0, 0, hitch, // pull × hitch = W (front × base × cos − cg × sin)
		})
		var x mat.VecDense
		if err := x.SolveVec(A, mat.NewVecDense(3, []float64{w * a.Sin(), w * a.Cos(), w * (front*base*a.Cos() - cg*a.Sin())})); err != nil {
			t.Fatal(err)
		}
		got, err := Tipping(Frame{Mass: bound.Exactly(m), Way: bound.Exactly(a), FrontShare: share(front),
			Wheelbase: bound.Exactly(unit.Metres(base)), CGHeight: bound.Exactly(unit.Metres(cg)), Hitch: bound.Exactly(unit.Metres(hitch))})
		if err != nil {
			t.Fatal(err)
		}
		if !proof.Same(got.Best.Newtons(), max(0, x.AtVec(2)), 1e-9) {
			t.Fatalf("%v, the system has %v", got.Best, x.AtVec(2))
		}
	})
}

// TestTractionAgainstEquilibrium: driving force, ground and pull as unknowns.
func TestTractionAgainstEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := within(t, stands(t))
		w, a := unit.Weight(s.Mass.Best).Newtons(), s.Way.Best
		A := mat.NewDense(3, 3, []float64{
			0, 1, 0, // ground = W cos
			1, -float64(s.Grip.Best * s.Driven.Best), 0, // drive = grip × driven ground
			1, -float64(s.Rolling.Best), -1, // drive − rolling − pull = W sin
		})
		var x mat.VecDense
		if err := x.SolveVec(A, mat.NewVecDense(3, []float64{w * a.Cos(), 0, w * a.Sin()})); err != nil {
			t.Fatal(err)
		}
		got, err := Traction(s)
		if err != nil {
			t.Fatal(err)
		}
		if d := got.Best.Newtons() - max(0, x.AtVec(2)); math.Abs(d) > 1e-9*w {
			t.Fatalf("%v, the system has %v", got.Best, x.AtVec(2))
		}
	})
}

// TestWorse: less grip, a softer ground, fewer driven wheels, a steeper climb and a
// wider range never raise what is counted on. More mass does not either way: a
// machine that can't climb pulls nothing however heavy.
func TestWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := stands(t)
		before, _ := Traction(s)
		worse, k := s, rapid.Float64Range(0, 1).Draw(t, "k")
		switch rapid.IntRange(0, 4).Draw(t, "which") {
		case 0:
			worse.Grip = s.Grip.Scale(k)
		case 1:
			worse.Driven = s.Driven.Scale(k)
		case 2:
			worse.Rolling.High = s.Rolling.High + 0.5
		case 3:
			worse.Mass.Low = s.Mass.Low.Scale(max(k, 0.01))
		case 4:
			worse.Way.Low = s.Way.Low - 0.1
		}
		if after, err := Traction(worse); err != nil || after.Low > before.Low {
			t.Fatalf("%v, worse %v, %v", before, after, err)
		}
	})
}

// TestWinchAndPeople: in proportion to the rating and to the number.
func TestWinchAndPeople(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, left := proof.Some[unit.Force](t, "rating", 0, 1e6), proof.Some[ratio](t, "left", 0.1, 1)
		all, err := Winch(f, left)
		if err != nil {
			t.Fatal(err)
		}
		one, _ := Winch(bound.Exactly(proof.Point(t, "a rating", f)), bound.Exactly(proof.Point(t, "a share", left)))
		proof.Holds(t, "winch", all, one.Best)
		n := rapid.IntRange(1, 40).Draw(t, "people")
		many, err := People(n, f)
		if err != nil {
			t.Fatal(err)
		}
		if more, _ := People(n+1, f); more.Low < many.Low || !proof.Same((more.High-many.High).Newtons(), f.High.Newtons(), 1e-9) {
			t.Fatalf("%v, one more %v", many, more)
		}
	})
}

func TestRefused(t *testing.T) {
	good := Stand{Mass: bound.Exactly(unit.Kilograms(1000)), Driven: share(1), Grip: share(0.5)}
	for what, spoil := range map[string]func(*Stand){
		"no mass":           func(s *Stand) { s.Mass = bound.Exactly(unit.Mass(0)) },
		"mass undefined":    func(s *Stand) { s.Mass.Best = unit.Kilograms(math.NaN()) },
		"way over the top":  func(s *Stand) { s.Way = bound.Exactly(unit.Degrees(91)) },
		"way below":         func(s *Stand) { s.Way = bound.Exactly(unit.Degrees(-91)) },
		"driven over all":   func(s *Stand) { s.Driven = share(1.1) },
		"negative grip":     func(s *Stand) { s.Grip = share(-0.1) },
		"grip past reason":  func(s *Stand) { s.Grip = share(2.1) },
		"rolling undefined": func(s *Stand) { s.Rolling = share(math.NaN()) },
	} {
		s := good
		spoil(&s)
		_, err := Traction(s)
		proof.Refused(t, what, err)
		most, err := Most(s)
		proof.Refused(t, what, err)
		if most != 0 {
			t.Errorf("%s: %v beside an error", what, most)
		}
	}
	frame := Frame{Mass: good.Mass, FrontShare: share(0.4), Wheelbase: bound.Exactly(unit.Metres(2)), CGHeight: bound.Exactly(unit.Metres(1)), Hitch: bound.Exactly(unit.Metres(0.5))}
	for what, spoil := range map[string]func(*Frame){
		"no wheelbase":     func(f *Frame) { f.Wheelbase = bound.Exactly(unit.Length(0)) },
		"no height":        func(f *Frame) { f.CGHeight = bound.Exactly(unit.Metres(-1)) },
		"no hitch":         func(f *Frame) { f.Hitch = bound.Of[unit.Length]{} },
		"no mass":          func(f *Frame) { f.Mass = bound.Of[unit.Mass]{} },
		"front over all":   func(f *Frame) { f.FrontShare = share(1.5) },
		"way over the top": func(f *Frame) { f.Way = bound.Exactly(unit.Degrees(95)) },
	} {
		f := frame
		spoil(&f)
		_, err := Tipping(f)
		proof.Refused(t, what, err)
	}
	n := bound.Exactly(unit.Newtons(100))
	for _, left := range []float64{0, -1, 1.1, math.NaN()} {
		_, err := Winch(n, share(left))
		proof.Refused(t, "share left", err)
	}
	_, err := Winch(bound.Exactly(unit.Newtons(-1)), share(1))
	proof.Refused(t, "rating", err)
	_, err = People(0, n)
	proof.Refused(t, "people", err)
	_, err = People(1, bound.Exactly(unit.Newtons(math.Inf(1))))
	proof.Refused(t, "one person's pull", err)
}
