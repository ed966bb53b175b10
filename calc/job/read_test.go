package job_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
	"linetender/calc/unit"
)

func mustCase(t *testing.T, text string) job.Case {
	t.Helper()
	c, err := caseOf(text)
	if err != nil {
		t.Fatalf("%s: %v", text, err)
	}
	return c
}

func loadOf(t *testing.T, mass, from, slope, slopeFrom string) job.Case {
	t.Helper()
	text := `{"load": {"mass": "` + mass + `", "slope": "` + slope + `", "pull": "uphill", "ground": "grass"`
	if from != "" {
		text += `, "mass_from": "` + from + `"`
	}
	if slopeFrom != "" {
		text += `, "slope_from": "` + slopeFrom + `"`
	}
	return mustCase(t, text+`}}`)
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(b)) }

// A mass spans how it was found, on top of what its words leave open; what a
// person tells of its spread may widen that and never narrows it. A range stands
// in place of it, and is no finer than a scale.
func TestMassSpreads(t *testing.T) {
	const pound = 0.45359237
	for _, r := range []struct {
		mass, from      string
		low, best, high float64 // kg
		assumed         bool
	}{
		{"2000 kg", "weighed", 1940, 2000, 2060, false},
		{"2000 kg", "plate", 1800, 2000, 2200, false},
		{"2000 kg", "guess", 1500, 2000, 2500, false},
		{"2000 kg", "", 1500, 2000, 2500, true},
		{"2.2 to 2.6 t", "guess", 2200, 2400, 2600, false},
		{"2.2 to 2.6 t", "", 2200, 2400, 2600, true},
		{"1.999 to 2.001 t", "guess", 1940, 2000, 2060, false},
		{"1.999 to 2.001 t", "", 1940, 2000, 2060, true},
		{"1.2 to 3.6 t", "", 1200, 2400, 3600, true},
		{"2000 kg +/- 0 %", "guess", 1500, 2000, 2500, false},
		{"2000 kg +/- 0 %", "", 1500, 2000, 2500, true},
		{"2000 kg +/- 1 kg", "plate", 1800, 2000, 2200, false},
		{"2000 kg +/- 0.1 %", "weighed", 1940, 2000, 2060, false},
		{"2000 kg +/- 10 %", "weighed", 1800, 2000, 2200, false},
		{"2000 kg +/- 40 %", "guess", 1200, 2000, 2800, false},
		{"1.8 t + 300 kg", "guess", 1575, 2100, 2625, false},
		{"2 to 2.4 t + 400 kg", "guess", 1800, 2600, 3500, false}, // the 400 kg have no spread of their own
		{"2 to 2.4 t + 300 to 400 kg", "guess", 2300, 2550, 2800, false},
		{"2 short tons", "weighed", 4000 * pound * 0.97, 4000 * pound, 4000 * pound * 1.03, false},
	} {
		c := loadOf(t, r.mass, r.from, "0 deg", "level")
		m := c.Load.Mass
		if !near(m.Low.Kilograms(), r.low) || !near(m.Best.Kilograms(), r.best) || !near(m.High.Kilograms(), r.high) {
			t.Errorf("%s by %q: %v, want %g, %g, %g kg", r.mass, r.from, m, r.low, r.best, r.high)
		}
		said := slices.ContainsFunc(c.Supplied, func(s job.Supplied) bool { return s.Field == "load.mass_from" && s.Value == "guess" })
		if said != r.assumed {
			t.Errorf("%s by %q: supplied %v", r.mass, r.from, c.Supplied)
		}
	}
	// A bare ton is 2,000 lb to 2,240 lb and a hundredweight 100 to 112 lb,
	// before any spread is laid on.
	for _, r := range []struct {
		mass      string
		low, high float64 // lb
	}{{"2 tons", 4000, 4480}, {"2 ton", 4000, 4480}, {"40 cwt", 4000, 4480}, {"2 tons +/- 0 %", 4000, 4480}} {
		m := loadOf(t, r.mass, "plate", "0 deg", "level").Load.Mass
		if !near(m.Low.Kilograms(), r.low*pound*0.9) || !near(m.High.Kilograms(), r.high*pound*1.1) || m.Best < m.Low || m.Best > m.High {
			t.Errorf("%s by plate spans %v, want %g to %g lb and a tenth beyond", r.mass, m, r.low, r.high)
		}
	}
	c := mustCase(t, with("", `"gear": [{"kind": "rope", "rating": "2 tons", "rating_kind": "working"}], "puller": {"mass": "4 t"}, "anchors": [{"kind": "vehicle", "mass": "3 t"}]`))
	if got := c.Gear[0].Rating.Force.Low; !near(got.Newtons(), unit.Weight(unit.ShortTons(2)).Newtons()) {
		t.Errorf("a rating of 2 tons counts from %v", got)
	}
	if m := c.Pullers[0].Mass; !near(m.Low.Kilograms(), 3600) || !near(m.High.Kilograms(), 4400) {
		t.Errorf("a puller of 4 t spans %v", m)
	}
	for text, most := range map[string]float64{"4 t +/- 0 %": 4400, "4 t +/- 1 kg": 4400, "4 t +/- 10 %": 4400, "4 t +/- 15 %": 4600, "3.9 to 4.1 t": 4120, "3 to 5 t": 5000} {
		if m := mustCase(t, with("", `"puller": {"mass": "`+text+`"}`)).Pullers[0].Mass; !near(m.High.Kilograms(), most) || !near(m.Low.Kilograms(), 8000-most) {
			t.Errorf("a puller of %s spans %v", text, m)
		}
	}
}

