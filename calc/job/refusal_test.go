package job_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"linetender/calc/job"
)

// least is the smallest case there is; %s stands where a row adds to it.
const least = `{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill", "ground": "grass"}}`

func caseOf(text string) (job.Case, error) {
	s, err := job.Decode([]byte(text))
	if err != nil {
		return job.Case{}, err
	}
	c, err := s.Case()
	if only := s.Check(); fmt.Sprint(only) != fmt.Sprint(err) {
		return job.Case{}, fmt.Errorf("checked alone it is %v; as a case it is %v", only, err)
	}
	return c, err
}

// with adds fields to the load and to the case.
func with(load, rest string) string {
	t := least
	if load != "" {
		t = strings.Replace(t, `"grass"`, `"grass", `+load, 1)
	}
	if rest != "" {
		t = strings.TrimSuffix(t, "}") + ", " + rest + "}"
	}
	return t
}

func instead(old, new string) string { return strings.Replace(least, old, new, 1) }

// A bad case gets one line that names the field and says what would be right.
func TestRefusals(t *testing.T) {
	for _, r := range []struct{ name, text, field, says string }{
		{"unknown field", `{"laod": {}}`, "laod", `the nearest is "load"`},
		{"unknown field far from any", with("", `"zzzzzzzzzzzzzzz": 1`), "zzzzzzzzzzzzzzz", "it takes anchors, crew"},
		{"unknown field in a list", with("", `"gear": [{"kind": "rope", "lenght": "3 m"}]`), "gear[0].lenght", `the nearest is "length"`},
		{"field in capitals", `{"Load": {}}`, `"Load"`, `the nearest is "load"`},
		{"unknown word", instead("grass", "gras"), "load.ground", `the nearest is "grass"`},
		{"unknown word far from any", instead("uphill", "quux"), "load.pull", "write one of uphill, downhill, level"},
		{"unknown hazard", with("", `"hazards": ["wires"]`), "hazards[0]", "overhead-line"},
		{"no unit, as a number", instead(`"2 t"`, "2400"), "load.mass", "has no unit; write a number and a unit"},
		{"no unit, as a text", instead("2 t", "2400"), "load.mass", "unit"},
		{"words for a weight", instead("2 t", "heavy"), "load.mass", "2400 kg or 5200 lb"},
		{"negative mass", instead("2 t", "-2 t"), "load.mass", "write"},
		{"zero mass", instead("2 t", "0 kg"), "load.mass", "write what it weighs"},
		{"infinite mass", instead("2 t", "1e999 t"), "load.mass", "write"},
		{"infinite length", with("", `"reach": "1e999 m"`), "reach", "write"},
		{"over 200 t", instead("2 t", "201 t"), "load.mass", "over 200 t; write"},
		{"puller over 200 t", with("", `"puller": {"mass": "201 t"}`), "puller.mass", "over 200 t"},
		{"zero puller", with("", `"puller": {"mass": "0 t"}`), "puller.mass", "write"},
		{"puller no weight", with("", `"puller": {"mass": "big"}`), "puller.mass", "write"},
		{"anchor no weight", with("", `"anchors": [{"kind": "vehicle", "mass": "big"}]`), "anchors[0].mass", "write"},
		{"zero length", with("", `"reach": "0 m"`), "reach", "above zero"},
		{"zero way to the holding anchor", with("", `"holding_reach": "0 m"`), "holding_reach", "above zero"},
		{"negative way to the holding anchor", with("", `"holding_reach": "-3 m"`), "holding_reach", "write"},
		{"way to the holding anchor without a unit", with("", `"holding_reach": "12"`), "holding_reach", "unit"},
		{"way to the holding anchor of words", with("", `"holding_reach": "near"`), "holding_reach", "write"},
		{"negative length", with("", `"lead": "-3 m"`), "lead", "write"},
		{"zero rating", with("", `"gear": [{"kind": "rope", "rating": "0 kN"}]`), "gear[0].rating", "above zero"},
		{"zero diameter", with("", `"gear": [{"kind": "rope", "diameter": "0 mm"}]`), "gear[0].diameter", "above zero"},
		{"no parts", with("", `"tackle": {"parts": 0}`), "tackle.parts", "from 1"},
		{"too many parts", with("", `"tackle": {"parts": 31}`), "tackle.parts", "from 1 to 30"},
		{"too many lead blocks", with("", `"tackle": {"lead_blocks": 31}`), "tackle.lead_blocks", "from 0 to 30"},
		{"half a part", with("", `"tackle": {"parts": 1.5}`), "tackle.parts", "whole number"},
		{"wide lead angle", with("", `"tackle": {"lead_angle": "181 deg"}`), "tackle.lead_angle", "from 0 to 180 deg"},
		{"steep leg", with("", `"gear": [{"kind": "sling", "sling_angle": "91 deg"}]`), "gear[0].sling_angle", "from 0 to 90 deg"},
		{"80 deg off the line", with(`"off_line": "80 deg"`, ""), "load.off_line", "under 80 deg"},
		{"angle as a slope", with(`"off_line": "10 %"`, ""), "load.off_line", "deg"},
		{"upright slope", instead("5 deg", "90 deg"), "load.slope", "below 90 degrees"},
		{"no slope", instead("5 deg", "steep"), "load.slope", "write"},
		{"unknown way to find a slope", with(`"slope_from": "guess"`, ""), "load.slope_from", "level, phone, eye"},
		{"share over one", with(`"locked": 1.5`, ""), "load.locked", "from 0 to 1"},
		{"step without its wheel", with(`"lip": {"height": "10 cm"}`, ""), "load.lip", "wheel's radius"},
		{"step that no axle meets", with(`"lip": {"height": "10 cm", "wheel_radius": "40 cm", "axle_share": 0}`, ""), "load.lip.axle_share", "some axle meets the step"},
		{"no mass", `{"load": {"slope": "5 deg", "pull": "uphill", "ground": "grass"}}`, "load.mass", "must be there"},
		{"no slope", `{"load": {"mass": "2 t", "pull": "uphill", "ground": "grass"}}`, "load.slope", "must be there"},
		{"no pull", `{"load": {"mass": "2 t", "slope": "5 deg", "ground": "grass"}}`, "load.pull", "must be there"},
		{"no ground", `{"load": {"mass": "2 t", "slope": "5 deg", "pull": "uphill"}}`, "load.ground", "must be there"},
		{"field twice", `{"crew": 3, "crew": 4}`, "crew", "given twice"},
		{"text after", least + " and more", "", "after the case's closing brace"},
		{"two objects", least + least, "", "after the case's closing brace"},
		{"too long", strings.Repeat(" ", job.MaxBytes) + least, "", "over 1 MiB"},
		{"a list", `[]`, "", "one JSON object"},
		{"nothing", ``, "", "ends too early"},
		{"half an object", `{"load": {`, "load", "ends too early"},
		{"broken", "{\n\"load\": }", "load", "line 2"},
		{"broken name", `{load: 1}`, "", "broken at line 1"},
		{"null", with("", `"crew": null`), "crew", "leave the field out"},
		{"null for a weight", instead(`"2 t"`, "null"), "load.mass", "2400 kg"},
		{"empty text", instead(`"2 t"`, `"  "`), "load.mass", "the text is empty"},
		{"object for a weight", instead(`"2 t"`, "{}"), "load.mass", "2400 kg"},
		{"yes for a count", with("", `"crew": true`), "crew", "whole number"},
		{"text for yes", with(`"belly": "yes"`, ""), "load.belly", "true or false"},
		{"text for a list", with("", `"gear": "rope"`), "gear", "square brackets"},
		{"text for an object", with("", `"puller": "tractor"`), "puller", "braces"},
		{"number for a word", with(`"sunk": 1`, ""), "load.sunk", "text in quotes"},
		{"negative crew", with("", `"crew": -1`), "crew", "whole number from 0"},
		{"crew of a city", with("", `"crew": 1001`), "crew", "to 1000"},
		{"nobody pulls", with("", `"puller": {"kind": "people", "people": 0}`), "puller.people", "from 1"},
		{"no layer", with("", `"puller": {"kind": "winch", "winch_layer": 0}`), "puller.winch_layer", "from 1"},
		{"no copy", with("", `"gear": [{"kind": "rope", "count": 0}]`), "gear[0].count", "from 1"},
		{"no tow point", with(`"tow_point": {"count": 0}`, ""), "load.tow_point.count", "from 1"},
		{"gear without a kind", with("", `"gear": [{"name": "it"}]`), "gear[0].kind", "rope, block"},
		{"anchor without a kind", with("", `"anchors": [{"name": "it"}]`), "anchors[0].kind", "tree, stump"},
		{"unknown use", with("", `"anchors": [{"kind": "tree", "use": "standin"}]`), "anchors[0].use", `"standing"`},
		{"knot without a name", with("", `"gear": [{"kind": "rope", "knots": [" "]}]`), "gear[0].knots[0]", "the text is empty"},
		{"both pullers", with("", `"puller": {}, "pullers": [{}]`), "pullers", "not both"},
		{"half a signature", with("", `"signed": [{"check": "P3", "by": "A"}]`), "signed[0].second", "who else agrees"},
		{"pieces of a check that has none", with("", `"signed": [{"check": "P3", "by": "Ann", "second": "Bob", "reason": "x", "pieces": ["rope"]}]`), "signed[0].pieces", "only R4"},
		{"signed by a dash", with("", `"signed": [{"check": "P3", "by": "-", "second": "Bob", "reason": "x"}]`), "signed[0].by", "nobody's name"},
		{"signed by a point", with("", `"signed": [{"check": "P3", "by": "Ann", "second": ".", "reason": "x"}]`), "signed[0].second", "nobody's name"},
		{"signed by nobody", with("", `"signed": [{"check": "P3", "by": "Nobody", "second": "Bob", "reason": "x"}]`), "signed[0].by", "nobody's name"},
		{"signed by no one", with("", `"signed": [{"check": "P3", "by": "Ann", "second": "no-one", "reason": "x"}]`), "signed[0].second", "nobody's name"},
		{"signed by the same with a point", with("", `"signed": [{"check": "P3", "by": "Ann B", "second": "ann b.", "reason": "x"}]`), "signed[0].second", "somebody else"},
		{"signed by one alone", with("", `"signed": [{"check": "P3", "by": "A", "second": " a ", "reason": "x"}]`), "signed[0].second", "somebody else"},
		{"slack of words", with("", `"site": {"holding_slack": "some"}`), "site.holding_slack", "write"},
	} {
		t.Run(strings.ReplaceAll(r.name, " ", "-"), func(t *testing.T) {
			_, err := caseOf(r.text)
			var bad *job.FieldError
			if !errors.As(err, &bad) {
				t.Fatalf("got %v, want a refusal", err)
			}
			if bad.Path != r.field {
				t.Errorf("names %q, want %q: %v", bad.Path, r.field, err)
			}
			if !strings.Contains(err.Error(), r.says) {
				t.Errorf("says %q, want %q in it", err, r.says)
			}
			oneLine(t, err)
		})
	}
}

