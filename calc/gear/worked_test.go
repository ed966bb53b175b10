package gear

import (
	"math"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

var steepest, _ = handbook.SlingAngleMost()

// TestSlingLegs: Site Safe NZ, Good Slinging Practice, sheet 4.2: 5,000 kg on two
// legs of 3.5 m with the hook 2 m up: 4,375 kg in each leg.
func TestSlingLegs(t *testing.T) {
	f, err := SlingLeg(unit.Weight(unit.Kilograms(5000)), 2, unit.Metres(3.5), unit.Metres(2))
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "Site Safe NZ, Good Slinging Practice, sheet 4.2", "kg", f.KilogramsForce(), 4375, 0.5)
	// Of more legs only two are counted on.
	count, _ := handbook.PartsThatCount(true)
	proof.Near(t, "Site Safe NZ; NAVEDTRA 14081", "legs that count of four", float64(min(4, count)), 2, 0)
}

// TestChoker: NAVEDTRA 14081, p. 13-20: a choker keeps 0.75: of a bridle's 9,900 lb
// 7,425 lb. Taken as a piece that keeps so much of its stamp.
func TestChoker(t *testing.T) {
	f, err := Working(Stamp{Force: unit.PoundsForce(9900), Factor: 1, Kept: 0.75, Legs: 1}, steepest)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "W17, NAVEDTRA 14081, p. 13-20", "lb", f.PoundsForce(), 7425, 0.5)
}

// TestBridle: NAVEDTRA 14080, p. 3-24: a bridle of two legs carries twice the vertical
// limit times H/L: here 3.5 m long and 2 m high.
func TestBridle(t *testing.T) {
	f, err := Working(Stamp{Force: unit.PoundsForce(1000), Factor: 1, Kept: 1, Legs: 2, Leg: unit.Radians(math.Acos(2 / 3.5))}, steepest)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "NAVEDTRA 14080, p. 3-24", "lb", f.PoundsForce(), 1000*2*2/3.5, 0.5)
}

// TestManilaSlings: 29 CFR 1918 App. II, Table 2: 1/2 in manila, vertical pair
// 1,100 lb; at 30, 45 and 60° from the line of pull 900, 750 and 550 lb, each rounded
// down to the next 50 lb.
func TestManilaSlings(t *testing.T) {
	for d, lb := range map[float64]float64{0: 1100, 30: 900, 45: 750, 60: 550} {
		f, err := Working(Stamp{Force: unit.PoundsForce(550), Factor: 1, Kept: 1, Legs: 2, Leg: unit.Degrees(d)}, steepest)
		if err != nil {
			t.Fatal(err)
		}
		// The printed figure and the cosine: never more than 55 lb apart.
		proof.Near(t, "29 CFR 1918 App. II, Table 2", "lb", f.PoundsForce(), lb, 55)
	}
}

// TestBreakingAndWorking: 10 kN breaking, factor 5, bowline 0.6 and one leg at 45°, by
// hand: 10/5 × 0.6 × 0.7071 = 0.8485; it breaks at 4.2426.
func TestBreakingAndWorking(t *testing.T) {
	s := Stamp{Force: unit.Kilonewtons(10), Breaking: true, Factor: 5, Kept: 0.6, Legs: 1, Leg: unit.Degrees(45)}
	w, err := Working(s, steepest)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, breaking ÷ factor × kept × cos", "kN", w.Kilonewtons(), 0.8485, 5e-5)
	b, err := Breaks(s, 2, steepest)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "derived, breaking × kept × cos", "kN", b.Kilonewtons(), 4.2426, 5e-5)
	// The same figure stamped as working limit breaks at twice it.
	s.Breaking = false
	b, err = Breaks(s, 2, steepest)
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, "common practice, twice the working limit", "kN", b.Kilonewtons(), 8.4853, 5e-5)
}