func TestSlopeSpreads(t *testing.T) {
	gap, rise := math.Atan2(9, 48)*180/math.Pi, math.Asin(9.0/48)*180/math.Pi
	for _, r := range []struct {
		slope, from     string
		low, best, high float64 // degrees
		told            string
		assumed         bool
	}{
		{"14 deg", "level", 13, 14, 15, "", false},
		{"14 deg", "phone", 13, 14, 15, "", false},
		{"14 deg", "eye", 10, 14, 18, "", false},
		{"14 deg", "", 10, 14, 18, "", true},
		{"10 to 14 deg", "eye", 10, 12, 14, "", false},
		{"10 to 14 deg", "", 10, 12, 14, "", false},
		{"12 to 12.1 deg", "eye", 11.05, 12.05, 13.05, "", false},
		{"5 to 19 deg", "eye", 5, 12, 19, "", false},
		{"14 deg +/- 0 deg", "eye", 10, 14, 18, "", false},
		{"14 deg +/- 0 deg", "", 10, 14, 18, "", true},
		{"14 deg +/- 0.1 deg", "level", 13, 14, 15, "", false},
		{"14 deg +/- 6 deg", "eye", 8, 14, 20, "", false},
		{"level 48 in, gap 9 in +/- 0 in", "eye", gap - 1, gap, gap + 1, "level", false},
		{"1 in 1", "level", 44, 45, 46, "", false},
		{"100 %", "level", 44, 45, 46, "", false},
		{"level 48 in, gap 9 in", "eye", gap - 1, gap, gap + 1, "level", false},
		{"level 48 in, gap 9 in", "", gap - 1, gap, gap + 1, "level", false},
		{"board 48 in, rise 9 in", "eye", rise - 1, rise, rise + 1, "board", false},
		{"2 deg", "eye", -2, 2, 6, "", false}, // nearly level by eye may lean the other way
	} {
		c := loadOf(t, "2 t", "weighed", r.slope, r.from)
		a := c.Load.Slope
		if !near(a.Low.Degrees(), r.low) || !near(a.Best.Degrees(), r.best) || !near(a.High.Degrees(), r.high) {
			t.Errorf("%s by %q: %v to %v to %v deg", r.slope, r.from, a.Low.Degrees(), a.Best.Degrees(), a.High.Degrees())
		}
		if c.Load.SlopeTold != r.told {
			t.Errorf("%s was told by %q, want %q", r.slope, c.Load.SlopeTold, r.told)
		}
		said := slices.ContainsFunc(c.Supplied, func(s job.Supplied) bool { return s.Field == "load.slope_from" && s.Value == "eye" })
		if said != r.assumed {
			t.Errorf("%s by %q: supplied %v", r.slope, r.from, c.Supplied)
		}
	}
	if a := loadOf(t, "2 t", "weighed", "89 deg", "eye").Load.Slope; a.High.Degrees() >= 90 {
		t.Errorf("a cliff by eye reaches %v deg", a.High.Degrees())
	}
	c := mustCase(t, with(`"side_slope": "5 deg"`, `"puller": {"slope": "3 deg", "side_slope": "2 deg"}`))
	if a := c.Pullers[0].Slope; !near(a.High.Degrees(), 7) {
		t.Errorf("a puller's slope by eye reaches %v", a.High.Degrees())
	}
}

