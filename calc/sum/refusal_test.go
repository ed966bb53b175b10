package sum

import (
	"strings"
	"testing"
)

// TestRefusals: a wrong call gets one line that names the key and says what would be
// right.
func TestRefusals(t *testing.T) {
	for _, c := range []struct{ name, args, path, says string }{
		{"sidepul", "", "", `the nearest is "side-pull"`},
		{"banana", "", "", "there are slope, grade, side-pull"},
		{"", "", "", "there is no sum"},
		{"side\npull", "force=1 N", "", "side"},
		{"slope", "", "of", "this is missing; write sum slope of=S, such as sum slope of=25%"},
		{"slope", "off=14 deg", "off", `the nearest is "of"`},
		{"slope", "gradient=14 deg", "gradient", "it takes of"},
		{"slope", "of=14", "of", "has no unit"},
		{"slope", "of=95 deg", "of", "upright or steeper"},
		{"slope", "of=", "of", "is empty"},
		{"grade", "mass=24 kN; of=14 deg", "mass", "is a force; write a mass, such as 2447.3 kg"},
		{"grade", "mass=heavy; of=14 deg", "mass", "write a number and a unit"},
		{"grade", "mass=0 kg; of=14 deg", "mass", "more than zero"},
		{"grade", "mass=300 t; of=14 deg", "mass", "over 200 t"},
		{"side-pull", "force=838 N", "angle", "this is missing"},
		{"side-pull", "force=838 N; span=10 m", "offset", "this is missing"},
		{"side-pull", "force=838 N; angle=7 deg; span=10 m", "span", "does not go with angle and force"},
		{"side-pull", "force=838 N; angle=0 deg", "angle", "more than zero"},
		{"side-pull", "force=838 N; span=10 m; offset=0 m", "offset", "more than zero"},
		{"side-pull", "force=-3 N; angle=7 deg", "force", "below zero"},
		{"block-load", "tension=3 kN; angle=200 deg", "angle", "0 to 180 deg"},
		{"block-load", "tension=3 kN; angle=wide", "angle", "is no angle"},
		{"sling-leg", "mass=2 t; legs=2; length=2 m; height=3 m", "height", "swap the two"},
		{"sling-leg", "mass=2 t; legs=0; length=3 m; height=2 m", "legs", "from 1 to 64"},
		{"sling-leg", "mass=2 t; legs=2.5; length=3 m; height=2 m", "legs", "no whole number"},
		{"tackle", "load=10 kN", "advantage", "this is missing"},
		{"tackle", "load=10 kN; parts=4", "efficiency", "this is missing"},
		{"tackle", "load=10 kN; parts=4; sheaves=3", "parts", "does not go with"},
		{"tackle", "load=10 kN; parts=4; efficiency=1.2; haul_from=standing", "efficiency", "up to 1"},
		{"tackle", "load=10 kN; parts=4; efficiency=0; haul_from=standing", "efficiency", "more than zero"},
		{"tackle", "load=10 kN; parts=0; efficiency=0.9; haul_from=standing", "parts", "from 1 to 64"},
		{"tackle", "load=10 kN; parts=4; efficiency=0.9; haul_from=standin", "haul_from", `the nearest is "standing"`},
		{"tackle", "load=10 kN; advantage=4; sheaves=4; rule=army", "rule", "manual"},
		{"tackle", "load=10 kN; advantage=8; sheaves=2", "advantage", "not once on each side of a sheave"},
		{"tackle", "load=10 kN; advantage=3; sheaves=1", "advantage", "one rope through 1 sheave has at most 2 parts"},
		{"tackle-limit", "rope_breaking=25 kN; advantage=4; sheaves=4", "rope_breaking", "divide it by 5"},
		{"compound", "advantages=4", "advantages", "one whole number for each, such as 4,3"},
		{"compound", "advantages=", "advantages", "2 to 6 tackles"},
		{"compound", "advantages=4,x3y", "advantages", "write a whole number"},
		{"compound", "advantages=4,three halves", "advantages", "write"},
		{"compound", "advantages=0,4", "advantages", "from 1 to 64"},
		{"compound", "advantages=2,2,2,2,2,2,2", "advantages", "2 to 6 tackles"},
		{"recovery", "mass=10 t; factor=4; puller=50 kN", "factor", "write one of 1, 2, 3"},
		{"recovery", "mass=10 t; factor=1; puller=9 kN", "puller", "moves it with no number of parts"},
		{"rope-rule", "material=hmpe; circumference=3 in", "material", "go by its tag"},
		{"rope-rule", "material=nyln; circumference=3 in", "material", `the nearest is "nylon"`},
		{"rope-rule", "diameter=12 mm", "rule", "rule=navy or rule=australia"},
		{"rope-rule", "material=wire; circumference=3 in", "rule", "rule=navy or rule=australia"},
		{"rope-rule", "material=manila; circumference=3 in; rule=australia", "rule", "for wire rope"},
		{"rope-rule", "material=manila", "circumference", "this is missing"},
		{"rope-rule", "material=manila; diameter=1 in; circumference=3 in", "diameter", "does not go with"},
		{"chain", "size=1 in; grade=70", "size", "1/4 in, 5/16 in, 3/8 in"},
		{"chain", "size=7 to 8 mm; grade=70", "size", "a chain has one size"},
		{"chain", "size=7/16 in; grade=80", "grade", "it has 30, 43, 70"},
		{"chain", "size=3/8 in; grade=75", "grade", "30, 43, 70, 80, 100"},
		{"pickets", "pattern=2-2; soil=loam", "pattern", "1, 1-1-1, 3-2-1"},
		{"pickets", "pattern=1-1-1", "soil", "this is missing"},
		{"pickets", "pattern=1-1-1; steel=3; soil=loam", "steel", "does not go with"},
		{"pickets", "steel=0; soil=loam", "steel", "from 1 to 64"},
		{"pickets", "steel=3; soil=cheese", "soil", "loam"},
		{"deadman", "breaking=100 kN; depth=2 ft; slope=1:1; face=40 cm; soil=loam", "depth", "at least 3 ft deep"},
		{"deadman", "breaking=100 kN; depth=4 ft; slope=2:1; face=40 cm; soil=loam", "slope", "1:1, 1:2, 1:3, 1:4"},
		{"winch", "rating=20,000 lb; layer=9", "layer", "from 1 to 8"},
		{"winch", "rating=20,000; layer=2", "rating", "has no unit"},
		{"post", "turns=200; friction=0.3; tension=1 kN", "turns", "up to 100"},
		{"post", "turns=2; friction=3; tension=1 kN", "friction", "up to 2"},
		{"post", "turns=100; friction=2; tension=1 kN", "turns", ""},
		{"lip", "mass=1 t; height=40 cm; radius=40 cm", "height", "dig or ramp it"},
		{"energy", "tension=12 kN; length=30 m; material=string; breaking=100 kN", "material", "nylon"},
		{"energy", "tension=12 kN; length=0 m; material=nylon; breaking=100 kN", "length", "more than zero"},
		{"arrest", "mass=2400 kg; of=14 deg; slack=0.25; length=20 m; material=nylon; breaking=80 kN", "slack", "has no unit"},
		{"grade", "mass=2400 kg; of=14 deg; Mass=1", `"Mass"`, "mass"},
	} {
		r, err := Run(c.name, args(c.args))
		e := refusal(t, err)
		if e.Path != c.path || !strings.Contains(e.Problem, c.says) || strings.Contains(e.Problem, "%!") {
			t.Errorf("sum %s %s:\n  %v\n  want %s: … %s", c.name, c.args, e, c.path, c.says)
		}
		if r.Name != "" || r.Figures != nil || r.Working != nil || r.Source != "" {
			t.Errorf("sum %s %s: %+v beside an error", c.name, c.args, r)
		}
	}
}