func oneLine(t *testing.T, err error) {
	t.Helper()
	if s := err.Error(); s == "" || strings.ContainsAny(s, "\n\r") || len(s) > 600 {
		t.Errorf("a refusal of one line, not %q", s)
	}
}

// A sheet made in memory is held to the same.
func TestRefusedInMemory(t *testing.T) {
	good, err := job.Decode([]byte(least))
	if err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(s *job.Sheet){
		"crew":                 func(s *job.Sheet) { n := -1; s.Crew = &n },
		"load.locked":          func(s *job.Sheet) { x := 1.5; s.Load.Locked = &x },
		"load.tow_point.count": func(s *job.Sheet) { n := 0; s.Load.TowPoint = &job.TowPointSheet{Count: &n} },
		"puller.people":        func(s *job.Sheet) { n := 0; s.Puller = &job.PullerSheet{People: &n} },
		"puller.winch_layer":   func(s *job.Sheet) { n := 0; s.Puller = &job.PullerSheet{WinchLayer: &n} },
		"gear[0]":              func(s *job.Sheet) { n := 0; s.Gear = []job.GearSheet{{Kind: "rope", Sheaves: &n}} },
		"tackle.parts":         func(s *job.Sheet) { n := 0; s.Tackle = &job.TackleSheet{Parts: &n} },
		"gear[0].knots[0]":     func(s *job.Sheet) { s.Gear = []job.GearSheet{{Kind: "rope", Knots: &[]string{" "}}} },
	} {
		s := good
		spoil(&s)
		_, err := s.Case()
		var bad *job.FieldError
		if !errors.As(err, &bad) || bad.Path != name {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		oneLine(t, err)
	}
}

func TestAbsentStaysAbsent(t *testing.T) {
	c, err := caseOf(least)
	if err != nil {
		t.Fatal(err)
	}
	if c.Asked || c.Crew != nil || c.Load.Locked != nil || c.Load.Lip != nil || c.Load.Belly != nil || c.Load.OffLine != nil || c.Reach != nil {
		t.Errorf("nobody has said, and the case has it: %+v", c)
	}
	filled := map[string]bool{}
	for _, s := range c.Supplied {
		filled[s.Field] = true
	}
	if !filled["load.mass_from"] || !filled["load.slope_from"] || len(filled) != 2 {
		t.Errorf("supplied %v", c.Supplied)
	}
	if m := c.Load.Mass; m.Low.Kilograms() != 1500 || m.High.Kilograms() != 2500 {
		t.Errorf("a guessed 2 t spans %v", m)
	}
	told, err := caseOf(with(`"lip": null`, `"hazards": [], "puller": {"kind": "winch"}`))
	if err != nil {
		t.Fatal(err)
	}
	if !told.Asked || told.Load.Lip == nil || !told.Load.Lip.None || told.Pullers[0].Layer != 5 {
		t.Errorf("told, and not kept: %+v", told)
	}
}

func TestSetGetAndRefusal(t *testing.T) {
	s, err := job.Decode([]byte(least))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []struct{ path, text, want string }{
		{"load.mass", "3 t", "3 t"}, {"load.belly", "true", "true"}, {"load.locked", "0.5", "0.5"}, {"crew", "4", "4"},
		{"hazards", "edge, fuel", "edge, fuel"}, {"hazards", "none", "none"}, {"gear[0].kind", "rope", "rope"},
		{"gear[0].knots", "bowline", "bowline"}, {"load.lip", "none", "none"}, {"load.lip.height", "10 cm", "10 cm"},
		{"puller.mass", "4 t", "4 t"}, {"load.tow_point.kind", "frame", "frame"}, {"site.chocks", "0", "0"},
	} {
		if err := s.Set(r.path, r.text); err != nil {
			t.Errorf("%s: %v", r.path, err)
		}
		if got, said := s.Get(r.path); got != r.want || !said {
			t.Errorf("%s reads %q, %v", r.path, got, said)
		}
	}
	for _, path := range []string{"crew", "load.belly", "load.lip", "gear[0].kind", "load.mass"} {
		if err := s.Set(path, ""); err != nil {
			t.Errorf("%s: %v", path, err)
		}
		if got, said := s.Get(path); said {
			t.Errorf("%s was taken back and reads %q", path, got)
		}
	}
	for _, r := range []struct{ path, text string }{
		{"load.colour", "red"}, {"load..mass", "1 t"}, {"load.mass.kg", "1"}, {"gear[9].kind", "rope"}, {"crew[0]", "1"},
		{"crew", "many"}, {"crew", "-1"}, {"load.belly", "perhaps"}, {"load.locked", "2"}, {"gear", "rope"}, {"puller", "tractor"}, {"gear[99999999999999999999].kind", "rope"},
	} {
		before, _ := s.Get("load.pull")
		err := s.Set(r.path, r.text)
		var bad *job.FieldError
		if !errors.As(err, &bad) || bad.Path != r.path {
			t.Errorf("%s = %q: got %v", r.path, r.text, err)
			continue
		}
		oneLine(t, err)
		if after, _ := s.Get("load.pull"); after != before {
			t.Errorf("%s: a refusal changed the sheet", r.path)
		}
	}
	for _, path := range []string{"load", "gear", "nothing", "gear[5].kind", "load.mass.kg", "a b", "load.holding_point.kind"} {
		if got, said := s.Get(path); said {
			t.Errorf("%s reads %q", path, got)
		}
	}
}

// TestAByteOrderMarkIsNoFault: some editors put one before a UTF-8 text.
func TestAByteOrderMarkIsNoFault(t *testing.T) {
	plain, err := job.Decode([]byte(least))
	if err != nil {
		t.Fatal(err)
	}
	marked, err := job.Decode([]byte("\xef\xbb\xbf" + least))
	if err != nil || marked.Load.Mass != plain.Load.Mass || plain.Load.Mass == "" {
		t.Errorf("with a mark before it the case is %q and refused %v, without %q", marked.Load.Mass, err, plain.Load.Mass)
	}
}
