package anchor

import (
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

// TestPickets: NAVEDTRA 14251, ch. 6 and fig. 6-46: in undisturbed loam a single
// picket stands 700 lb, 1-1-1 1,800 lb, 3-2-1 4,000 lb.
func TestPickets(t *testing.T) {
	const source = "NAVEDTRA 14251 Steelworker V2, ch. 6"
	for pattern, lb := range map[string]float64{"1": 700, "1-1-1": 1800, "3-2-1": 4000} {
		loam, _, ok := handbook.PicketHold(pattern)
		if !ok {
			t.Fatalf("%s: no %s", source, pattern)
		}
		soil, _, _ := handbook.PicketSoil("loam")
		f, err := Picket(loam, soil.Low, 1)
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, source, pattern+" lb", f.PoundsForce(), lb, 0.5)
		factor, _, _ := handbook.DesignFactor("anchor")
		if f, err = Picket(loam, soil.Low, factor); err != nil {
			t.Fatal(err)
		}
		proof.Near(t, "common practice, a factor of two", pattern+" lb", f.PoundsForce(), lb/2, 0.5)
	}
}

// TestDeadman: FM 5-125, ch. 4 (from memory): loam, 7 ft deep, pull 1 in 3, a rope
// that breaks at 83,600 lb, a timber with a face of 18 in: 10.45 sq ft, bearing
// length 7 ft, with 2 ft of trench 9 ft. The pressure of 8,000 psf is read in
// TM 5-5420-278-10, Table 9, whose own rule adds a flat foot: 8 ft.
func TestDeadman(t *testing.T) {
	const source = "FM 5-125, ch. 4, from memory"
	pressure, _, ok := handbook.DeadmanPressure(unit.Feet(7), "1:3")
	if !ok {
		t.Fatal("no pressure")
	}
	l := Log{Face: unit.Inches(18), Trench: unit.Feet(2), Pressure: pressure, Soil: 1}
	strength := unit.PoundsForce(83_600)
	proof.Near(t, source, "area sq ft", strength.PoundsForce()/pressure.PoundsPerSquareFoot(), 10.45, 0.005)
	long, err := DeadmanLength(l, strength)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, source, "bearing length ft", (long - l.Trench).Feet(), 7, 0.5)
	proof.Near(t, source, "length ft", long.Feet(), 9, 0.5)
	l.Trench = unit.Feet(1)
	shorter, err := DeadmanLength(l, strength)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "TM 5-5420-278-10, p. 0035 00-22", "length ft", shorter.Feet(), 8, 0.5)
	// Of the two the longer counts.
	trench, _ := handbook.DeadmanTrench()
	proof.Near(t, "the longer of two manuals", "trench ft", trench.Feet(), 2, 0.05)
	// A timber that long over its face passes, a round log would not.
	timber, _ := handbook.DeadmanSlender(false)
	log, _ := handbook.DeadmanSlender(true)
	if slender := float64(long / l.Face); slender > float64(timber) || slender <= float64(log) {
		t.Errorf("TM 5-5420-278-10, p. 0035 00-23: length over face is %.2f", slender)
	}
}

// TestHandCalculations: a 4 t machine weighs 39.2266 kN; grip 0.3, half of it counted:
// 5.884 kN. Pulled down 10 deg its own grade takes 39.2266 × 0.17365 = 6.8116 of
// the 39.2266 × 0.3 × 0.98481 = 11.5892 that grips: 4.7777 left, half 2.389 kN.
// Down 17 deg (grade 11.469 of 11.254) nothing is left. Three stumps of 9, 10 and 12 kN: one counts, two where they share evenly.
func TestHandCalculations(t *testing.T) {
	var f unit.Force
	for down, kn := range map[float64]float64{0: 5.884, 10: 2.389, 17: 0} {
		var err error
		if f, err = Vehicle(unit.Tonnes(4), unit.Degrees(down), 0.3, 0.5); err != nil {
			t.Fatal(err)
		}
		proof.Near(t, "derived, (µ W cos θ − W sin θ) × share", "kN", f.Kilonewtons(), kn, 0.0005)
	}
	holds := []unit.Force{unit.Kilonewtons(10), unit.Kilonewtons(9), unit.Kilonewtons(12)}
	for equalised, kn := range map[bool]float64{false: 9, true: 18} {
		f, err := Shared(holds, equalised)
		if err != nil {
			t.Fatal(err)
		}
		proof.Near(t, "common practice", "kN", f.Kilonewtons(), kn, 1e-9)
	}
	if f, err := Shared(holds[:1], true); err != nil || f.Kilonewtons() != 10 {
		t.Errorf("one anchor shares with itself: %v, %v", f, err)
	}
	// 3 m × 0.3 m less 0.5 m of trench on 100 kPa: 75 kN, half of it 37.5.
	l := Log{Face: unit.Metres(0.3), Length: unit.Metres(3), Trench: unit.Metres(0.5), Pressure: unit.Pascals(1e5), Soil: 1}
	f, err := Deadman(l, 2)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, pressure × face × bearing length", "kN", f.Kilonewtons(), 37.5, 1e-9)
}
