package sum

import (
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// contract is every sum with the keys it must take and the figures it must give.
var contract = []struct{ name, args, figures string }{
	{"slope", "of=14 deg", "angle_deg rise_per_run weight_share"},
	{"grade", "mass=2.4 t; of=1 in 4", "along_n normal_n"},
	{"side-pull", "force=838 N; angle=7 deg", "tension_n"},
	{"side-pull", "force=838 N; span=20 m; offset=1 m", "tension_n"},
	{"block-load", "tension=3 kN; angle=60 deg", "load_n"},
	{"sling-leg", "mass=2 t; legs=4; length=3 m; height=2 m", "leg_n"},
	{"tackle", "load=10 kN; advantage=4; sheaves=4; rule=manual", "haul_n friction_n advantage"},
	{"tackle", "load=10 kN; parts=3; efficiency=0.9; haul_from=moving", "haul_n friction_n advantage"},
	{"compound", "advantages=4,3", "advantage"},
	{"tackle-limit", "rope_working=5 kN; advantage=3; sheaves=2", "load_n"},
	{"recovery", "mass=8 t; factor=3; puller=60 kN", "parts sheaves total_n fall_line_n"},
	{"rope-rule", "material=polyester; circumference=60 mm", "breaking_n"},
	{"rope-rule", "material=manila; diameter=24 mm", "breaking_n"},
	{"rope-rule", "diameter=14 mm; rule=australia", "working_n"},
	{"chain-rule", "diameter=10 mm", "working_n"},
	{"shackle-rule", "diameter=19 mm", "working_n"},
	{"chain", "size=1/2 in; grade=100", "working_n"},
	{"pickets", "pattern=3-2-1; soil=wet", "capacity_n"},
	{"pickets", "steel=4; soil=clay-gravel", "capacity_n"},
	{"deadman", "breaking=100 kN; depth=1.5 m; slope=1:2; face=40 cm; soil=river-sand", "length_m passes_ratio"},
	{"winch", "rating=4000 kg; layer=5", "pull_n"},
	{"post", "turns=2.5; friction=0.25; tension=2 kN", "hold_n hand_n ratio"},
	{"lip", "mass=1.2 t; height=5 in; radius=15 in", "force_n"},
	{"energy", "tension=12 kN; length=30 m; material=nylon; breaking=100 kN", "stored_j stretch_m"},
	{"arrest", "mass=2400 kg; of=14 deg; slack=0.25 m; length=20 m; material=polyester; breaking=80 kN", "arrest_n"},
}

// TestContract: every sum takes its keys, gives its figures in order with a range
// beside one that is not known exactly, and carries its working and source.
func TestContract(t *testing.T) {
	var names []string
	for _, c := range contract {
		if !slices.Contains(names, c.name) {
			names = append(names, c.name)
		}
		r := run1(t, c.name, c.args)
		var figures []string
		for _, f := range r.Figures {
			figures = append(figures, f.Name)
			if f.Unit != "" && !strings.HasSuffix(f.Name, "_"+f.Unit) {
				t.Errorf("%s: %s is in %s", c.name, f.Name, f.Unit)
			}
		}
		if got := strings.Join(figures, " "); got != c.figures && !sameWords(got, c.figures) {
			t.Errorf("sum %s gives %s, want %s", c.name, got, c.figures)
		}
		if r.Source == "" || len(r.Working) == 0 {
			t.Errorf("sum %s has no source or no working", c.name)
		}
		text := encode(t, r)
		var back struct {
			Name    string
			Result  map[string]any
			Working []Step
			Source  string
		}
		if err := json.Unmarshal([]byte(text), &back); err != nil {
			t.Fatalf("sum %s: %v in %s", c.name, err, text)
		}
		if back.Name != c.name || len(back.Working) != len(r.Working) || back.Source != r.Source {
			t.Errorf("sum %s comes back as %+v", c.name, back)
		}
		for _, f := range r.Figures {
			number, isNumber := back.Result[f.Name].(float64)
			_, isBool := back.Result[f.Name].(bool)
			spread, _ := back.Result[f.rangeName()].(map[string]any)
			switch {
			case f.Holds != nil && !isBool, f.Holds == nil && !isNumber:
				t.Errorf("sum %s: %s is %v", c.name, f.Name, back.Result[f.Name])
			case f.Ranged() != (spread != nil):
				t.Errorf("sum %s: %s has the range %v, figure %v", c.name, f.Name, spread, f.value)
			case spread != nil && spread["best"] != number:
				t.Errorf("sum %s: %s is %v, its range %v", c.name, f.Name, number, spread)
			}
		}
		if again := encode(t, run1(t, c.name, c.args)); again != text {
			t.Errorf("sum %s: equal input, other bytes:\n%s%s", c.name, text, again)
		}
	}
	if !slices.Equal(names, Names()) {
		t.Errorf("sums %v, contract %v", Names(), names)
	}
}

func sameWords(a, b string) bool {
	x, y := strings.Fields(a), strings.Fields(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// TestWorkingCanBeFollowed: no step shows an exponent, an undefined or an unfinished
// figure, and the last figure of each result stands in the working.
func TestWorkingCanBeFollowed(t *testing.T) {
	odd := regexp.MustCompile(`NaN|Inf|%!|\d[eE][+-]?\d`)
	for _, c := range contract {
		r := run1(t, c.name, c.args)
		all := ""
		for _, s := range r.Working {
			all += s.Step + " | " + s.Value + "\n"
			if s.Step == "" || s.Value == "" || odd.MatchString(s.Value) {
				t.Errorf("sum %s: %q: %q", c.name, s.Step, s.Value)
			}
		}
		for _, f := range r.Figures {
			shown := num(f.value.Best)
			switch {
			case f.Holds != nil:
				continue
			case f.Count != nil:
				shown = num(float64(*f.Count))
			}
			if !strings.Contains(all, shown) {
				t.Errorf("sum %s: the working never comes to %s = %s:\n%s", c.name, f.Name, shown, all)
			}
		}
	}
}

// TestPointsStayInside writes each sum with ranges for what may have them: a point
// inside every range, written out, gives figures inside the result's.
func TestPointsStayInside(t *testing.T) {
	number := regexp.MustCompile(`\{(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?) ?([^}]*)\}`)
	for _, c := range []struct{ name, args string }{
		{"slope", "of={5-30 deg}"},
		{"grade", "mass={2000-3000 kg}; of={5-40 deg}"},
		{"side-pull", "force={500-900 N}; angle={2-12 deg}"},
		{"side-pull", "force={500-900 N}; span={10-14 m}; offset={0.5-2 m}"},
		{"block-load", "tension={2-3 kN}; angle={0-180 deg}"},
		{"sling-leg", "mass={2-3 t}; legs=2; length={3-4 m}; height={1-2.5 m}"},
		{"tackle", "load={9-12 kN}; advantage=4; sheaves=3"},
		{"tackle", "load={9-12 kN}; parts=5; efficiency={0.8-0.95}; haul_from=moving"},
		{"tackle", "load={9-12 kN}; parts=4; efficiency={0.8-0.95}; haul_from=standing"},
		{"tackle-limit", "rope_working={4-6 kN}; advantage=3; sheaves=2"},
		{"rope-rule", "material=nylon; circumference={50-70 mm}"},
		{"rope-rule", "diameter={12-16 mm}; rule=navy"},
		{"chain-rule", "diameter={8-12 mm}"},
		{"shackle-rule", "diameter={16-22 mm}"},
		{"deadman", "breaking={80-120 kN}; depth=1.5 m; slope=1:2; face={30-50 cm}; soil=rock"},
		{"winch", "rating={30-40 kN}; layer=4"},
		{"post", "turns={1-3}; friction={0.1-0.3}; tension={2-4 kN}"},
		{"lip", "mass={1-2 t}; height={5-15 cm}; radius={35-40 cm}"},
		{"energy", "tension={10-15 kN}; length={20-40 m}; material=polyester; breaking={80-100 kN}"},
		{"arrest", "mass={2000-3000 kg}; of={5-20 deg}; slack={0-0.5 m}; length={10-20 m}; material=nylon; breaking={80-100 kN}"},
	} {
		t.Run(c.name, rapid.MakeCheck(func(t *rapid.T) {
			wide := number.ReplaceAllString(c.args, "$1 to $2 $3")
			narrow := number.ReplaceAllStringFunc(c.args, func(m string) string {
				p := number.FindStringSubmatch(m)
				var low, high float64
				if err := json.Unmarshal([]byte(p[1]), &low); err != nil {
					t.Fatal(err)
				}
				if err := json.Unmarshal([]byte(p[2]), &high); err != nil {
					t.Fatal(err)
				}
				x := rapid.SampledFrom([]float64{low, high, rapid.Float64Range(low, high).Draw(t, m)}).Draw(t, m+" where")
				x = math.Round(100*x) / 100 // three decimals might mark thousands
				return strings.TrimSpace(num(min(max(x, low), high)) + " " + p[3])
			})
			all, err := Run(c.name, args(wide))
			if err != nil {
				t.Fatalf("%s: %v", wide, err)
			}
			one, err := Run(c.name, args(narrow))
			if err != nil {
				t.Fatalf("%s: %v", narrow, err)
			}
			for i, f := range all.Figures {
				g := one.Figures[i]
				hair := 1e-9 * max(math.Abs(f.value.Low), math.Abs(f.value.High))
				if f.Holds == nil && !(f.value.Low-hair <= g.value.Low && g.value.High <= f.value.High+hair) {
					t.Fatalf("%s gives %s %v, %s gives %v", wide, f.Name, f.value, narrow, g.value)
				}
				if f.Holds != nil && *f.Holds && !*g.Holds {
					t.Fatalf("%s passes, %s does not", wide, narrow)
				}
			}
		}))
	}
}

// TestPlanEnds: a load is planned with at its high end, a capacity at its low one.
func TestPlanEnds(t *testing.T) {
	for _, c := range []struct {
		name, args, figure string
		by                 End
	}{
		{"side-pull", "force=800 to 900 N; angle=7 deg", "tension_n", High},
		{"winch", "rating=20,000 lb; layer=3", "pull_n", Low},
		{"tackle", "load=9 to 10 kN; parts=4; efficiency=plain; haul_from=standing", "haul_n", High},
		{"tackle", "load=9 to 10 kN; parts=4; efficiency=plain; haul_from=standing", "advantage", Low},
		{"tackle-limit", "rope_working=4 to 5 kN; advantage=4; sheaves=4", "load_n", Low},
		{"post", "turns=2 to 3; friction=0.2; tension=3 kN", "hold_n", Low},
		{"energy", "tension=12 kN; length=30 m; material=nylon; breaking=100 kN", "stored_j", High},
		{"deadman", "breaking=100 kN; depth=1.5 m; slope=1:2; face=40 cm; soil=rock", "length_m", High},
	} {
		r := run1(t, c.name, c.args)
		f, ok := r.Figures.Get(c.figure)
		if !ok || f.By != c.by || !f.Ranged() {
			t.Errorf("sum %s %s: %s %+v", c.name, c.args, c.figure, f)
			continue
		}
		want := f.value.High
		if c.by == Low {
			want = f.value.Low
		}
		if Plan(f.value, f.By) != want {
			t.Errorf("sum %s: plan with %v, want %v", c.name, Plan(f.value, f.By), want)
		}
		if v, ok := says(r, "plan with the "); !ok || !strings.Contains(v, num(want)) && c.figure != "advantage" && c.figure != "stored_j" {
			t.Errorf("sum %s: the working does not say to plan with %v: %v", c.name, want, r.Working)
		}
	}
	if f, ok := run1(t, "slope", "of=1 deg").Figures.Get("nothing"); ok || f.Name != "" {
		t.Errorf("a figure that is not there: %+v", f)
	}
}
