package handbook

import (
	"strings"
	"testing"

	"linetender/calc/unit"
)

// TestEveryRowIsUsed asks every accessor for everything it offers and expects
// to have met every row: a figure nobody can reach is a figure nobody checks.
func TestEveryRowIsUsed(t *testing.T) {
	met := map[string]bool{}
	see := func(r Row, oks ...bool) {
		t.Helper()
		for _, ok := range oks {
			if !ok {
				t.Errorf("accessor says no for %v", r)
			}
		}
		met[r.String()] = true
	}
	for _, g := range Grounds() {
		for _, f := range []func(Ground) (ranged, Row, bool){Rolling, Sliding, Grip, GripTracked} {
			_, r, ok := f(g)
			see(r, ok)
		}
	}
	for _, depth := range []string{"none", "hub", "fender", "cab"} {
		_, r, ok := Mire(depth)
		see(r, ok)
	}
	for _, kind := range []string{"plain", "roller"} {
		_, r, ok := SheaveEfficiency(kind)
		see(r, ok)
	}
	for n := 1; n <= 8; n++ {
		_, r, ok := DrumLayer(n)
		see(r, ok)
	}
	for _, hand := range []bool{false, true} {
		_, r := DrumAcross(hand)
		see(r)
	}
	for _, what := range []string{"rope on post", "slick rope on post", "steel cable in stump notch"} {
		_, r, ok := PostFriction(what)
		see(r, ok)
	}
	for _, m := range Materials() {
		_, r, ok := StretchAtBreak(m)
		see(r, ok)
		_, r, ok = Stretchy(m)
		see(r, ok)
		_, r, ok = SheaveOverRope(m)
		see(r, ok)
		_, r, ok = WrapsLeft(m)
		see(r, ok)
	}
	for _, m := range []string{"manila", "nylon", "polyester", "polypropylene"} {
		_, r, ok := StrengthOverManila(m)
		see(r, ok)
		_, r, ok = RopeBreaking(m, unit.Inches(3))
		see(r, ok)
	}
	for _, knot := range append(KnotNames(), "monkey's fist") {
		_, r := KnotEfficiency(knot)
		see(r)
	}
	for _, knot := range []string{"reef", "square", "granny", "thief"} {
		may, r := MayJoin(knot)
		see(r, !may)
	}
	for _, kind := range []string{"rope", "sling", "strap", "chain", "shackle", "block", "hook", "link", "tow point", "hitch", "anchor"} {
		_, r, ok := DesignFactor(kind)
		see(r, ok)
	}
	for _, key := range Keys(tableChainSize) {
		for _, grade := range []int{30, 43, 70, 80, 100} {
			_, r, _ := ChainWorking(must(tableChainSize, key).Length().Low, grade)
			see(r)
		}
		met[tableChainSize+"/"+key] = true // its ends decide the lookups of TestChainSizes
	}
	for _, pattern := range PicketPatterns() {
		_, r, ok := PicketHold(pattern)
		see(r, ok)
	}
	for _, soil := range Soils() {
		_, r, ok := PicketSoil(soil)
		see(r, ok)
		_, r, ok = DeadmanSoil(soil)
		see(r, ok)
	}
	for _, feet := range []float64{3, 4, 5, 6, 7} {
		for _, slope := range []string{"1:1", "1:2", "1:3", "1:4"} {
			_, r, ok := DeadmanPressure(unit.Feet(feet), slope)
			see(r, ok)
		}
	}
	for _, d := range []float64{0.3, 0.45} {
		_, r, ok := TreeHold(unit.Metres(d))
		see(r, ok)
		_, r, ok = StumpHold(unit.Metres(d))
		see(r, ok)
	}
	for _, over := range []float64{1, 2, 4, 8, 20} {
		_, r, ok := BendShare(unit.Millimetres(over*10), unit.Millimetres(10))
		see(r, ok)
	}
	for _, m := range append(Materials(), "") {
		_, r, ok := StrongestRope(m, unit.Millimetres(10))
		see(r, ok)
	}
	if _, r := StrongestChain(unit.Millimetres(10)); r.Table != tableChain {
		t.Errorf("the strongest chain is of %v", r)
	}
	if least, _ := LineThinnest(); least != unit.Millimetres(4) {
		t.Errorf("a line may be as thin as %v, want 4 mm (judgment)", least)
	}
	if least := BendLeast(); least != 0.5 {
		t.Errorf("the tightest bend leaves %v, want 0.5 (Wire Rope Users Manual, from memory)", least)
	}
	if least := ShackleSideLeast(); least != 0.5 {
		t.Errorf("square to its plane a shackle keeps %v, want 0.5 (WAC 296-155-33905, from memory)", least)
	}
	for _, deg := range []float64{0, 30, 80} {
		_, r, ok := ShackleSide(unit.Degrees(deg))
		see(r, ok)
	}
	for _, job := range []string{"any", "holding line", "road", "split signals", "simple pull", "hand winch"} {
		_, r, ok := CrewFor(job)
		see(r, ok)
	}
	for _, from := range []string{"weighed", "plate", "guess"} {
		_, r, ok := MassSpread(from)
		see(r, ok)
	}
	for _, from := range []string{"level", "phone", "eye"} {
		_, r, ok := SlopeSpread(from)
		see(r, ok)
	}
	for _, from := range []string{"measured", "eye"} {
		_, r, ok := OffLineSpread(from)
		see(r, ok)
	}
	for _, rule := range []string{"navy", "australia"} {
		_, r, ok := WireWorking(rule, unit.Inches(1))
		see(r, ok)
	}
	for _, what := range Keys(tableLikely) {
		_, mass, ofMass := LikelyMass(what)
		_, force, ofForce := LikelyForce(what)
		_, length, ofLength := LikelyLength(what)
		if ofMass == ofForce && ofForce == ofLength {
			t.Errorf("%s is no one kind of quantity", what)
		}
		for _, r := range []Row{mass, force, length} {
			if r != (Row{}) {
				see(r)
			}
		}
	}
	for _, r := range singles() {
		see(r)
	}
	for _, r := range Rows() {
		// Where a step begins is the business of its own boundary test.
		step := strings.HasSuffix(r.Key, " from") || strings.HasSuffix(r.Key, " to") || r.Table == tableDepth
		// These come back beside another row's figure; their values are tested by name.
		beside := map[string]bool{"limit/rope tail": true, "limit/slack none": true, "limit/slack much": true, "picket steel/at most": true}
		if !met[r.String()] && (!step || r.Key == "stretchy from") && !beside[r.String()] {
			t.Errorf("%v is never used", r)
		}
	}
}

