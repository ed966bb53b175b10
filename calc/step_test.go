package calc

import (
	"math"
	"slices"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// Both axles cross a step in the way, and the one that carries more counts: told as a
// tenth, the other carries nine. By hand, 10 cm before a wheel of 35 cm is
// √(2 × 0.35 × 0.10 − 0.10²) ÷ 0.25 = 0.9798, and nine tenths of that 0.8818.
//
// Source: derived, moments about the step's edge; that the other axle gets there is
// judgment, and errs high.
func TestTheAxleThatCarriesMoreCounts(t *testing.T) {
	const step = "load.lip.height=10 cm to 10.00001 cm; load.lip.wheel_radius=35 cm +/- 0 cm; load.lip.axle_share="
	at := func(share string) Ratio { return newSearch(read(t, changed(t, step+share)), view{}).n.load.Step }
	for share, want := range map[string]float64{"0.1": 0.8818, "0.9": 0.8818, "0.5": 0.4899} {
		if got := at(share); math.Abs(float64(got.High)-want) > 5e-5 || math.Abs(float64(got.Best)-want) > 5e-5 {
			t.Errorf("a share of %s takes %v of the weight, want %v", share, got, want)
		}
	}
	for share, asked := range map[string]bool{"": true, "0.4": false} {
		p := Reckon(read(t, changed(t, step+share)))
		if got := slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == "handbook limit/axle share unasked" }); got != asked {
			t.Errorf("a share of %q: the unasked one is assumed: %v", share, got)
		}
	}
}

// A locked wheel jams where the edge's tangent and the angle of friction come to 90°,
// and is no go from 80° on; the same step is no block for wheels that turn. On gravel,
// µ up to 0.75 or 36.87°: 17 cm before 35 cm leans 59.06°, 14 cm 53.13°, 10 cm 44.42°
// and so 81.3°, 8 cm 39.52° and so 76.4°, which is reckoned, with 4.13 of what is on it
// where levering and dragging would be 1.57.
//
// Source: derived, a body about to slide up the edge's tangent; by pocket calculator.
func TestALockedWheelAtAStepIsSlidOrJams(t *testing.T) {
	const step = "load.ground=gravel; load.lip.axle_share=0.5; load.lip.wheel_radius=35 cm +/- 0 cm; "
	for _, c := range []struct {
		sets string
		want Result
	}{
		{"load.lip.height=17 cm to 17.00001 cm; load.locked=1", Fail},
		{"load.lip.height=17 cm to 17.00001 cm; load.locked=0", Pass},
		{"load.lip.height=17 cm to 17.00001 cm; load.locked=", Unknown},
		{"load.lip.height=14 cm to 14.00001 cm; load.locked=0.5", Fail},
		{"load.lip.height=10 cm to 10.00001 cm; load.locked=0.1", Fail},
		{"load.lip.height=8 cm to 8.00001 cm; load.locked=1", Pass},
		{"load.lip.height=17 cm to 17.00001 cm; load.locked=1; load.ground=ice", Pass},
	} {
		o := weighedBest(t, changed(t, step+c.sets))
		if got := outcomes(o, "L7/jams"); len(got[c.want]) == 0 || c.want != Pass && o.v.decision == Go {
			t.Errorf("%s: %s, %v, want %s", c.sets, o.v.decision, got, c.want)
		}
	}
	n := newSearch(read(t, changed(t, step+"load.lip.height=8 cm to 8.00001 cm; load.locked=1; load.slope=0 deg +/- 0 deg")), view{}).n
	half := unit.Weight(n.load.Mass.High).Newtons() / 2
	if got, want := (n.sum.Lip.High + n.sum.Drag.High).Newtons(), half*(4.130+0.75); math.Abs(got-want) > 0.001*want {
		t.Errorf("slid and dragged it takes %.0f N, want %.0f", got, want)
	}
	if got := n.load.Locked; got != bound.Exactly(bound.Ratio(1)) {
		t.Errorf("locked is %v", got)
	}
}
