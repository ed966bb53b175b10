package handbook

import (
	"math"
	"testing"

	"linetender/calc/unit"
)

// TestGroundIsCareful holds the ground tables against the field planner's
// ranges (common practice): resistance never less at its high end, grip never
// more at its low end.
func TestGroundIsCareful(t *testing.T) {
	const source = "field planner's ranges, common practice"
	for g, high := range map[Ground]float64{Gravel: .05, FirmSoil: .08, Grass: .12, WetGrass: .16, Sand: .30, Mud: .40, Snow: .20} {
		if c, _, _ := Rolling(g); float64(c.High) < high {
			t.Errorf("%s: rolling on %s %v", source, g, c)
		}
	}
	for g, high := range map[Ground]float64{Gravel: .75, Grass: .65, WetGrass: .55, Mud: .80} {
		if c, _, _ := Sliding(g); float64(c.High) < high {
			t.Errorf("%s: sliding on %s %v", source, g, c)
		}
	}
	for g, low := range map[Ground]float64{
		Asphalt: .6, Gravel: .4, FirmSoil: .4, Grass: .3, WetGrass: .15, Snow: .15, Mud: .1, Ice: .04,
	} {
		if c, _, _ := Grip(g); float64(c.Low) > low {
			t.Errorf("%s: grip on %s %v", source, g, c)
		}
	}
}

// TestRollingReachesTheRecoveryFractions: a load on such ground may need what the
// recovery notes have for it. Theirs for gravel is left out on purpose.
func TestRollingReachesTheRecoveryFractions(t *testing.T) {
	const source = "military recovery notes, from memory"
	for g, of := range map[Ground]float64{Asphalt: 25, WetAsphalt: 25, Grass: 7, WetGrass: 7, Sand: 2, Mud: 2} {
		if c, _, _ := Rolling(g); float64(c.High) < 1/of {
			t.Errorf("%s: %s takes 1/%v of the weight, and its rolling is at most %v", source, g, of, c.High)
		}
	}
}

// TestGripUnderNoon: what a puller keeps after its own rolling resistance is
// never above the adhesion that Noon 1994 has for the ground.
func TestGripUnderNoon(t *testing.T) {
	for g, adhesion := range map[Ground]float64{
		Asphalt: .65, WetAsphalt: .50, Gravel: .35, FirmSoil: .35, WetGrass: .20, Snow: .20, Ice: .10,
	} {
		grip, _, _ := Grip(g)
		rolling, _, _ := Rolling(g)
		if left := float64(grip.Low - rolling.High); left > adhesion {
			t.Errorf("Noon 1994: %s leaves %.2f, printed %.2f", g, left, adhesion)
		}
	}
	// Loose moist dirt's 0.60 to 0.65 is drag, never usable grip.
	loose, _, _ := Grip(LooseSoil)
	drag, _, _ := Sliding(LooseSoil)
	if loose.Best >= 0.60 || drag.High < 0.65 {
		t.Errorf("Noon 1994, loose moist dirt: grip %v, drag %v", loose, drag)
	}
}

func TestGroundMakesSense(t *testing.T) {
	for _, g := range Grounds() {
		rolling, _, _ := Rolling(g)
		sliding, _, _ := Sliding(g)
		grip, _, _ := Grip(g)
		tracked, _, _ := GripTracked(g)
		if g != Ice && (rolling.Best >= sliding.Best || rolling.High > sliding.High) {
			t.Errorf("%s: freed wheels drag as much as locked ones", g)
		}
		if tracked.Low > grip.Low || tracked.High < grip.High {
			t.Errorf("%s: tracks %v are kinder than tyres %v", g, tracked, grip)
		}
		if !(0 < rolling.Low && sliding.High <= 1.2 && 0 < grip.Low && grip.High <= 1.2) {
			t.Errorf("%s: %v %v %v", g, rolling, sliding, grip)
		}
	}
	for dry, wet := range map[Ground]Ground{Asphalt: WetAsphalt, Grass: WetGrass} {
		d, _, _ := Grip(dry)
		w, _, _ := Grip(wet)
		r, _, _ := Rolling(dry)
		s, _, _ := Rolling(wet)
		if w.Low > d.Low || w.Best > d.Best || w.High > d.High || s.High < r.High {
			t.Errorf("%s is kinder than %s", wet, dry)
		}
	}
	if _, r, ok := Grip("lava"); ok || r != (Row{}) {
		t.Error("lava grips")
	}
}

