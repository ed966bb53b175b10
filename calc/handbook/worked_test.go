package handbook

import (
	"math"
	"testing"

	"linetender/calc/unit"
)

// TestPickets: a holdfast in loam, as printed and in its metric twin.
func TestPickets(t *testing.T) {
	for _, c := range []struct {
		source, pattern string
		lbf             float64
	}{
		{"NAVEDTRA 14251 ch. 6", "1", 700},
		{"NAVEDTRA 14251 fig. 6-46", "1-1-1", 1800},
		{"NAVEDTRA 14251 fig. 6-46", "3-2-1", 4000},
	} {
		hold, r, ok := PicketHold(c.pattern)
		if !ok {
			t.Fatalf("%s: no %s", c.source, c.pattern)
		}
		near(t, c.source, c.pattern+" lbf", hold.PoundsForce(), c.lbf, 0.5)
		if r.Read != ReadThere {
			t.Errorf("%s: read %q", c.source, r.Read)
		}
	}
	// Navy Construction Electrician manual: 810 kg and 1,800 kg for the last two.
	triple, _, _ := PicketHold("1-1-1")
	near(t, "Navy Construction Electrician", "1-1-1 kgf", triple.KilogramsForce(), 810, 10)
	each, most, _ := SteelPicketHold()
	near(t, "Australian Emergency Manual 8.3-8.4", "steel picket kgf", each.KilogramsForce(), 350, 0.5)
	near(t, "Australian Emergency Manual 8.3-8.4", "pickets at most tf", most.TonnesForce(), 2, 0.05)

	// Two manuals give a single picket and 1-1-1: the table must hold the lower.
	single, _, _ := PicketHold("1")
	if single > each || triple > each.Scale(3) {
		t.Error("a picket table holds the higher of two published figures")
	}
	if hold, r, ok := PicketHold("2-1"); ok || hold != 0 || r != (Row{}) {
		t.Errorf("an unpublished pattern has %v", hold)
	}
}

// TestDeadmanPressure: TM 5-5420-278-10, p. 0035 00-22, Table 9.
func TestDeadmanPressure(t *testing.T) {
	const source = "TM 5-5420-278-10 Table 9"
	for _, c := range []struct {
		feet  float64
		slope string
		psf   float64
	}{
		{3, "1:1", 950}, {3, "1:4", 1500}, {4, "1:2", 2200}, {5, "1:3", 4000}, {6, "1:4", 6000}, {7, "1:2", 7000}, {7, "1:3", 8000},
		{3.99, "1:1", 950}, // rounded down to a printed depth
		{12, "1:1", 5100},  // no deeper figure is printed
		{4, "", 1750},      // slope unknown: use 1:1
		{6.5, "1:2", 5100}, //
	} {
		p, _, ok := DeadmanPressure(unit.Feet(c.feet), c.slope)
		if !ok {
			t.Fatalf("%s: none at %v ft", source, c.feet)
		}
		near(t, source, "psf", p.PoundsPerSquareFoot(), c.psf, 0.5)
	}
	if _, _, ok := DeadmanPressure(unit.Feet(2.9), "1:1"); ok {
		t.Error("a log shallower than 3 ft has a figure")
	}
	if _, _, ok := DeadmanPressure(unit.Feet(4), "2:1"); ok {
		t.Error("a slope that is not printed has a figure")
	}
	trench, row := DeadmanTrench()
	near(t, source, "trench ft", row.Length().Low.Feet(), 1, 0.05)
	near(t, "FM 5-125 ch. 4, the longer log", "trench ft", trench.Feet(), 2, 0.05)
	timber, _ := DeadmanSlender(false)
	log, _ := DeadmanSlender(true)
	near(t, "TM 5-5420-278-10 p. 0035 00-23", "timber", float64(timber), 9, 0)
	near(t, "TM 5-5420-278-10 p. 0035 00-23", "log", float64(log), 5, 0)

	// Deeper and flatter never hold less.
	slopes := []string{"1:1", "1:2", "1:3", "1:4"}
	for i, slope := range slopes {
		for feet := 4.0; feet <= 7; feet++ {
			here, _, _ := DeadmanPressure(unit.Feet(feet), slope)
			above, _, _ := DeadmanPressure(unit.Feet(feet-1), slope)
			steeper, _, _ := DeadmanPressure(unit.Feet(feet), slopes[max(i-1, 0)])
			if here <= above || here < steeper {
				t.Errorf("%s: %v ft %s holds %v, above it %v, steeper %v", source, feet, slope, here, above, steeper)
			}
		}
	}
}

