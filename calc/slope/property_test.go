package slope

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func draw(t *rapid.T) (unit.Mass, unit.Angle) {
	return unit.Kilograms(rapid.Float64Range(1, 2e5).Draw(t, "kg")), unit.Degrees(rapid.Float64Range(-89, 89).Draw(t, "deg"))
}

// TestAgainstEquilibrium solves for the two forces on a block at rest as unknowns
// of a linear system, in level and upright parts.
func TestAgainstEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, a := draw(t)
		// holding force along the slope (cos, sin), ground square to it (−sin, cos)
		A := mat.NewDense(2, 2, []float64{a.Cos(), -a.Sin(), a.Sin(), a.Cos()})
		var x mat.VecDense
		if err := x.SolveVec(A, mat.NewVecDense(2, []float64{0, unit.Weight(m).Newtons()})); err != nil {
			t.Fatal(err)
		}
		pull, err := Pull(m, a)
		if err != nil {
			t.Fatal(err)
		}
		normal, err := Normal(m, a)
		if err != nil {
			t.Fatal(err)
		}
		w := unit.Weight(m).Newtons()
		if math.Abs(pull.Newtons()-x.AtVec(0)) > 1e-9*w || math.Abs(normal.Newtons()-x.AtVec(1)) > 1e-9*w {
			t.Fatalf("%v, %v; the system has %v", pull, normal, mat.Formatted(&x))
		}
	})
}

// TestWork: lifting the weight by the rise takes what the pull does along the slope.
func TestWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, a := draw(t)
		run := rapid.Float64Range(1, 100).Draw(t, "level run")
		pull, _ := Pull(m, a)
		along, up := run/a.Cos(), run*a.Tan()
		if in, out := pull.Newtons()*along, unit.Weight(m).Newtons()*up; math.Abs(in-out) > 1e-9*math.Abs(unit.Weight(m).Newtons()*along) {
			t.Fatalf("work in %v, out %v", in, out)
		}
	})
}

// TestRises: more mass and a steeper way never lower the pull, and what the pull
// gains the ground loses.
func TestRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, a := draw(t)
		more := m.Scale(rapid.Float64Range(1, 3).Draw(t, "more"))
		steeper := min(unit.Degrees(90), a+unit.Degrees(rapid.Float64Range(0, 40).Draw(t, "steeper")))
		p, _ := Pull(m, a)
		q, _ := Pull(m, steeper)
		if q < p {
			t.Fatalf("%v at %v°, %v at %v°", p, a.Degrees(), q, steeper.Degrees())
		}
		if h, _ := Pull(more, a); math.Abs(h.Newtons()) < math.Abs(p.Newtons()) {
			t.Fatalf("%v of %v, %v of %v", p, m, h, more)
		}
		n, _ := Normal(m, a)
		if w := unit.Weight(m).Newtons(); math.Abs(math.Hypot(p.Newtons(), n.Newtons())-w) > 1e-9*w {
			t.Fatalf("%v and %v do not make up %v", p, n, w)
		}
	})
}

func TestRefused(t *testing.T) {
	for what, f := range map[string]func(unit.Mass, unit.Angle) (unit.Force, error){"pull": Pull, "normal": Normal, "sixtieth": Sixtieth} {
		for _, m := range []float64{0, -1, math.Inf(1), math.NaN()} {
			f, err := f(unit.Kilograms(m), unit.Degrees(10))
			proof.Refused(t, what, err)
			if f != 0 {
				t.Errorf("%s of %v kg: %v beside an error", what, m, f)
			}
		}
		for _, d := range []float64{90.1, -90.1, math.Inf(1), math.NaN()} {
			_, err := f(unit.Kilograms(1), unit.Degrees(d))
			proof.Refused(t, what, err)
		}
	}
}