// TestMire: Army exercise sheet 63B34G01 Suppl 1a, factors 1, 2 and 3.
func TestMire(t *testing.T) {
	for depth, factor := range map[string]float64{"none": 0, "hub": 1, "fender": 2, "cab": 3} {
		times, _, ok := Mire(depth)
		if !ok || float64(times.Best) != factor || float64(times.High) < factor {
			t.Errorf("63B34G01: %s is %v, printed %v", depth, times, factor)
		}
	}
	if _, _, ok := Mire("knee"); ok {
		t.Error("an unknown depth has a factor")
	}
}

// TestPlainSheavesAgainstTheManual compares the low end of plain sheaves with
// NAVEDTRA 14251's ten per cent of the load for each sheave, 2 to 6 parts.
func TestPlainSheavesAgainstTheManual(t *testing.T) {
	eta, _, _ := SheaveEfficiency("plain")
	rule, _ := ManualRulePerSheave()
	low := float64(eta.Low)
	for n := 2; n <= 6; n++ {
		standing, moving := 0.0, 0.0
		for i := range n {
			moving += math.Pow(low, float64(i))
			standing += math.Pow(low, float64(i+1))
		}
		parts := float64(n)
		if manual := parts / (1 + float64(rule)*parts); standing > manual {
			t.Errorf("%d parts from the standing block: %.3f, the manual's %.3f", n, standing, manual)
		}
		// With one sheave fewer the manual is the more careful, by up to 4 %:
		// who plans must take the worse of the two.
		manual := parts / (1 + float64(rule)*(parts-1))
		if over := moving/manual - 1; !(0 < over && over <= 0.04) {
			t.Errorf("%d parts from the moving block: %.3f, the manual's %.3f", n, moving, manual)
		}
	}
}

// TestSheavesSpanThePublished: Pipeline Rules of Thumb p. 6 and the tenth.
func TestSheavesSpanThePublished(t *testing.T) {
	for kind, printed := range map[string][]float64{"plain": {0.917, 0.9}, "roller": {0.962}} {
		eta, _, _ := SheaveEfficiency(kind)
		for _, e := range printed {
			if e < float64(eta.Low) || e > float64(eta.High) {
				t.Errorf("%s sheave %v is outside %v", kind, e, eta)
			}
		}
	}
	if _, _, ok := SheaveEfficiency("magnetic"); ok {
		t.Error("an unknown sheave has an efficiency")
	}
}

// TestSteps walks the tables that are read by rounding down.
func TestSteps(t *testing.T) {
	for _, c := range []struct{ metres, tonnes float64 }{{0.29, 0}, {0.30, 1}, {0.44, 1}, {0.45, 2}, {2, 2}} {
		for _, hold := range []func(unit.Length) (unit.Force, Row, bool){TreeHold, StumpHold} {
			f, r, ok := hold(unit.Metres(c.metres))
			if math.Abs(f.TonnesForce()-c.tonnes) > 1e-9 || ok != (c.tonnes > 0) {
				t.Errorf("%v m holds %v t (%v)", c.metres, f.TonnesForce(), ok)
			}
			if ok && !r.Assumed() {
				t.Error("a tree's hold is not shown as an assumption")
			}
		}
	}
	for _, c := range []struct{ over, share float64 }{{0.9, 0}, {1, .5}, {1.9, .5}, {2, .6}, {4, .7}, {8, .8}, {20, .9}, {90, .9}} {
		share, _, ok := BendShare(unit.Millimetres(10*c.over), unit.Millimetres(10))
		if float64(share) != c.share || ok != (c.share > 0) {
			t.Errorf("bent over %v diameters keeps %v (%v)", c.over, share, ok)
		}
	}
	if _, _, ok := BendShare(unit.Millimetres(10), 0); ok {
		t.Error("a rope without thickness keeps its strength")
	}
	for _, c := range []struct{ deg, share float64 }{{0, 1}, {5, 1}, {5.1, .7}, {45, .7}, {46, .5}, {90, .5}, {91, 0}, {-1, 0}} {
		share, _, ok := ShackleSide(unit.Degrees(c.deg))
		if float64(share) != c.share || ok != (c.share > 0) {
			t.Errorf("WAC 296-155-33905: a shackle at %v degrees keeps %v (%v)", c.deg, share, ok)
		}
	}
}

