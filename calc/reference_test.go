package calc

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"linetender/calc/bound"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// solveRig finds every tension of a rig as the solution of a linear system
// that knows nothing of how calc sums them: one unknown a run of rope, one
// equation a sheave (what leaves it is η of what comes to it on the haul
// line's side), and one for the equilibrium of the moving block. Runs are
// numbered from the puller: those over the lead blocks, the haul line at the
// tackle, then on to the dead end.
func solveRig(t fataler, r tackle.Reeving, leads int, force float64, eta func(sheave int) float64) []float64 {
	t.Helper()
	runs := 1 + leads + r.Sheaves()
	a, b := mat.NewDense(runs, runs, nil), mat.NewVecDense(runs, nil)
	for i := range runs - 1 { // a sheave between run i and run i+1
		a.Set(i, i, eta(i))
		a.Set(i, i+1, -1)
	}
	// The runs that pull on the moving block, found by walking the rope: each
	// sheave on it takes two, and a dead end on it takes one.
	onMoving := make([]float64, runs)
	moving := r.From == tackle.Moving
	run := leads // the haul line at the tackle
	for range r.Sheaves() {
		if moving {
			onMoving[run]++
			onMoving[run+1]++
		}
		moving = !moving
		run++
	}
	if moving {
		onMoving[run]++ // the dead end, or with no sheave the line itself
	}
	for j, k := range onMoving {
		a.Set(runs-1, j, k)
	}
	b.SetVec(runs-1, force)
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatalf("%+v: %v", r, err)
	}
	return x.RawVector().Data
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// A plan's tensions against the linear system, both reevings, to eight parts
// and two lead blocks.
func TestTensionsAgainstLinearSystem(t *testing.T) {
	for parts := 1; parts <= 8; parts++ {
		for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
			for leads := range 3 {
				c := yard(t, 10)
				c.Tackle.Parts, c.Tackle.HaulFrom, c.Tackle.LeadBlocks = parts, from.String(), &leads
				r := tackle.Reeving{Parts: parts, From: from}
				name := fmt.Sprintf("%d parts from %s, %d leads", parts, from, leads)
				s := newSearch(c, view{})
				st := reckonStrain(c, s.n, rig{first: r, leads: leads}, view{})
				force := s.n.pullHigh().Newtons()
				x := solveRig(t, r, leads, force, func(int) float64 { return float64(st.eta.Low) })
				for i, f := range st.tensions {
					near(t, name+": tension "+fmt.Sprint(i), f.Newtons(), x[leads+i])
				}
				near(t, name+": haul", st.haul.High.Newtons(), math.Max(x[0], st.manual.Newtons()))
				if r.Sheaves() == 0 {
					continue // no tackle, no anchor
				}
				// Each run of the tackle has two ends on it, the haul line one; what
				// does not pull on the load pulls on the anchor.
				ends := -x[leads]
				for _, f := range x[leads:] {
					ends += 2 * f
				}
				got := must(tackle.Anchor(r, bound.Exactly(s.n.pullHigh()), bound.Exactly(st.eta.Low)))
				if from == tackle.Moving { // held, every sheave turns the other way
					held := solveRig(t, r, leads, force, func(int) float64 { return 1 / float64(st.eta.Low) })
					back := -held[leads]
					for _, f := range held[leads:] {
						back += 2 * f
					}
					ends = max(ends, back)
				}
				near(t, name+": anchor", got.High.Newtons(), ends-force)
			}
		}
	}
}

// A lead block's anchor as the sum of two forces in the plane.
func TestLeadAnchorAgainstVectorSum(t *testing.T) {
	for _, inside := range []float64{0, 30, 45, 60, 90, 120, 150, 180} {
		c := yard(t, 10)
		one := 1
		angle := bound.Exactly(unit.Degrees(inside))
		c.Tackle.LeadBlocks, c.Tackle.LeadAngle = &one, &angle
		s := newSearch(c, view{})
		st := reckonStrain(c, s.n, rig{first: tackle.Reeving{Parts: 2, From: tackle.Moving}, leads: 1}, view{})
		f := st.haul.High.Newtons()
		a := inside * math.Pi / 180
		near(t, fmt.Sprintf("%v°", inside), st.lead.High.Newtons(), math.Hypot(f+f*math.Cos(a), f*math.Sin(a)))
	}
}
