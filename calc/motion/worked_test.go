package motion

import (
	"testing"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func metres(x float64) bound.Of[unit.Length] { return bound.Exactly(unit.Metres(x)) }
func newtons(x float64) bound.Of[unit.Force] { return bound.Exactly(unit.Newtons(x)) }

// TestNylonStiffness: UFC 4-159-03, Table 6-8: nylon double braid of 1.0, 1.3 and
// 2.1 in breaks at 33.6, 59 and 153 kip and has an EA of 118.9, 208.8 and 541.6 kip.
// The tables' best strain gives the printed EA to 1 %; the printed one lies inside
// the range that is planned with.
func TestNylonStiffness(t *testing.T) {
	const source = "UFC 4-159-03, Table 6-8"
	strain, _, _ := handbook.StretchAtBreak("nylon")
	for _, kip := range [][2]float64{{33.6, 118.9}, {59, 208.8}, {153, 541.6}} {
		ea, err := Stiffness(bound.Exactly(unit.PoundsForce(1000*kip[0])), strain)
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, source, "EA kip", ea.Best.PoundsForce()/1000, kip[1], 0.01*kip[1])
		if ea.Low.PoundsForce() > 1000*kip[1] || ea.High.PoundsForce() < 1000*kip[1] {
			t.Errorf("%s: %v kip is outside %v", source, kip[1], ea)
		}
	}
	// Metric twins of the same rows.
	proof.Near(t, source, "1.0 in, kN", unit.PoundsForce(33_600).Kilonewtons(), 149.5, 0.05)
	proof.Near(t, source, "1.0 in EA, kN", unit.PoundsForce(118_900).Kilonewtons(), 529, 0.5)
}

// TestHandCalculations, each by pocket calculator.
func TestHandCalculations(t *testing.T) {
	travel, err := Travel(metres(12), 4)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, each part shortens by the distance", "m", travel.Best.Metres(), 48, 0)
	for _, c := range []struct {
		travel, run float64
		bites       int
	}{{48, 20, 3}, {48, 48, 1}, {48, 47.9, 2}, {0, 5, 1}, {0.3 * 3, 0.3, 3}} {
		n, err := Bites(unit.Metres(c.travel), unit.Metres(c.run))
		if err != nil || n != c.bites {
			t.Errorf("%v m with %v m of room: %d bites, %v", c.travel, c.run, n, err)
		}
	}
	share, tail, _ := handbook.RopeAllowance()
	rope, err := Rope(4, metres(15), metres(20), share, tail)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "common practice, (parts × reach + lead) × 1.1 + 3 m", "m", rope.Best.Metres(), (4*15+20)*1.1+3, 1e-9)

	// 12 kN in 30 m of EA 360 kN: 1 m of stretch, 6 kJ.
	j, s, err := Stored(newtons(12e3), Line{Stiffness: newtons(360e3), Length: metres(30)})
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, T L/EA", "m", s.Best.Metres(), 1, 1e-12)
	proof.Near(t, "derived, T² L/(2 EA)", "J", j.Best.Joules(), 6000, 1e-9)

	// 1,000 N held, 0.25 m of slack, EA/L 16 kN/m: 1000 + √(10⁶ + 2·1000·0.25·16000) = 4000.
	l := Line{Stiffness: newtons(320e3), Length: metres(20)}
	for slack, want := range map[float64]float64{0: 2000, 0.25: 4000} {
		f, err := Arrest(newtons(1000), unit.Metres(slack), l)
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, "derived, S + √(S² + 2 S s EA/L)", "N", f.Best.Newtons(), want, 1e-9)
	}

	least, _ := handbook.ClearLeast()
	spans, _ := handbook.ClearSpans()
	for _, c := range []struct {
		span, whole float64
		recoils     bool
		want        float64
	}{{3, 30, false, 10}, {20, 30, false, 40}, {20, 60, true, 60}, {40, 60, true, 80}, {3, 5, true, 10}} {
		d := ClearDistance(unit.Metres(c.span), unit.Metres(c.whole), spans, c.recoils, least)
		proof.Near(t, "common practice, 10 m or twice the span", "m", d.Metres(), c.want, 0)
	}
}
