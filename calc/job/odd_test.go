package job_test

import (
	"strings"
	"testing"

	"linetender/calc/job"
)

// What hardly is asks back with the figure that was perhaps meant, in the unit
// that makes it likely; what is told as a wide range or can't be read does not.
func TestUnlikelyFigures(t *testing.T) {
	for _, row := range []struct{ field, told, meant string }{
		{"load.mass", "2.1 kg", "2.1 t"},
		{"load.mass", "2400 t", "2400 kg"},
		{"load.mass", "150 t", "150 kg"},
		{"puller.mass", "40 kg", "40 t"},
		{"pullers[1].mass", "1.5 lb", "1.5 t"},
		{"anchors[0].mass", "3 kg", "3 t"},
		{"gear[12].diameter", "16 m", "16 cm"},
		{"gear[0].rating", "3 kg", "3 t"},
		{"distance", "8 mm", "8 m"},
		{"puller.run", "9000 km", ""},
		{"reach", "20 in", "20 m"},
	} {
		o, odd := job.Unlikely(row.field, row.told)
		if row.field == "reach" { // 20 in are 51 cm, and just likely
			if odd {
				t.Errorf("reach %s is doubted", row.told)
			}
			continue
		}
		if !odd || row.meant != "" && o.Meant != row.meant && row.field != "puller.run" || !strings.Contains(o.Text, row.told) || o.Field != row.field {
			t.Errorf("%s %s: %v %+v, want %s", row.field, row.told, odd, o, row.meant)
		}
	}
	for field, told := range map[string]string{
		"load.mass": "1 kg to 300 t", "puller.mass": "3.1 t", "distance": "12 m", "gear[0].diameter": "24 mm", "crew": "4", "load.ground": "mud", "reach": "far",
		"gear[0].name": "2.1 kg", "gear[3].rating": "", "load.wheel_radius": "38 cm",
	} {
		if o, odd := job.Unlikely(field, told); odd {
			t.Errorf("%s %s is doubted: %s", field, told, o.Text)
		}
	}
}

