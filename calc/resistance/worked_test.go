package resistance

import (
	"math"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func exactly(kg, degrees float64) Load {
	return Load{Mass: bound.Exactly(unit.Kilograms(kg)), Way: bound.Exactly(unit.Degrees(degrees))}
}

func share(x float64) bound.Of[bound.Ratio] { return bound.Exactly(bound.Ratio(x)) }

func of(t *testing.T, l Load) Sum {
	t.Helper()
	s, err := Of(l)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestTrolley: HSE push-pull page: a level trolley takes 2 % of its weight, so
// 200 kg takes 4 kgf.
func TestTrolley(t *testing.T) {
	l := exactly(200, 0)
	l.Rolling = share(0.02)
	proof.Near(t, "HSE push-pull page", "kgf", of(t, l).Total.Best.KilogramsForce(), 4, 0.5)
}

// TestWetGrassDrag: Arboriculture Australia, Tree Rescue Manual 2022, p. 214: a
// vehicle of 3,000 kg dragged over wet grass at 0.35, about 10 kN. Level ground and
// full sliding are our reading of it.
func TestWetGrassDrag(t *testing.T) {
	const source = "W37, Arboriculture Australia, Tree Rescue Manual 2022, p. 214"
	l := exactly(3000, 0)
	l.Sliding, l.Locked = share(0.35), share(1)
	s := of(t, l)
	proof.Near(t, source, "kN", s.Total.Best.Kilonewtons(), 10.3, 0.05)
	proof.Near(t, source, "kN, as printed", s.Total.Best.Kilonewtons(), 10, 0.5)
	proof.Near(t, source, "nothing rolls", s.Rolling.High.Newtons(), 0, 0)
}

// TestMireByDepth: US Army exercise sheet 63B34G01, problem 1: 100,000 lb over the
// tops of its wheels, factor 2, is a load resistance of 200,000 lb. The givens are
// read, the factor's place and the answer computed.
func TestMireByDepth(t *testing.T) {
	l := exactly(unit.PoundsMass(100_000).Kilograms(), 0)
	l.Mire, l.Rolling = share(2), share(0.25)
	proof.Near(t, "US Army exercise sheet 63B34G01, problem 1", "lb", of(t, l).Total.Best.PoundsForce(), 200_000, 0.5)
}

// TestGradeAndRolling: the earthmoving rule R' = rolling + grade, 1 % of the weight
// for each per cent of slope (civil-engineering handbook, R = Rf W + Rp p W). The
// rule counts rise over run and the whole weight on the wheels, so it is a little
// high: 0.2 % at 6 % of slope, 3.1 % at 25 %.
func TestGradeAndRolling(t *testing.T) {
	for _, c := range []struct{ percent, over float64 }{{6, 0.2}, {12, 0.7}, {25, 3.1}} {
		l := exactly(1000, unit.Percent(c.percent).Degrees())
		l.Rolling = share(0.02)
		exact := of(t, l).Total.Best.KilogramsForce()
		rule := 1000 * (0.02 + c.percent/100)
		proof.Near(t, "civil-engineering handbook, R = Rf W + Rp p W", "per cent over", 100*(rule/exact-1), c.over, 0.05)
	}
}

// TestStep is a hand calculation: 1,000 kgf over a step of a fifth of the radius:
// √(2·0.2 − 0.2²)/(1 − 0.2) = 0.6/0.8 = 0.75; of two fifths 0.8/0.6.
func TestStep(t *testing.T) {
	for _, c := range []struct{ height, want float64 }{{0, 0}, {0.2, 750}, {0.4, 1333.33}} {
		f, err := Lip(unit.KilogramsForce(1000), unit.Metres(c.height), unit.Metres(1))
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, "derived, moments about the edge", "kgf", f.KilogramsForce(), c.want, 0.005)
	}
	k, err := Step(Edge{Height: bound.Between(unit.Centimetres(5), unit.Centimetres(20)), Radius: bound.Between(unit.Centimetres(40), unit.Centimetres(50)), Axle: share(0.5)})
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, moments about the edge", "low: 0.1 of the radius", float64(k.Low), 0.5*math.Sqrt(0.19)/0.9, 1e-12)
	proof.Near(t, "derived, moments about the edge", "high: half of the radius", float64(k.High), 0.5*math.Sqrt(0.75)/0.5, 1e-12)
}

// TestLockedWheelAtAStep is a hand calculation: 8 cm under a wheel of 35 cm is
// √(2·0.35·0.08 − 0.08²)/0.27 = 0.8249, 39.5°; with µ = 0.75, 36.87°, a locked wheel
// bears at 76.4° and takes tan 76.4° = (0.8249 + 0.75)/(1 − 0.6187) = 4.130 of what is
// on it, where levered and dragged it would be 1.575. At 14 cm it is 53.1° + 36.9° = 90°.
func TestLockedWheelAtAStep(t *testing.T) {
	const source = "derived, a body about to slide up the tangent at the edge"
	edge := func(cm, locked, axle float64) Edge {
		return Edge{Height: bound.Exactly(unit.Centimetres(cm)), Radius: bound.Exactly(unit.Centimetres(35)), Axle: share(axle), Locked: share(locked), Sliding: share(0.75)}
	}
	for _, c := range []struct{ locked, axle, want float64 }{
		{0, 1, 0.8249}, {1, 1, 4.130 - 0.75}, {1, 0.5, 0.5 * (4.130 - 0.75)}, {0.2, 0.5, 0.3*0.8249 + 0.2*(4.130-0.75)},
	} {
		k, err := Step(edge(8, c.locked, c.axle))
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, source, "share beside what drags", float64(k.High), c.want, 5e-4)
	}
	k, err := Step(edge(8, 0.2, 0.5))
	proof.Near(t, source, "the others are locked", float64(k.Low), 0.5*0.8249, 5e-4)
	if err != nil {
		t.Fatal(err)
	}
	for cm, want := range map[float64]float64{8: 76.39, 14: 90, 17: 95.92} {
		a, err := Leans(unit.Centimetres(cm), unit.Centimetres(35), 0.75)
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, source, "degrees", a.Degrees(), want, 0.01)
	}
	for what, e := range map[string]Edge{"it jams": edge(17, 0.1, 1), "locked over all": edge(8, 1.1, 1), "axle over all": edge(8, 1, 1.1), "step over the hub": edge(35, 0, 1)} {
		k, err := Step(e)
		proof.Refused(t, what, err)
		if k != (bound.Of[bound.Ratio]{}) {
			t.Errorf("%s: %v beside an error", what, k)
		}
	}
	_, err = Leans(unit.Centimetres(40), unit.Centimetres(35), 0.75)
	proof.Refused(t, "step over the hub", err)
	_, err = Leans(unit.Centimetres(4), unit.Centimetres(35), -1)
	proof.Refused(t, "negative friction", err)
}