// TestLimitsOrder: what refers lies beyond what is signed, and the rest of the
// thresholds stand in the order they are used.
func TestLimitsOrder(t *testing.T) {
	massSigned, _ := MassSigned()
	massReferred, _ := MassReferred()
	massRefused, _ := MassRefused()
	slopeSigned, _ := SlopeSigned()
	slopeReferred, _ := SlopeReferred()
	forceSigned, _ := ForceSigned()
	forceReferred, _ := ForceReferred()
	if !(massSigned < massReferred && massReferred < massRefused && slopeSigned < slopeReferred && forceSigned < forceReferred) {
		t.Error("a limit that refers lies inside one that is signed")
	}
	near(t, "common practice", "t signed, referred", massReferred.Tonnes()/massSigned.Tonnes(), 3, 1e-9)
	near(t, "common practice", "kN signed", forceSigned.Kilonewtons(), 50, 1e-9)
	near(t, "common practice", "kN referred", forceReferred.Kilonewtons(), 150, 1e-9)
	near(t, "common practice", "degrees signed", slopeSigned.Degrees(), 25, 1e-9)
	near(t, "common practice", "degrees referred", slopeReferred.Degrees(), 35, 1e-9)

	slacks := Slacks()
	checked, _ := SlackChecked()
	if len(slacks) != 3 || slacks[0] != 0 || slacks[1] != checked || slacks[2].Metres() != 0.5 {
		t.Errorf("slacks %v, checked with %v", slacks, checked)
	}
	share, tail, _ := RopeAllowance()
	near(t, "common practice", "rope share", float64(share), 1.1, 1e-12)
	near(t, "common practice", "rope tail m", tail.Metres(), 3, 1e-12)
}

// TestUnknownKeys: a lookup that fails says so and gives nothing.
func TestUnknownKeys(t *testing.T) {
	for what, lookup := range map[string]func() (float64, Row, bool){
		"stretch":         func() (float64, Row, bool) { x, r, ok := StretchAtBreak("string"); return float64(x.High), r, ok },
		"stretchy":        func() (float64, Row, bool) { _, r, ok := Stretchy("string"); return 0, r, ok },
		"sheave":          func() (float64, Row, bool) { x, r, ok := SheaveOverRope("string"); return float64(x), r, ok },
		"wraps":           func() (float64, Row, bool) { n, r, ok := WrapsLeft("string"); return float64(n), r, ok },
		"factor":          func() (float64, Row, bool) { x, r, ok := DesignFactor("belt"); return float64(x), r, ok },
		"crew":            func() (float64, Row, bool) { n, r, ok := CrewFor("party"); return float64(n), r, ok },
		"mass spread":     func() (float64, Row, bool) { x, r, ok := MassSpread("rumour"); return float64(x), r, ok },
		"off line spread": func() (float64, Row, bool) { x, r, ok := OffLineSpread("rumour"); return float64(x), r, ok },
		"slope spread":    func() (float64, Row, bool) { x, r, ok := SlopeSpread("rumour"); return float64(x), r, ok },
		"picket soil":     func() (float64, Row, bool) { x, r, ok := PicketSoil("cheese"); return float64(x.High), r, ok },
		"deadman soil":    func() (float64, Row, bool) { x, r, ok := DeadmanSoil("cheese"); return float64(x.High), r, ok },
		"over manila":     func() (float64, Row, bool) { x, r, ok := StrengthOverManila("string"); return float64(x), r, ok },
		"post friction":   func() (float64, Row, bool) { x, r, ok := PostFriction("ice"); return float64(x.High), r, ok },
	} {
		if x, r, ok := lookup(); ok || x != 0 || r != (Row{}) {
			t.Errorf("%s: %v, %v, %v", what, x, r, ok)
		}
	}
	if stretchy, _, _ := Stretchy(Wire); stretchy {
		t.Error("wire is stretchy")
	}
	if stretchy, _, _ := Stretchy("nylon"); !stretchy {
		t.Error("nylon is not stretchy")
	}
}
