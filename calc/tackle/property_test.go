package tackle

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func reeving(t *rapid.T) Reeving {
	return Reeving{Parts: rapid.IntRange(1, 12).Draw(t, "parts"), From: Haul(rapid.IntRange(0, 1).Draw(t, "from"))}
}

func etas(t *rapid.T) bound.Of[bound.Ratio] { return proof.Some[bound.Ratio](t, "eta", 0.5, 1) }

// TestPointsStayInside: no force and no sheave inside the ranges leaves the results.
func TestPointsStayInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, eta, f := reeving(t), etas(t), proof.Some[unit.Force](t, "force", 0, 1e6)
		e, g := bound.Exactly(proof.Point(t, "an eta", eta)), bound.Exactly(proof.Point(t, "a force", f))
		all, err := Advantage(r, eta)
		if err != nil {
			t.Fatal(err)
		}
		one, _ := Advantage(r, e)
		proof.Holds(t, "advantage", all, one.Best)
		anchors, err := Anchor(r, f, eta)
		if err != nil {
			t.Fatal(err)
		}
		anchor, _ := Anchor(r, g, e)
		proof.Holds(t, "anchor", anchors, anchor.Best)
		blocks := rapid.IntRange(0, 5).Draw(t, "lead blocks")
		leads, err := Lead(f, blocks, eta)
		if err != nil {
			t.Fatal(err)
		}
		lead, _ := Lead(g, blocks, e)
		proof.Holds(t, "lead", leads, lead.Best)
	})
}

// TestWorkOutOfWorkIn: the haul line comes out parts times as far as the load moves,
// so with free sheaves the work out is the work in, and with friction less. What is
// lost is what the sheaves keep: the fall of tension over each times the rope that
// runs over it.
func TestWorkOutOfWorkIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reeving(t)
		eta := rapid.Float64Range(0.5, 1).Draw(t, "eta")
		if rapid.Bool().Draw(t, "free") {
			eta = 1
		}
		const force, distance = 1000.0, 1.0
		ts, err := Tensions(r, unit.Newtons(force), bound.Ratio(eta))
		if err != nil {
			t.Fatal(err)
		}
		in, out := ts[0].Newtons()*float64(r.Parts)*distance, force*distance
		// Rope over each sheave: what the parts beyond it take up. Seen from a sheave that
		// travels with the load the rope behind it still shortens by its parts.
		lost := 0.0
		for i := 1; i < len(ts); i++ {
			lost += (ts[i-1] - ts[i]).Newtons() * float64(len(ts)-i) * distance
		}
		if !proof.Same(in, out+lost, 1e-9) {
			t.Fatalf("%+v: work in %v, out %v, lost %v", r, in, out, lost)
		}
		if in < out*(1-1e-12) {
			t.Fatalf("%+v: work out %v of work in %v", r, out, in)
		}
	})
}

// TestFrictionAndParts: better sheaves never gain less; a part more never gains less,
// always less than one more, and never more than the ceiling; the moving block's
// haul line beats the standing one's with as many parts.
func TestFrictionAndParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reeving(t)
		eta := rapid.Float64Range(0.5, 0.999).Draw(t, "eta")
		better := rapid.Float64Range(eta, 1).Draw(t, "better")
		at := func(r Reeving, eta float64) float64 {
			a, err := Advantage(r, bound.Exactly(bound.Ratio(eta)))
			if err != nil {
				t.Fatal(err)
			}
			return float64(a.Best)
		}
		a := at(r, eta)
		more := at(Reeving{r.Parts + 1, r.From}, eta)
		ceiling, err := Ceiling(r.From, bound.Ratio(eta))
		if err != nil {
			t.Fatal(err)
		}
		if at(r, better) < a || more < a || more > a+1 || more > float64(ceiling)*(1+1e-12) {
			t.Fatalf("%+v at %v: %v, with a part more %v, ceiling %v", r, eta, a, more, ceiling)
		}
		if at(Reeving{r.Parts, Standing}, eta) > at(Reeving{r.Parts, Moving}, eta) {
			t.Fatalf("%d parts: the standing block gains more than the moving one", r.Parts)
		}
	})
	// The ceiling is a limit: endless parts reach it.
	c, _ := Ceiling(Standing, 0.8)
	proof.Near(t, "derived, η/(1 − η)", "64 parts", gain(t, MostParts, Standing, 0.8), float64(c), 1e-5)
}

// TestHeldCarriesMore: with the load held the dead end carries more than an even
// share and more than it does hauling; with free sheaves all carry the same.
func TestHeldCarriesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reeving(t)
		eta := bound.Ratio(rapid.Float64Range(0.5, 1).Draw(t, "eta"))
		const f = 1000.0
		dead, err := HeldDeadEnd(r, unit.Newtons(f), eta)
		if err != nil {
			t.Fatal(err)
		}
		ts, _ := Tensions(r, unit.Newtons(f), eta)
		if even := f / float64(r.Parts); dead.Newtons() < even*(1-1e-12) || dead.Newtons() < ts[len(ts)-1].Newtons()*(1-1e-12) {
			t.Fatalf("%+v at %v: dead end %v", r, eta, dead)
		}
	})
}

// TestAnchorCarriesWhatIsHeld: from the moving block the anchor carries every part but
// the haul line, and with the load held that line carries the least.
func TestAnchorCarriesWhatIsHeld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reeving(t)
		r.From = Moving
		eta := bound.Ratio(rapid.Float64Range(0.5, 1).Draw(t, "eta"))
		const f = 1000.0
		got, err := Anchor(r, bound.Exactly(unit.Newtons(f)), bound.Exactly(eta))
		if err != nil {
			t.Fatal(err)
		}
		// From the dead end tension falls by η at each sheave to the haul line.
		part, sum, last := 1.0, 0.0, 0.0
		for range r.Parts {
			sum, last = sum+part, part
			part *= float64(eta)
		}
		if want := f * (1 - last/sum); math.Abs(got.High.Newtons()-want) > 1e-6*want+1e-9 {
			t.Fatalf("%+v at %v: the anchor carries %v held, want %v N", r, eta, got.High, want)
		}
	})
}

