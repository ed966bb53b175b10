package slope

import (
	"math"
	"testing"

	"linetender/calc/internal/proof"
	"linetender/calc/unit"
)

func pull(t *testing.T, m unit.Mass, grade unit.Angle) unit.Force {
	t.Helper()
	f, err := Pull(m, grade)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestTowingGrade: TB 9-2350-292-10, p. 21: 25 ft in 100 ft is a grade of 25 %.
func TestTowingGrade(t *testing.T) {
	const source = "TB 9-2350-292-10, p. 21"
	grade := unit.Rise(unit.Feet(25), unit.Feet(100))
	proof.Near(t, source, "per cent", grade.Percent(), 25, 0.5)
	proof.Near(t, source, "degrees", grade.Degrees(), 14.0, 0.05)
	// Both of its limits, 25 % and 30 %, as angles.
	proof.Near(t, source, "30 % in degrees", unit.Percent(30).Degrees(), 16.7, 0.05)
	// The pull is the sine: 25 % of grade is not quite a quarter of the weight.
	proof.Near(t, "derived, W sin θ", "share of a tonne", pull(t, unit.Tonnes(1), grade).KilogramsForce(), 242.5, 0.05)
}

// TestHandCalculation: 2,400 kg at 14°: sin 14° = 0.24192, cos 14° = 0.97030.
func TestHandCalculation(t *testing.T) {
	const source = "derived, equilibrium on the slope"
	proof.Near(t, source, "pull N", pull(t, unit.Kilograms(2400), unit.Degrees(14)).Newtons(), 2400*9.80665*0.24192, 0.5)
	n, err := Normal(unit.Kilograms(2400), unit.Degrees(14))
	if err != nil {
		t.Fatal(err)
	}
	proof.Near(t, source, "normal N", n.Newtons(), 2400*9.80665*0.97030, 0.5)
}

// TestSixtiethAgainstTheSine says how far the rule of thumb and statics are apart
// over the slopes it is used on. Commonwealth recovery notes, from memory.
func TestSixtiethAgainstTheSine(t *testing.T) {
	const source = "Commonwealth recovery notes, W × degrees / 60, against W sin θ"
	m := unit.Tonnes(1)
	for _, c := range []struct{ degrees, percent float64 }{
		{1, -4.5}, {5, -4.4}, {10, -4.0}, {15, -3.4}, {20, -2.5}, {25, -1.4}, {30, 0}, {35, 1.7}, {40, 3.7}, {45, 6.1},
	} {
		rule, err := Sixtieth(m, unit.Degrees(c.degrees))
		if err != nil {
			t.Fatal(err)
		}
		off := 100 * (float64(rule)/float64(pull(t, m, unit.Degrees(c.degrees))) - 1)
		proof.Near(t, source, "per cent off", off, c.percent, 0.05)
	}
	// Where it matters here, to the slope that is referred, it is never more than 5 %
	// off; under 30° it is always the lesser, so it may not stand for the pull.
	for d := 0.5; d <= 35; d += 0.5 {
		rule, _ := Sixtieth(m, unit.Degrees(d))
		exact := pull(t, m, unit.Degrees(d))
		if off := math.Abs(float64(rule)/float64(exact) - 1); off > 0.05 {
			t.Errorf("%s: %.1f %% off at %v°", source, 100*off, d)
		}
		if d < 30 && rule >= exact {
			t.Errorf("%s: %v° is not under the sine", source, d)
		}
	}
	// Past 45° it takes the whole weight, downhill as uphill.
	for _, c := range []struct{ degrees, share float64 }{{45, 0.75}, {45.1, 1}, {90, 1}, {-45, -0.75}, {-46, -1}, {0, 0}} {
		rule, _ := Sixtieth(m, unit.Degrees(c.degrees))
		proof.Near(t, source, "share of the weight", float64(rule)/float64(unit.Weight(m)), c.share, 1e-12)
	}
}
