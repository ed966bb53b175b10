package sum

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sentences are sums as people write them, and what they come to.
var sentences = []struct{ text, name, args string }{
	{"sum side pull 838 N at 7 degrees", "side-pull", "force=838 N; angle=7 degrees"},
	{"side-pull force=838 N angle=7 deg", "side-pull", "force=838 N; angle=7 deg"},
	{"SUM SidePull force = 838 N, angle = 7 deg", "side-pull", "force=838 N; angle=7 deg"},
	{"side pull of 90 kg at 10 deg.", "side-pull", "force=90 kg; angle=10 deg"},
	{"side pull 475 N in the middle of a 12.5 m rope moved 0.75 m", "side-pull", "force=475 N; span=12.5 m; offset=0.75 m"},
	{"side pull 70 kg on a span of 460 m with a sag of 1.5 m", "side-pull", "force=70 kg; span=460 m; offset=1.5 m"},
	{"slope of 25 %", "slope", "of=25 %"},
	{"slope 1 in 4", "slope", "of=1 in 4"},
	{"slope level 48 in, gap 9 in", "slope", "of=level 48 in gap 9 in"},
	{"sum grade 2400 kg on 14 deg", "grade", "mass=2400 kg; of=14 deg"},
	{"grade for a truck that weighs 2.2 to 2.6 t at 25%", "grade", ""},
	{"grade for a truck weighing 2.2 to 2.6 t at 25%", "grade", "mass=2.2 to 2.6 t; of=25%"},
	{"grade 2400 kg +/- 10 % on a slope of 14 deg", "grade", "mass=2400 kg +/- 10 %; of=14 deg"},
	{"block load 10 kN at 90 deg", "block-load", "tension=10 kN; angle=90 deg"},
	{"block 3 kN with 120 degrees between the lines", "block-load", "tension=3 kN; angle=120 degrees"},
	{"sling leg 5 t, 2 legs, 3.5 m long, 2 m high", "sling-leg", "mass=5 t; legs=2; length=3.5 m; height=2 m"},
	{"sling 5 t on two legs each 12 ft 6 in long with the hook 2 m high", "sling-leg", "mass=5 t; legs=two; length=12 ft 6 in; height=2 m"},
	{"tackle 1000 lb advantage 4 sheaves 4", "tackle", "load=1000 lb; advantage=4; sheaves=4"},
	{"tackle of 1000 lb, 4 parts, 3 sheaves", "tackle", "load=1000 lb; advantage=4; sheaves=3"},
	{"tackle 1000 lb by the manual with 4 parts and 4 sheaves", "tackle", "load=1000 lb; advantage=4; sheaves=4; rule=manual"},
	{"tackle 10 kN with 4 parts, plain sheaves, hauled from the standing block", "tackle", "load=10 kN; parts=4; efficiency=plain; haul_from=standing"},
	{"tackle load 10 kN parts 3 efficiency 0.9 haul from moving", "tackle", "load=10 kN; parts=3; efficiency=0.9; haul_from=moving"},
	{"compound 4 and 3", "compound", "advantages=4 and 3"},
	{"compound advantages=4,3", "compound", "advantages=4,3"},
	{"tackle limit 5 kN advantage 4 sheaves 4", "tackle-limit", "rope_working=5 kN; advantage=4; sheaves=4"},
	{"recovery 100,000 lb factor 2 winch 90,000 lb", "recovery", "mass=100,000 lb; factor=2; puller=90,000 lb"},
	{"recovery of 8 t with a mire factor 1 and a 60 kN winch", "recovery", "mass=8 t; factor=1; puller=60 kN"},
	{"rope rule manila 3 in round", "rope-rule", "material=manila; circumference=3 in"},
	{"rope rule navy 1/2 in thick", "rope-rule", "rule=navy; diameter=1/2 in"},
	{"chain rule 3/4 in", "chain-rule", "diameter=3/4 in"},
	{"shackle 5/8 in", "shackle-rule", "diameter=5/8 in"},
	{"chain 3/8 in grade 70", "chain", "size=3/8 in; grade=70"},
	{"chain 10 mm G80", "chain", "size=10 mm; grade=80"},
	{"pickets 3-2-1 in loam", "pickets", "pattern=3-2-1; soil=loam"},
	{"pickets 1-1-1 in river sand", "pickets", "pattern=1-1-1; soil=river-sand"},
	{"5 steel pickets in loam", "pickets", "steel=5; soil=loam"},
	{"deadman 83600 lb at 7 ft deep slope 1 in 3 face 18 in in loam", "deadman", "breaking=83600 lb; depth=7 ft; slope=1:3; face=18 in; soil=loam"},
	{"winch 20000 lb layer 2", "winch", "rating=20000 lb; layer=2"},
	{"winch rated 4 t on layer 3", "winch", "rating=4 t; layer=3"},
	{"post 2 turns friction 0.2 tension 3 kN", "post", "turns=2; friction=0.2; tension=3 kN"},
	{"post with two and a half turns, friction of 0.25, 3 kN", "post", "turns=two and a half; friction=0.25; tension=3 kN"},
	{"lip 1200 kg step 10 cm wheel radius 38 cm", "lip", "mass=1200 kg; height=10 cm; radius=38 cm"},
	{"energy 12 kN in 30 m of nylon that breaks at 100 kN", "energy", "tension=12 kN; length=30 m; material=nylon; breaking=100 kN"},
	{"arrest 2400 kg on 14 deg, 0.25 m slack, 20 m long polyester breaking 80 kN", "arrest",
		"mass=2400 kg; of=14 deg; slack=0.25 m; length=20 m; material=polyester; breaking=80 kN"},
	// What is left out Run asks for.
	{"side pull", "side-pull", ""},
	{"winch 20000 lb", "winch", "rating=20000 lb"},
	{"tackle 10 kN 4 parts", "tackle", "load=10 kN; parts=4"},
}

