package tackle

import (
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

// solved is a tackle worked out from its geometry alone: the rope is followed from
// the haul line through each sheave to where it is made fast, every tension and
// every sheave's pin is an unknown, and the equations are the loss at each sheave,
// the balance of each pin, and the balance of the two blocks.
type solved struct {
	tensions         []float64 // haul line first
	anchor           float64
	moving, standing int // sheaves
	deadStands       bool
}

// solve hauls force one, or holds it when the sheaves' friction works the other way.
func solve(t *rapid.T, parts int, from Haul, eta float64, held bool) solved {
	t.Helper()
	// The rope leaves a sheave on the block it is hauled from, and runs to and fro.
	// Hauled from the moving block the haul line itself is one of the parts there.
	left := parts
	if from == Moving {
		left--
	}
	at, s := from, solved{}
	var pins []Haul // the block of each sheave, in the order the rope meets them
	for ; left > 0; left-- {
		pins = append(pins, at)
		at = Standing + Moving - at
	}
	s.deadStands = at == Standing
	segments := len(pins) + 1
	n := segments + len(pins) + 1 // tensions, pins, anchor
	A, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	row := 0
	for i, block := range pins {
		if held { // what comes in on the load's side is greater
			A.Set(row, i+1, eta)
			A.Set(row, i, -1)
		} else {
			A.Set(row, i+1, 1)
			A.Set(row, i, -eta)
		}
		row++
		A.Set(row, segments+i, 1) // pin = both lines
		A.Set(row, i, -1)
		A.Set(row, i+1, -1)
		row++
		if block == Moving {
			s.moving++
		} else {
			s.standing++
		}
	}
	block := func(which Haul) { // its pins and what is made fast to it
		for i, on := range pins {
			if on == which {
				A.Set(row, segments+i, 1)
			}
		}
		if s.deadStands == (which == Standing) {
			A.Set(row, segments-1, A.At(row, segments-1)+1)
		}
	}
	block(Moving)
	b.SetVec(row, 1) // the load
	row++
	block(Standing)
	A.Set(row, n-1, -1) // the anchor
	row++
	if row != n {
		t.Fatalf("%d equations for %d unknowns", row, n)
	}
	var x mat.VecDense
	if err := x.SolveVec(A, b); err != nil {
		t.Fatal(err)
	}
	for i := range segments {
		s.tensions = append(s.tensions, x.AtVec(i))
	}
	s.anchor = x.AtVec(n - 1)
	return s
}

// TestAgainstLinearSystem: tensions, anchor, sheaves and where the dead end is, in
// both reevings, hauling and holding, to a part in 10⁹.
func TestAgainstLinearSystem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Reeving{Parts: rapid.IntRange(1, 16).Draw(t, "parts"), From: Haul(rapid.IntRange(0, 1).Draw(t, "from"))}
		eta := rapid.Float64Range(0.5, 1).Draw(t, "eta")
		f := unit.Newtons(rapid.Float64Range(1, 1e6).Draw(t, "force"))
		want := solve(t, r.Parts, r.From, eta, false)
		if r.MovingSheaves() != want.moving || r.StandingSheaves() != want.standing || r.Sheaves() != want.moving+want.standing {
			t.Fatalf("%+v: sheaves %d and %d, rove %d and %d", r, r.MovingSheaves(), r.StandingSheaves(), want.moving, want.standing)
		}
		if r.DeadEndStands() != want.deadStands {
			t.Fatalf("%+v: dead end at the anchor: %v, rove %v", r, r.DeadEndStands(), want.deadStands)
		}
		got, err := Tensions(r, f, bound.Ratio(eta))
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != len(want.tensions) {
			t.Fatalf("%+v: %d tensions, rove %d", r, len(got), len(want.tensions))
		}
		for i := range got {
			if !proof.Same(got[i].Newtons(), f.Newtons()*want.tensions[i], 1e-9) {
				t.Fatalf("%+v: tension %d is %v, the system has %v", r, i, got[i], f.Newtons()*want.tensions[i])
			}
		}
		anchor, err := Anchor(r, bound.Exactly(f), bound.Exactly(bound.Ratio(eta)))
		if err != nil {
			t.Fatal(err)
		}
		if d := anchor.Best.Newtons() - f.Newtons()*want.anchor; d > 1e-9*f.Newtons() || d < -1e-9*f.Newtons() {
			t.Fatalf("%+v: anchor %v, the system has %v", r, anchor.Best, f.Newtons()*want.anchor)
		}
		advantage, err := Advantage(r, bound.Exactly(bound.Ratio(eta)))
		if err != nil {
			t.Fatal(err)
		}
		if !proof.Same(float64(advantage.Best), 1/want.tensions[0], 1e-9) {
			t.Fatalf("%+v: advantage %v, the system has %v", r, advantage.Best, 1/want.tensions[0])
		}
		held := solve(t, r.Parts, r.From, eta, true)
		dead, err := HeldDeadEnd(r, f, bound.Ratio(eta))
		if err != nil {
			t.Fatal(err)
		}
		if last := f.Newtons() * held.tensions[len(held.tensions)-1]; !proof.Same(dead.Newtons(), last, 1e-9) {
			t.Fatalf("%+v: held, the dead end carries %v, the system has %v", r, dead, last)
		}
	})
}

// TestSidePullAgainstNode solves the node at the middle of the rope: two tensions
// unknown, two balances.
func TestSidePullAgainstNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(1, 1e6).Draw(t, "force")
		a := unit.Degrees(rapid.Float64Range(0.01, 89).Draw(t, "angle"))
		A := mat.NewDense(2, 2, []float64{a.Cos(), -a.Cos(), a.Sin(), a.Sin()})
		var x mat.VecDense
		if err := x.SolveVec(A, mat.NewVecDense(2, []float64{0, f})); err != nil {
			t.Fatal(err)
		}
		got, err := SidePull(unit.Newtons(f), a)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 2 {
			if !proof.Same(got.Newtons(), x.AtVec(i), 1e-9) {
				t.Fatalf("%v, half %d by the system %v", got, i, x.AtVec(i))
			}
		}
	})
}

// TestBlockLoadAgainstNode solves the strop's two parts at a block whose lines lead
// anywhere, and compares the length of the sum.
func TestBlockLoadAgainstNode(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tension := rapid.Float64Range(1, 1e6).Draw(t, "tension")
		way := unit.Degrees(rapid.Float64Range(0, 360).Draw(t, "one line"))
		between := unit.Degrees(rapid.Float64Range(0, 180).Draw(t, "between"))
		A := mat.NewDense(2, 2, []float64{1, 0, 0, 1})
		b := mat.NewVecDense(2, []float64{
			-tension * (way.Cos() + (way + between).Cos()),
			-tension * (way.Sin() + (way + between).Sin()),
		})
		var x mat.VecDense
		if err := x.SolveVec(A, b); err != nil {
			t.Fatal(err)
		}
		got, err := BlockLoad(unit.Newtons(tension), between)
		if err != nil {
			t.Fatal(err)
		}
		if d := got.Newtons() - mat.Norm(&x, 2); d > 1e-9*tension || d < -1e-9*tension {
			t.Fatalf("%v, the system has %v", got, mat.Norm(&x, 2))
		}
	})
}