// A case keeps an odd figure as it was told, doubts it, and doubts it no more
// once somebody is sure.
func TestOddFiguresStay(t *testing.T) {
	for _, row := range []struct{ sheet, field string }{
		{`{"load": {"mass": "2.1 kg", "slope": "5 deg", "pull": "uphill", "ground": "grass"}}`, "load.mass"},
		{`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass", "tow_point": {"kind": "frame", "rating": "5 kg"}}}`, "load.tow_point.rating"},
		{`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "pullers": [{"kind": "wheeled", "mass": "20 kg"}]}`, "pullers[0].mass"},
		{`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "anchors": [{"kind": "tree", "diameter": "30 m"}]}`, "anchors[0].diameter"},
		{`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "gear": [{"kind": "rope", "diameter": "10 mm", "material": "manila", "rating": "10 t", "rating_kind": "breaking"}]}`, "gear[0].rating"},
		{`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "puller": {"kind": "winch", "drum": "50 mm"}, "gear": [{"kind": "rope", "diameter": "10 mm"}, {"kind": "rope", "use": "haul", "diameter": "20 mm"}]}`, "puller.drum"},
	} {
		s, err := job.Decode([]byte(row.sheet))
		if err != nil {
			t.Fatal(err)
		}
		c, err := s.Case()
		if err != nil || len(c.Odd) != 1 || c.Odd[0].Field != row.field || !strings.Contains(c.Odd[0].Text, c.Odd[0].Told) {
			t.Errorf("%s: %v, %+v", row.field, err, c.Odd)
		}
		if err := s.Set("sure", row.field); err != nil {
			t.Fatal(err)
		}
		if c, err = s.Case(); err != nil || len(c.Odd) != 0 {
			t.Errorf("%s is sure, and doubted: %v, %+v", row.field, err, c.Odd)
		}
	}
	s, err := job.Decode([]byte(`{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "gear": [{"kind": "rope", "diameter": "24 mm", "rating": "18 t", "rating_kind": "breaking"}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if c, err := s.Case(); err != nil || len(c.Odd) > 0 {
		t.Errorf("a rope as ropes are is doubted: %v, %+v", err, c.Odd)
	}
}

// A thickness speaks against a stamp by the fibre that is told, and breaking is
// held to breaking, working to working: a polyester rope of 6 mm breaks at 12 kN
// at the most, and works at a fifth of that. One of 12 mm breaks at 48 kN at the
// most, many at 22, so that 2.2 t is what it breaks at. A shackle of 3/8 in has 0.42 short ton by the
// Navy's rule, 3.75 kN, and the best alloy some five times that.
func TestThicknessAgainstStamp(t *testing.T) {
	const load = `{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}, "gear": [{`
	for _, row := range []struct{ gear, field string }{
		{`"kind": "rope", "material": "polyester", "diameter": "6 mm", "rating": "2.2 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "rope", "material": "polypropylene", "diameter": "6 mm", "rating": "2.2 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "rope", "material": "polyester", "diameter": "6 mm", "rating": "0.9 t", "rating_kind": "breaking"`, ""},
		{`"kind": "rope", "material": "polyester", "diameter": "6 mm", "rating": "0.9 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "rope", "material": "polyester", "diameter": "24 mm", "rating": "2.2 t", "rating_kind": "working"`, ""},
		{`"kind": "rope", "material": "polyester", "diameter": "24 in", "rating": "2.2 t", "rating_kind": "working"`, "gear[0].diameter"},
		{`"kind": "rope", "material": "hmpe", "diameter": "12 mm", "rating": "9500 lb", "rating_kind": "working"`, "gear[0].rating"}, // what a winch pulls, not what it may carry
		{`"kind": "rope", "material": "hmpe", "diameter": "12 mm", "rating": "3 t", "rating_kind": "working"`, ""},
		{`"kind": "rope", "material": "polyester", "diameter": "12 mm", "rating": "2.2 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "rope", "material": "polyester", "diameter": "12 mm", "rating": "2.2 t", "rating_kind": "breaking"`, ""},
		{`"kind": "rope", "material": "polyester", "diameter": "12 mm", "rating": "0.6 t", "rating_kind": "working"`, ""},
		{`"kind": "rope", "material": "wire", "diameter": "6 mm", "rating": "5 t", "rating_kind": "breaking"`, "gear[0].rating"},
		{`"kind": "rope", "diameter": "6 mm", "rating": "3 t", "rating_kind": "breaking"`, ""},
		{`"kind": "rope", "diameter": "12 mm", "rating": "2.2 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "shackle", "diameter": "3/8 in", "rating": "3.25 t", "rating_kind": "working"`, "gear[0].rating"},
		{`"kind": "shackle", "diameter": "3/8 in", "rating": "1 t", "rating_kind": "working"`, ""},
		{`"kind": "shackle", "diameter": "5/8 in", "rating": "3.25 t", "rating_kind": "working"`, ""},
		{`"kind": "shackle", "diameter": "3/8 in", "rating": "5 t", "rating_kind": "breaking"`, ""},
	} {
		s, err := job.Decode([]byte(load + row.gear + "}]}"))
		if err != nil {
			t.Fatal(err)
		}
		c, err := s.Case()
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for _, o := range c.Odd {
			got += o.Field
		}
		if got != row.field {
			t.Errorf("%s: doubted is %q, want %q: %+v", row.gear, got, row.field, c.Odd)
		}
	}
}

// Being sure keeps a stamp only where some rope of that thickness could bear it.
func TestNobodyIsSureOfWhatCanNotBe(t *testing.T) {
	for _, r := range []struct {
		thick, stamp, kind string
		odd                bool
		says               string // what would be right
	}{
		{"3 mm", "3.5 t", "working", true, "One that is stamped so is at least 8 mm thick"},
		{"10 mm", "3.5 t", "working", false, ""}, // half of 1,100 N × 100 mm², 55 kN
		{"10 mm", "13 t", "breaking", false, ""}, // 110 kN and a fifth
		{"10 mm", "14 t", "breaking", true, "at least 12 mm thick"},
	} {
		s := job.Sheet{Gear: []job.GearSheet{{Kind: "rope", Diameter: r.thick, Rating: r.stamp, RatingKind: r.kind, Material: "polyester"}}, Sure: &[]string{"gear[0].rating"}}
		s.Load.Mass, s.Load.Slope, s.Load.Pull, s.Load.Ground = "2 t", "5 deg", "uphill", "grass"
		c, err := s.Case()
		if err != nil {
			t.Fatal(err)
		}
		if odd := len(c.Odd) > 0; odd != r.odd || odd && !strings.Contains(c.Odd[0].Text, r.says) {
			t.Errorf("%+v: %+v", r, c.Odd)
		}
	}
}
