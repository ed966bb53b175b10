package calc

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A rope of 20 mm polyester breaks at 330 × 20² = 132 kN where it is the
// strongest sold, 158.4 kN with what a stamp is let off; a fifth of that is
// 31.68 kN, 3.230 t. Whatever its stamp says, and however sure somebody is.
func TestAThinRopeKeepsItsFactor(t *testing.T) {
	for sets, want := range map[string]float64{ // t
		"gear[0].rating=3 t":                                 3, // its stamp is the lower
		"gear[0].rating=6 t":                                 158.4 / 5 / 9.80665,
		"gear[0].rating=6 t; gear[0].knots=bowline":          158.4 / 5 / 9.80665 * 0.6,
		"gear[0].rating=6 t; gear[0].diameter=28 mm":         6,
		"gear[0].rating=15 t; gear[0].rating_kind=breaking":  3,
		"gear[0].rating=6 t; gear[0].diameter=":              6, // only a stamp tells
		"gear[0].rating=3 t; gear[0].material=polypropylene": 200 * 400 * 1.2 / 5000 / 9.80665,
		"gear[0].rating=3 t; gear[0].material=manila":        100 * 400 * 1.2 / 5000 / 9.80665,
		"gear[0].rating=6 t; gear[0].material=hmpe":          6,
	} {
		sets = strings.ReplaceAll(sets, "", "")
		o := weighedBest(t, changed(t, "gear[2].diameter=25 cm", sets))
		for _, s := range o.path.seats {
			if s.use == "haul" && math.Abs(s.piece.working.TonnesForce()-want) > 1e-6 {
				t.Errorf("%q: it may carry %.4f t, want %.4f", sets, s.piece.working.TonnesForce(), want)
			}
		}
	}
}

// A rope of 12 mm polyester breaks at 330 × 12² = 47.52 kN where it is the strongest
// sold, 57.02 kN with what a stamp is let off, and three quarters of that is 42.77 kN.
// A working limit over the fifth of it, 1.163 t, is none that a maker gives, and
// whoever is sure of it does not make the rope stand more than the twice of it that a
// working limit is proved with.
func TestAnImplausibleWorkingStampIsNoProof(t *testing.T) {
	for rating, most := range map[string]float64{ // kN, that nobody may sign past
		"1.16 t": 2 * 1.16 * 9.80665, "1.17 t": 2 * 1.17 * 9.80665, "2 t": 2 * 2 * 9.80665, "2.2 t": 330 * 144 * 1.2 * 0.75 / 1000, "6 t": 330 * 144 * 1.2 * 0.75 / 1000,
	} {
		sheet := changed(t, "gear[2].diameter=25 cm; gear[0].diameter=12 mm; gear[0].rating="+rating)
		checkWorking(t, rating, Reckon(read(t, sheet)))
		o := weighedBest(t, sheet)
		for _, s := range o.path.seats {
			if got := s.breaks; s.use == "haul" && math.Abs(got.Scale(float64(s.peakMost())).Kilonewtons()-most) > 1e-3 {
				t.Errorf("stamped %s it stands %.2f kN, want %.2f", rating, got.Scale(float64(s.peakMost())).Kilonewtons(), most)
			}
		}
	}
}

// Nobody has said that it is so: it is asked, and no go until then.
func TestAnImplausibleWorkingStampIsAsked(t *testing.T) {
	s := changed(t, "gear[0].diameter=12 mm; gear[0].rating=1.3 t")
	s.Sure = nil
	p := Reckon(read(t, s))
	if p.Decision == Go || len(read(t, s).Odd) == 0 || !slices.ContainsFunc(p.Checks, func(c Check) bool { return c.Result == Unknown && slices.Contains(c.Fields, "gear[0].rating") }) {
		t.Errorf("%s: %v", p.Decision, p.Why)
	}
}

// Who takes what a piece breaks at for what it may carry is told so, and one
// that would break besides is told that.
func TestBreakingIsNotWorking(t *testing.T) {
	for sets, want := range map[string]string{
		"gear[3].rating=2 t": "breaks at 19.6 kN (4,400 lbf) and is to carry", "gear[3].rating=0.3 t": "The strop needs",
	} {
		p := Reckon(read(t, changed(t, "gear[3].rating_kind=breaking", sets)))
		if p.Decision != NoGo || !strings.Contains(strings.Join(p.Why, "\n"), want) {
			t.Errorf("%q: %s: %q, want %q", sets, p.Decision, p.Why, want)
		}
	}
}

// A rope stamped as breaking at more than any of its thickness does counts for what
// that leaves, whoever is sure of the stamp; and of untold thickness it may be so thin.
func TestABreakingStampIsHeldAgainstTheThickness(t *testing.T) {
	for thick, want := range map[string]Decision{"30 mm": Go, "5 mm": NoGo, "": Open} {
		s := changed(t, "gear[0].rating=20 t; gear[0].rating_kind=breaking; gear[0].diameter="+thick)
		if p := Reckon(read(t, s)); p.Decision != want {
			t.Errorf("%q thick: %s, want %s: %v", thick, p.Decision, want, p.Why)
		}
	}
}