// TestDrumLayers: TM 9-2320-279-10-2, Table 2-7, 20,000 lb on the bare drum.
func TestDrumLayers(t *testing.T) {
	for n, lb := range map[int]float64{1: 20000, 2: 18173, 3: 16663, 4: 15361, 5: 14254} {
		share, _, ok := DrumLayer(n)
		if !ok {
			t.Fatalf("no layer %d", n)
		}
		near(t, "TM 9-2320-279-10-2 Table 2-7", "lb", 20000*float64(share.Best), lb, 0.5)
		fit := 1 / (1 + 0.1*float64(n-1))
		near(t, "one tenth a layer", "share", float64(share.High), fit, 1e-6)
		if off := math.Abs(float64(share.Best)/fit - 1); off > 0.003 {
			t.Errorf("layer %d: the rule is %.2f %% off the table", n, 100*off)
		}
	}
	before := 2.0
	for n := 1; n <= 8; n++ {
		share, _, _ := DrumLayer(n)
		if !(float64(share.Low) < before) {
			t.Errorf("layer %d pulls no less than the one under it", n)
		}
		before = float64(share.Low)
	}
	for _, n := range []int{0, -1, 9, 100} {
		if share, _, ok := DrumLayer(n); ok {
			t.Errorf("layer %d has %v", n, share)
		}
	}
	// US Army recovery manuals: the last layer may give half.
	layer, _ := LastLayer()
	last, _, ok := DrumLayer(layer)
	if !ok || last.Low > 0.5 {
		t.Errorf("a drum nobody counted gives %v", last)
	}
}

// TestRulesOfThumb: the Navy's and the Australian worked figures.
func TestRulesOfThumb(t *testing.T) {
	breaking, _, _ := RopeBreaking("manila", unit.Inches(3))
	near(t, "NAVEDTRA 14043, manila 3 in", "lbf", breaking.PoundsForce(), 8100, 0.5)
	near(t, "NAVEDTRA 14043, manila 3 in", "kN", breaking.Kilonewtons(), 36.0, 0.05)
	nylon, _, _ := RopeBreaking("nylon", unit.Inches(2))
	near(t, "NAVEDTRA 14043, nylon 2400 C²", "lbf", nylon.PoundsForce(), 9600, 0.5)
	polyester, _, _ := RopeBreaking("polyester", unit.Inches(3))
	near(t, "deck-licence rule, polyester twice manila", "lbf", polyester.PoundsForce(), 16200, 0.5)

	// NAVEDTRA 14043: a fibre line for 5 tons is √75 = 8.6 in round.
	five, _ := FibreWorking(unit.Inches(math.Sqrt(75)))
	near(t, "NAVEDTRA 14043, C = √(15 P)", "lbf", five.PoundsForce(), 10000, 0.5)

	navy, _, _ := WireWorking("navy", unit.Inches(0.5))
	near(t, "NAVEDTRA 14026, 1/2 in", "short tons", navy.PoundsForce()/2000, 2, 0.05)
	// The two wire rules at 14 mm: 2,205 kg and 1,568 kg.
	navy14, _, _ := WireWorking("navy", unit.Millimetres(14))
	near(t, "NAVEDTRA 14026, 14 mm", "kgf", navy14.KilogramsForce(), 2205, 0.5)
	australia, _, _ := WireWorking("australia", unit.Millimetres(14))
	near(t, "Australian Disaster Rescue 3.15, 14 mm", "kgf", australia.KilogramsForce(), 1568, 0.5)

	chain, _ := ChainRule(unit.Inches(0.75))
	near(t, "Navy Steelworker V2, 3/4 in", "lbf", chain.PoundsForce(), 9000, 0.5)
	shackle, _ := ShackleRule(unit.Inches(0.625))
	near(t, "NAVEDTRA 14251 fig. 6-28, 5/8 in", "short tons", shackle.PoundsForce()/2000, 1.17, 0.005)
	// The metric twin of the shackle rule, 0.417 D² tonnes with D in centimetres,
	// was rounded down from 0.4219: it stands 1.2 % under the rule in inches.
	metric, _ := ShackleRule(unit.Centimetres(2))
	near(t, "NAVEDTRA 14251 fig. 6-28, metric", "over 0.417 D²", metric.TonnesForce()/(0.417*4), 1.012, 0.0005)
	hook, _ := HookRule(unit.Inches(1.5))
	near(t, "NAVEDTRA 14251 fig. 6-27, 1 1/2 in", "short tons", hook.PoundsForce()/2000, 1.5, 0.05)
	degrees, _ := GradeRule()
	near(t, "Commonwealth recovery notes", "degrees", degrees.Degrees(), 60, 1e-9)

	for _, material := range []string{"hmpe", "wire", "string"} {
		if f, _, ok := RopeBreaking(material, unit.Inches(3)); ok || f != 0 {
			t.Errorf("a rule for %s gives %v", material, f)
		}
	}
	if f, _, ok := WireWorking("army", unit.Inches(1)); ok || f != 0 {
		t.Errorf("an unknown rule gives %v", f)
	}
}