// TestHugeFigures: what a person can write and no sum can hold is refused, not
// printed as infinite.
func TestHugeFigures(t *testing.T) {
	nines := strings.Repeat("9", 40)
	for _, c := range []struct{ name, args string }{
		{"side-pull", "force=" + nines + " kN; angle=0.0000001 deg"},
		{"energy", "tension=" + nines + " kN; length=" + nines + " km; material=nylon; breaking=1 N"},
		{"lip", "mass=1 t; height=0.999999999999 m; radius=1 m"},
		{"rope-rule", "material=nylon; circumference=" + nines + " km"},
		{"deadman", "breaking=" + nines + " kN; depth=" + nines + " km; slope=1:1; face=0.000001 mm; soil=loam"},
	} {
		r, err := Run(c.name, args(c.args))
		if err != nil {
			refusal(t, err)
			continue
		}
		encode(t, r)
	}
}

// TestOneLine: whatever stands in a value, a refusal stays one short line.
func TestOneLine(t *testing.T) {
	for _, value := range []string{"a\nb", "\x00", strings.Repeat("x", 10_000), "1\t2\r\n3 N", "“", "%d %s"} {
		for i := range entries {
			e := &entries[i]
			for _, k := range e.keys {
				for _, f := range e.forms {
					given := map[string]string{}
					for _, name := range f.needs {
						given[name] = value
					}
					given[k.name] = value
					_, err := Run(e.name, given)
					if got := refusal(t, err).Error(); len(got) > 700 {
						t.Errorf("sum %s with %.10q: %d bytes: %s", e.name, value, len(got), got)
					}
				}
			}
			_, err := Run(e.name, map[string]string{value: "1"})
			refusal(t, err)
		}
		_, err := Run(value, nil)
		refusal(t, err)
		_, _, err = Read(value)
		refusal(t, err)
	}
}

func TestUsage(t *testing.T) {
	for _, name := range Names() {
		lines := strings.Split(Usage(name), "\n")
		if len(lines) != 3 || !strings.HasPrefix(lines[0], "sum "+name+" ") || !strings.HasPrefix(lines[2], "such as sum "+name+" ") {
			t.Errorf("usage of %s: %q", name, lines)
		}
		e := find(name)
		for _, k := range e.keys {
			if !strings.Contains(lines[0], k.name+"=") {
				t.Errorf("usage of %s leaves out %s: %s", name, k.name, lines[0])
			}
			used := false
			for _, f := range e.forms {
				used = used || f.has(k.name)
			}
			if !used {
				t.Errorf("%s: no form takes %s", name, k.name)
			}
		}
		for _, f := range e.forms {
			for _, name := range append(f.needs, f.takes...) {
				if _, ok := e.key(name); !ok {
					t.Errorf("%s: a form takes %s, which is no key", e.name, name)
				}
			}
		}
	}
	if got := Usage("banana"); got != "" {
		t.Errorf("usage of no sum: %q", got)
	}
}