// TestLead: a line 60° off takes twice the pull, and √3 of it goes sideways.
func TestLead(t *testing.T) {
	total := bound.Exactly(unit.Newtons(1000))
	line, side, err := AlongLine(total, bound.Between(unit.Degrees(0), unit.Degrees(60)))
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, cos 60° = 1/2", "N", line.High.Newtons(), 2000, 1e-9)
	proof.Near(t, "derived, cos 0° = 1", "N", line.Low.Newtons(), 1000, 1e-9)
	proof.Near(t, "derived, tan 60° = √3", "N", side.High.Newtons(), 1732.05, 0.005)
	// A load that runs by itself pulls the line backward, most where it leads off most.
	line, _, err = AlongLine(bound.Between(unit.Newtons(-100), unit.Newtons(-50)), bound.Between(unit.Degrees(0), unit.Degrees(60)))
	if err != nil || line.Low.Newtons() > -199.9 || line.High.Newtons() < -50.1 {
		t.Errorf("a load that runs: %v, %v", line, err)
	}
}

// TestCrest: with friction the total is steepest before the cliff: it peaks where
// tan θ = 1/µ, at W √(1 + µ²), and a range over the crest holds it.
func TestCrest(t *testing.T) {
	l := exactly(1000, 0)
	l.Sliding, l.Locked = share(0.75), share(1)
	l.Way = bound.Between(unit.Degrees(40), unit.Degrees(70))
	w := unit.Weight(unit.Kilograms(1000)).Newtons()
	proof.Near(t, "derived, W √(1 + µ²)", "N", of(t, l).Total.High.Newtons(), 1.25*w, 1e-6)
	l.Way = bound.Exactly(unit.Degrees(70))
	if of(t, l).Total.High.Newtons() >= 1.25*w {
		t.Error("past the crest the total still rises")
	}
}