// TestKnots: Plymouth Cordage 1946, Day 1970 and USDA 1964, per cent kept.
func TestKnots(t *testing.T) {
	const source = "Plymouth Cordage 1946, Day 1970, USDA 1964"
	for name, percent := range map[string]float64{
		"eye splice": 95, "short splice": 90, "clove hitch": 75, "two half hitches": 75, "anchor bend": 70, "timber hitch": 70,
		"bowline": 60, "figure eight": 48, "square": 45, "overhand": 45, "sheepshank": 45,
	} {
		kept, _ := KnotEfficiency(name)
		near(t, source, name, 100*float64(kept.Best), percent, 1e-9)
	}
	for _, name := range []string{"Figure-eight knot", "FIGURE EIGHT", " figure_eight "} {
		if _, r := KnotEfficiency(name); r.Key != "figure eight" {
			t.Errorf("%q is read as %q", name, r.Key)
		}
	}
	other, r := KnotEfficiency("something the lads tied")
	if r.Key != otherKnot {
		t.Errorf("an unnamed knot is read as %q", r.Key)
	}
	for _, name := range KnotNames() {
		kept, _ := KnotEfficiency(name)
		if kept.Low < other.Low {
			t.Errorf("%s keeps %v, an unnamed knot %v", name, kept.Low, other.Low)
		}
		if name == otherKnot {
			t.Error("the unnamed knot is offered by name")
		}
	}
	for name, want := range map[string]bool{"Reef knot": false, "square": false, "granny": false, "bowline": true, "eye splice": true} {
		if got, _ := MayJoin(name); got != want {
			t.Errorf("MayJoin(%q) = %v", name, got)
		}
	}
}

// TestChain: 49 CFR 393.108, as printed, in pounds.
func TestChain(t *testing.T) {
	const source = "49 CFR 393.108"
	for _, c := range []struct {
		inches float64
		grade  int
		lbf    float64
	}{
		{0.25, 30, 1300}, {0.25, 100, 4300}, {0.375, 30, 2650}, {0.375, 70, 6600}, {0.375, 80, 7100},
		{0.4375, 70, 8750}, {0.5, 43, 9200}, {0.5, 100, 15000}, {0.625, 80, 18100}, {0.625, 100, 22600},
	} {
		f, _, ok := ChainWorking(unit.Inches(c.inches), c.grade)
		if !ok {
			t.Fatalf("%s: no %v in G%d", source, c.inches, c.grade)
		}
		near(t, source, "lbf", f.PoundsForce(), c.lbf, 0.5)
	}
	// Printed so, and not to be put right: grade 80 below grade 70 at 5/16 in.
	g70, _, _ := ChainWorking(unit.Inches(5.0/16), 70)
	g80, _, _ := ChainWorking(unit.Inches(5.0/16), 80)
	near(t, source, "5/16 in G70", g70.PoundsForce(), 4700, 0.5)
	near(t, source, "5/16 in G80", g80.PoundsForce(), 4500, 0.5)
}

// TestChainSizes: a size is found by its inch and its metric name, and by
// nothing else.
func TestChainSizes(t *testing.T) {
	for mm, inches := range map[float64]float64{7: 0.25, 8: 5.0 / 16, 10: 0.375, 11: 7.0 / 16, 13: 0.5, 16: 0.625} {
		metric, _, ok := ChainWorking(unit.Millimetres(mm), 70)
		inch, _, _ := ChainWorking(unit.Inches(inches), 70)
		if !ok || metric != inch {
			t.Errorf("%v mm is %v, %v in is %v", mm, metric, inches, inch)
		}
	}
	for _, c := range []struct {
		size  unit.Length
		grade int
	}{
		{unit.Millimetres(6), 30}, {unit.Millimetres(9), 30}, {unit.Millimetres(12), 30}, {unit.Inches(1), 30}, {0, 30},
		{unit.Inches(7.0 / 16), 80}, {unit.Inches(0.5), 90}, {unit.Length(math.NaN()), 30},
	} {
		if f, r, ok := ChainWorking(c.size, c.grade); ok || f != 0 || r != (Row{}) {
			t.Errorf("%v mm grade %d has %v", c.size.Millimetres(), c.grade, f)
		}
	}
}

// TestNylonStretch: UFC 4-159-03 Table 6-8, AE over break load 3.54 at each size.
func TestNylonStretch(t *testing.T) {
	stretch, _, _ := StretchAtBreak("nylon")
	for _, kip := range [][2]float64{{33.6, 118.9}, {59, 208.8}, {153, 541.6}} {
		near(t, "UFC 4-159-03 Table 6-8", "break / AE", kip[0]/kip[1], float64(stretch.Best), 0.005)
	}
	near(t, "NAVEDTRA 12018 p. 7-13", "before breaking", float64(stretch.High), 0.5, 0.005)
	wet, _ := NylonWet()
	near(t, "UFC 4-159-03 Table 6-8", "wet", float64(wet), 0.85, 0.005)
}

// TestPeople: one man 60 lb, a rescuer 50 lb, HSE 100 N (men) and 70 N (women) kept moving, athletes
// 1,041.6 N.
func TestPeople(t *testing.T) {
	pull, _ := PersonPull()
	near(t, "US Army engineer field manual para 30b", "N", pull.High.Newtons(), unit.PoundsForce(60).Newtons(), 0.5)
	near(t, "fire-service rope article", "N", pull.Best.Newtons(), unit.PoundsForce(50).Newtons(), 5)
	near(t, "HSE L23", "N", pull.Low.Newtons(), 70, 0.5)
	most, _ := PersonMost()
	if most.Newtons() < 1041.6 {
		t.Errorf("Cayero et al. 2022: athletes pull 1041.6 N, the table's most is %v", most.Newtons())
	}
}