func TestRead(t *testing.T) {
	for _, c := range sentences {
		name, got, err := Read(c.text)
		if c.text == "grade for a truck that weighs 2.2 to 2.6 t at 25%" { // a word that says nothing known
			if e := refusal(t, err); !strings.Contains(e.Problem, `"that weighs`) {
				t.Errorf("%q: %v", c.text, e)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		want := args(c.args)
		if c.text == "tackle 10 kN 4 parts" { // advantage or parts, as long as it is one of them
			if name != "tackle" || got["load"] != "10 kN" || len(got) != 2 {
				t.Errorf("%q: %s %v", c.text, name, got)
			}
			continue
		}
		if name != c.name || !maps.Equal(got, want) {
			t.Errorf("%q:\n  got  %s %v\n  want %s %v", c.text, name, got, c.name, want)
		}
	}
}

// TestReadRefuses: what is not understood is named, never guessed.
func TestReadRefuses(t *testing.T) {
	for _, c := range []struct{ text, path, says string }{
		{"", "", "which sum; there are slope, grade"},
		{"sum", "", "which sum"},
		{"?!", "", "which sum"},
		{"sidepul 3 N at 4 deg", "", `there is no sum "sidepul"; the nearest is "side-pull"`},
		{"side-pul rope 838 N", "", `the nearest is "side-pull"`},
		{"banana split", "", "there are slope"},
		{"side pull 838 N at 7 bananas", "", `"7 bananas" does not fit in a side-pull sum; write sum side-pull force=Q angle=S`},
		{"side pull 838 at 7 deg", "", `"838 at 7 deg" does not fit`},
		{"side pull strength=3 N", "strength", "it takes force, angle, span, offset"},
		{"side pull angel=3 deg", "angel", `the nearest is "angle"`},
		{"tackle limit rope_breaking=25kN advantage=4 sheaves=4", "rope_breaking", "divide it by 5"},
		{"grade 24 kN at 14 deg", "", `"24 kN at 14 deg" does not fit`},
		{"side pull 838 N 839 N at 7 deg", "", "does not fit"},
		{"side pull force=838 N force=839 N angle=7 deg", "", "does not fit"},
		{"energy 12 kN 14 kN 30 m nylon", "", "does not fit"},
		{strings.Repeat("side pull ", 50), "", "too long"},
	} {
		name, got, err := Read(c.text)
		e := refusal(t, err)
		if e.Path != c.path || !strings.Contains(e.Problem, c.says) {
			t.Errorf("%q:\n  %v\n  want %s: … %s", c.text, e, c.path, c.says)
		}
		if name != "" || got != nil {
			t.Errorf("%q: %s %v beside an error", c.text, name, got)
		}
	}
}

// TestTwoReadings: a sentence that comes to two different sums is not taken for
// either.
func TestTwoReadings(t *testing.T) {
	e := &entry{
		name:    "two",
		keys:    []key{{name: "a", kind: aLength}, {name: "b", kind: aLength}},
		forms:   []form{{needs: []string{"a", "b"}}},
		example: "a=1m b=2m",
	}
	p := newParse(e, split("1 m 2 m"))
	_, err := p.best()
	if got := refusal(t, err); got.Path != "a" || !strings.Contains(got.Problem, "read in two ways; name each value, such as sum two a=1m b=2m") {
		t.Errorf("two lengths: %v", got)
	}
	got, err := newParse(e, split("a=1 m b=2 m")).best()
	if err != nil || !maps.Equal(got, map[string]string{"a": "1 m", "b": "2 m"}) {
		t.Errorf("named: %v, %v", got, err)
	}
}

// TestExamplesRead: every call that a refusal offers is read, and comes to the same.
func TestExamplesRead(t *testing.T) {
	for _, name := range Names() {
		example := find(name).example
		read, got, err := Read("sum " + name + " " + example)
		if err != nil || read != name {
			t.Errorf("sum %s %s: %s, %v", name, example, read, err)
			continue
		}
		want := map[string]string{}
		for _, pair := range strings.Fields(example) {
			key, value, _ := strings.Cut(pair, "=")
			want[key] = value
		}
		if !maps.Equal(got, want) {
			t.Errorf("sum %s %s: read %v", name, example, got)
		}
		if _, err := Run(name, got); err != nil {
			t.Errorf("sum %s %s: %v", name, example, err)
		}
	}
}

// TestOrderIsFree: named values come to the same in any order.
func TestOrderIsFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(contract).Draw(t, "sum")
		want := args(c.args)
		keys := rapid.Permutation(slices.Sorted(maps.Keys(want))).Draw(t, "order")
		text := "sum " + c.name
		for _, k := range keys {
			text += " " + k + "=" + want[k]
		}
		name, got, err := Read(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for k, v := range got {
			got[k] = strings.ToLower(v)
			want[k] = strings.ToLower(strings.ReplaceAll(want[k], ", ", " "))
		}
		if name != c.name || !maps.Equal(got, want) {
			t.Fatalf("%q: %s %v, want %v", text, name, got, want)
		}
	})
}