// singles returns the row of every accessor that takes no key.
func singles() []Row {
	var all []Row
	second := func(_ any, r Row) { all = append(all, r) }
	add := func(r Row) { all = append(all, r) }
	for _, f := range ratios {
		second(f())
	}
	for _, f := range []func() (unit.Mass, Row){MassSigned, MassReferred, MassRefused, HeaviestPuller, Beside} {
		second(f())
	}
	for _, f := range []func() (unit.Angle, Row){
		SlopeSigned, SlopeReferred, SideSlopeFree, SideSlopeBlocked, OffLineFree, OffLineBlocked, OffLineRefused,
		PullerSlopeAlong, PullerSlopeAcross, PullerSlopeAlongBlocked, PullerSlopeAcrossBlocked, SlingAngleMost, SimplePullSlope, ChockSlope, GradeRule, GradeRuleEnd, LipSlides, RampedFrom, TurnedFrom,
	} {
		second(f())
	}
	for _, f := range []func() (unit.Force, Row){ForceSigned, ForceReferred, PersonMost, StrongestGear, StrongestAnchor} {
		second(f())
	}
	for _, f := range []func() (unit.Length, Row){
		ClearLeast, SlackChecked, SlackLeast, StepSpread, HoldingShortest, StopDistance, OverheadClear, FirstMove, AnchorMark, HandsOff, BatteryClear, DeadmanTrench, BlocksApart, LongestRope, LineThinnest, NearestPuller, WheelUnasked,
	} {
		second(f())
	}
	for _, f := range []func() (int, Row){LastLayer, OverridesMost, PartsOfUse, TriesMost, ChocksLeast} {
		second(f())
	}
	for _, f := range []func(unit.Length) (unit.Force, Row){FibreWorking, ChainRule, ShackleRule, HookRule} {
		second(f(unit.Inches(1)))
	}
	for _, hand := range []bool{true, false} {
		second(StrongestWinch(hand))
	}
	for _, m := range []unit.Mass{unit.Tonnes(3), unit.Tonnes(4)} {
		second(UnloadedMost(m))
	}
	second(BellyDrag())
	second(Pace())
	second(SlingChoked())
	second(StrongestShackle())
	second(DoubtOver())
	second(LightLoad())
	second(LightLoadHeld())
	second(StaleAfter())
	second(SnubTurns())
	second(PersonPull())
	second(PersonMass())
	second(PartsThatCount(false))
	second(PartsThatCount(true))
	second(DeadmanSlender(false))
	second(DeadmanSlender(true))
	_, _, steel := SteelPicketHold()
	add(steel)
	_, _, rope := RopeAllowance()
	add(rope)
	return all
}