// TestPartsSumToTheForce: what pulls on the moving block is the force, in either reeving.
func TestPartsSumToTheForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := reeving(t)
		f := rapid.Float64Range(1, 1e6).Draw(t, "force")
		ts, err := Tensions(r, unit.Newtons(f), bound.Ratio(rapid.Float64Range(0.3, 1).Draw(t, "eta")))
		if err != nil {
			t.Fatal(err)
		}
		if r.From == Standing {
			ts = ts[1:]
		}
		sum := 0.0
		for _, x := range ts {
			sum += x.Newtons()
		}
		if len(ts) != r.Parts || !proof.Same(sum, f, 1e-9) {
			t.Fatalf("%+v: %d parts that sum to %v of %v", r, len(ts), sum, f)
		}
	})
}

// TestPostByTurns: two half hitches of the same turns multiply, and work round a
// post never comes out greater than it went in.
func TestPostByTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 5).Draw(t, "a"), rapid.Float64Range(0, 5).Draw(t, "b")
		mu := bound.Ratio(rapid.Float64Range(0, 0.5).Draw(t, "friction"))
		once, _, err := Post(Turns(a+b), mu, unit.Newtons(10))
		if err != nil {
			t.Fatal(err)
		}
		first, _, _ := Post(Turns(a), mu, unit.Newtons(10))
		second, ratio, _ := Post(Turns(b), mu, first)
		if !proof.Same(once.Newtons(), second.Newtons(), 1e-9) || ratio < 1 {
			t.Fatalf("%v at once, %v in two goes, ratio %v", once, second, ratio)
		}
	})
}

func TestWords(t *testing.T) {
	if Standing.String() != "standing" || Moving.String() != "moving" {
		t.Error("a block has lost its name")
	}
	for _, r := range []Reeving{{1, Standing}, {2, Moving}} {
		if r.Straight() {
			t.Errorf("%+v is no tackle", r)
		}
	}
	if r := (Reeving{1, Moving}); !r.Straight() || r.Sheaves() != 0 {
		t.Errorf("%+v has %d sheaves", r, r.Sheaves())
	}
}

func TestRefused(t *testing.T) {
	good, eta, f := Reeving{4, Standing}, bound.Exactly(bound.Ratio(0.9)), bound.Exactly(unit.Newtons(100))
	for _, r := range []Reeving{{0, Standing}, {-1, Moving}, {MostParts + 1, Standing}} {
		_, err := Advantage(r, eta)
		proof.Refused(t, "parts", err)
		_, err = Tensions(r, f.Best, 0.9)
		proof.Refused(t, "parts", err)
		_, err = HeldDeadEnd(r, f.Best, 0.9)
		proof.Refused(t, "parts", err)
		_, err = Anchor(r, f, eta)
		proof.Refused(t, "parts", err)
	}
	for _, e := range []bound.Ratio{0, -1, 1.01, bound.Ratio(math.NaN())} {
		_, err := Advantage(good, bound.Exactly(e))
		proof.Refused(t, "efficiency", err)
		_, err = Lead(f, 1, bound.Exactly(e))
		proof.Refused(t, "efficiency", err)
	}
	for _, e := range []bound.Ratio{0, 1, 2, bound.Ratio(math.NaN())} {
		_, err := Ceiling(Standing, e)
		proof.Refused(t, "ceiling", err)
	}
	for _, x := range []float64{-1, math.Inf(1), math.NaN()} {
		_, err := Anchor(good, bound.Exactly(unit.Newtons(x)), eta)
		proof.Refused(t, "force", err)
		_, err = Lead(bound.Exactly(unit.Newtons(x)), 1, eta)
		proof.Refused(t, "force", err)
		_, _, err = Post(1, 0.3, unit.Newtons(x))
		proof.Refused(t, "hold", err)
	}
	for _, n := range []int{-1, MostParts + 1} {
		_, err := Lead(f, n, eta)
		proof.Refused(t, "lead blocks", err)
	}
	for _, a := range []float64{-1, 181, math.NaN()} {
		_, err := BlockLoad(f.Best, unit.Degrees(a))
		proof.Refused(t, "angle", err)
	}
	for _, a := range []float64{0, -1, 91, math.NaN()} {
		_, err := SidePull(f.Best, unit.Degrees(a))
		proof.Refused(t, "angle", err)
	}
	_, _, err := Manual(f.Best, 0, 1, 0.1)
	proof.Refused(t, "parts", err)
	_, _, err = Manual(f.Best, 1, -1, 0.1)
	proof.Refused(t, "sheaves", err)
	_, _, err = Manual(f.Best, 1, 1, -0.1)
	proof.Refused(t, "share", err)
	_, err = Limit(f.Best, 0, 1, 0.1)
	proof.Refused(t, "parts", err)
	for _, c := range [][2]float64{{-1, 0.3}, {101, 0.3}, {math.NaN(), 0.3}, {1, -0.1}, {1, 3}, {1, math.NaN()}} {
		_, _, err := Post(Turns(c[0]), bound.Ratio(c[1]), f.Best)
		proof.Refused(t, "post", err)
	}
	_, _, err = Post(100, 2, unit.Newtons(1))
	proof.Refused(t, "a ratio too large to write", err)
}