// FuzzRead holds the reader to its contract: what it reads is a sum and its keys, and
// is read again the same when written out by name; Run then answers with finite
// figures or with one line.
func FuzzRead(f *testing.F) {
	if len(sentences) == 0 {
		f.Fatal("no seeds")
	}
	for _, c := range sentences {
		f.Add(c.text)
	}
	for _, name := range Names() {
		f.Add("sum " + name + " " + find(name).example)
	}
	for _, c := range contract {
		f.Add(c.name + " " + strings.ReplaceAll(c.args, ";", ""))
	}
	f.Fuzz(func(t *testing.T, text string) {
		name, args, err := Read(text)
		if err != nil {
			refusal(t, err)
			if name != "" || args != nil {
				t.Fatalf("%q: %s %v beside an error", text, name, args)
			}
			return
		}
		e := find(name)
		if e == nil {
			t.Fatalf("%q is read as %q", text, name)
		}
		again := name
		for key, value := range args {
			if _, ok := e.key(key); !ok || strings.TrimSpace(value) == "" {
				t.Fatalf("%q: %s=%q", text, key, value)
			}
			again += " " + key + "=" + value
		}
		if back, same, err := Read(again); len(again) <= longest && (err != nil || back != name || !maps.Equal(same, args)) {
			t.Fatalf("%q is read as %v; written out, %q, as %s %v, %v", text, args, again, back, same, err)
		}
		r, err := Run(name, args)
		if err != nil {
			refusal(t, err)
			return
		}
		var back map[string]any
		if err := json.Unmarshal([]byte(encode(t, r)), &back); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for _, f := range r.Figures {
			if !f.value.Ordered() {
				t.Fatalf("%q: %s is %v", text, f.Name, f.value)
			}
		}
	})
}