// A slope across is found as any other: by eye it is what the eye gives, of the
// load and of the puller, and so it is while nobody said how.
func TestSideSlopeSpreads(t *testing.T) {
	for _, r := range []struct {
		side, from string
		high       float64 // degrees
		assumed    bool
	}{
		{"8 deg", "level", 9, false},
		{"8 deg", "phone", 9, false},
		{"8 deg", "eye", 12, false},
		{"8 deg", "", 12, true},
		{"8 deg +/- 0 deg", "", 12, true},
		{"0 to 3 deg", "", 3, false},
		{"level 1 m, gap 10 cm", "", math.Atan(0.1)*180/math.Pi + 1, false},
	} {
		told := `"side_slope": "` + r.side + `"`
		if r.from != "" {
			told += `, "side_slope_from": "` + r.from + `"`
		}
		c := mustCase(t, with(told, `"puller": {`+told+`}`))
		for path, a := range map[string]*job.Angle{"load": c.Load.SideSlope, "puller": c.Pullers[0].SideSlope} {
			if a == nil || !near(a.High.Degrees(), r.high) {
				t.Errorf("%s by %q: the %s stands on %v, want up to %g deg", r.side, r.from, path, a, r.high)
			}
			said := slices.ContainsFunc(c.Supplied, func(s job.Supplied) bool { return s.Field == path+".side_slope_from" && s.Value == "eye" })
			if said != r.assumed {
				t.Errorf("%s by %q: supplied %v", r.side, r.from, c.Supplied)
			}
		}
	}
}

// Whatever is told of an instrument, it reads no truer than one does.
func TestCellSpreads(t *testing.T) {
	for text, most := range map[string]float64{"4 kN": 4200, "4 kN +/- 0 %": 4040, "4 kN +/- 2 %": 4080, "4 kN +/- 20 %": 4800, "3.999 to 4.001 kN": 4040} {
		c := mustCase(t, with("", `"seen": [{"what": "reading", "parts": 1, "force": "`+text+`", "at": "haul"}]`))
		if got := c.Seen[0].Force.High; !near(got.Newtons(), most) {
			t.Errorf("%s may be %v, want %g N", text, got, most)
		}
	}
}

// Null, an empty list and nothing are three answers.
func TestNoneIsNotUnsaid(t *testing.T) {
	for _, r := range []struct {
		load, rest string
		asked      bool
		hazards    []string
		lip, none  bool
		knots      bool
		layer      int
	}{
		{"", "", false, nil, false, false, false, 0},
		{`"lip": null`, `"hazards": []`, true, nil, true, true, false, 0},
		{`"lip": {}`, `"hazards": ["edge", "water", "edge"]`, true, []string{"water", "edge"}, false, false, false, 0},
		{`"lip": {"height": "10 cm", "wheel_radius": "40 cm", "axle_share": 0.5}`, `"gear": [{"kind": "rope", "knots": []}]`, false, nil, true, false, true, 0},
		{"", `"gear": [{"kind": "rope"}], "puller": {"kind": "winch"}`, false, nil, false, false, false, 5},
		{"", `"puller": {"kind": "winch", "winch_layer": 2}`, false, nil, false, false, false, 2},
		{"", `"puller": {"kind": "hand-winch"}`, false, nil, false, false, false, 5},
		{"", `"puller": {"kind": "hand-winch", "capstan": false}`, false, nil, false, false, false, 5},
		{"", `"puller": {"kind": "hand-winch", "capstan": true}`, false, nil, false, false, false, 0},
		{"", `"puller": {"kind": "winch", "capstan": true}`, false, nil, false, false, false, 5},
	} {
		c := mustCase(t, with(r.load, r.rest))
		if c.Asked != r.asked || !slices.Equal(c.Hazards, r.hazards) {
			t.Errorf("%s: hazards %v, asked %v", r.rest, c.Hazards, c.Asked)
		}
		if l := c.Load.Lip; (l != nil) != r.lip || l != nil && l.None != r.none {
			t.Errorf("%s: the step is %+v", r.load, l)
		}
		if len(c.Gear) > 0 && c.Gear[0].KnotsTold != r.knots {
			t.Errorf("%s: knots told is %v", r.rest, c.Gear[0].KnotsTold)
		}
		if len(c.Pullers) > 0 && c.Pullers[0].Layer != r.layer {
			t.Errorf("%s: layer %d, want %d", r.rest, c.Pullers[0].Layer, r.layer)
		}
		said := slices.ContainsFunc(c.Supplied, func(s job.Supplied) bool { return s.Field == "puller.winch_layer" })
		if said != (r.layer == 5) {
			t.Errorf("%s: supplied %v", r.rest, c.Supplied)
		}
	}
}

// A figure without its kind stays without, and zero is a value where it can be.
func TestWhatStaysAsTold(t *testing.T) {
	c := mustCase(t, with(`"locked": 0, "off_line": "0 deg"`, `"tackle": {"lead_blocks": 0, "lead_angle": "0 deg"}, "crew": 0,
		"gear": [{"kind": "sling", "rating": "2 t", "sling_angle": "0 deg"}, {"kind": "hook", "rating": "9 kN", "rating_kind": "breaking", "count": 2}],
		"site": {"holding_slack": "0 m", "tries": 0}, "signed": [{"check": "L4", "by": "Ada", "second": "Ben", "reason": "seen"}]`))
	sling, hook := c.Gear[0], c.Gear[1]
	if sling.Rating.Kind != "" || sling.Rating.Force == nil || !sling.Rating.AsWeight || sling.Rating.Told != "2 t" || sling.SlingAngle == nil {
		t.Errorf("sling: %+v", sling)
	}
	if hook.Rating.Kind != "breaking" || hook.Rating.AsWeight || hook.Count != 2 || hook.Sheaves != 1 {
		t.Errorf("hook: %+v", hook)
	}
	if c.Load.Locked == nil || c.Load.Locked.High != 0 || c.Load.OffLine == nil || c.Tackle.LeadBlocks == nil || c.Tackle.LeadAngle == nil || c.Crew == nil {
		t.Errorf("a zero that was told is lost: %+v", c)
	}
	if c.Site.Slack == nil || c.Site.Slack.High != 0 || c.Site.Tries == nil || len(c.Signed) != 1 {
		t.Errorf("site %+v, signed %v", c.Site, c.Signed)
	}
}

// Nobody reads an angle off a rope by sight to a degree, and nothing said of how
// it was found is no better than sight.
func TestOffLineBySight(t *testing.T) {
	for _, r := range []struct {
		told, from string
		low, high  float64
	}{
		{"5 deg", "", 0, 15}, {"5 deg", "eye", 0, 15}, {"0 deg", "", 0, 10}, {"12 deg", "eye", 2, 22}, {"5 deg", "measured", 3, 7},
		{"5 deg +/- 1 deg", "", 0, 15}, {"75 deg", "", 65, 79.9}, {"0 to 5 deg", "", 0, 5}, {"0 to 0 deg", "", 0, 0},
	} {
		s := job.Sheet{Load: job.LoadSheet{Mass: "1 t", Slope: "1 deg", Pull: "level", Ground: "gravel", OffLine: r.told, OffLineFrom: r.from}}
		c, err := s.Case()
		if err != nil {
			t.Fatalf("%q: %v", r.told, err)
		}
		if got := *c.Load.OffLine; math.Abs(got.Low.Degrees()-r.low) > 1e-9 || math.Abs(got.High.Degrees()-r.high) > 1e-9 {
			t.Errorf("%q by %q is %v, want %v to %v deg", r.told, r.from, got, r.low, r.high)
		}
		said := slices.ContainsFunc(c.Supplied, func(v job.Supplied) bool { return v.Field == "load.off_line_from" })
		if want := r.from == "" && !strings.Contains(r.told, " to "); said != want {
			t.Errorf("%q by %q: said to be taken %v, want %v", r.told, r.from, said, want)
		}
	}
}
