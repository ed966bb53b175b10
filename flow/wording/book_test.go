package wording

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

// TestEveryMessageRenders renders each message of the file with the sample of
// every argument it names, in both systems of units. An argument that is not
// on the list, or is not given, fails.
func TestEveryMessageRenders(t *testing.T) {
	b := English()
	text, err := os.ReadFile("en.toml")
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`{{\.(\w+)}}`)
	inner := map[string]bool{"First": true, "Second": true, "Figure": true, "Unit": true, "From": true, "To": true,
		"Degrees": true, "Run": true, "Best": true, "Low": true, "High": true, "Before": true, "Next": true}
	for _, k := range b.Keys() {
		if strings.HasPrefix(string(k), "form.") {
			continue // rendered by every quantity below
		}
		for _, s := range []unit.System{unit.Metric, unit.Customary} {
			got, err := b.Say(s, k, samples)
			if err != nil {
				t.Errorf("%s: %v", k, err)
				continue
			}
			if got == "" || strings.Contains(got, "{{") || strings.Contains(got, "<no value>") || !utf8.ValidString(got) {
				t.Errorf("%s renders as %q", k, got)
			}
			if n := utf8.RuneCountInString(got); n > 350 {
				t.Errorf("%s has %d characters by itself, more than a phone's message: %q", k, n, got)
			}
			if strings.Contains(got, "!") {
				t.Errorf("%s has an exclamation mark: %q", k, got)
			}
		}
	}
	for _, m := range named.FindAllStringSubmatch(string(text), -1) {
		if _, ok := samples[m[1]]; !ok && !inner[m[1]] {
			t.Errorf("argument %s is not on the list", m[1])
		}
	}
}

// TestMissingArgumentFails shows that a slip can't reach a person.
func TestMissingArgumentFails(t *testing.T) {
	b := English()
	if got, err := b.Say(unit.Metric, ReadMass, Args{"Text": "2.4 t"}); err == nil {
		t.Errorf("a message without its argument renders as %q", got)
	}
	if got, err := b.Say(unit.Metric, ReadMass, Args{"Text": "2.4 t", "Mass": "heavy"}); err == nil {
		t.Errorf("a message with a text for a weight renders as %q", got)
	}
	if got, err := b.Say(unit.Metric, "no.such", nil); err == nil {
		t.Errorf("an unknown key renders as %q", got)
	}
}

// TestKeysAreCurrent makes key.go anew and compares.
func TestKeysAreCurrent(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	dir := t.TempDir()
	body, err := os.ReadFile("en.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "en.toml"), body, 0o644); err != nil {
		t.Fatal(err)
	}
	prog := filepath.Join(dir, "makekeys")
	if out, err := exec.Command("go", "build", "-o", prog, "./makekeys").CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
	cmd := exec.Command(prog)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("run: %v\n%s", err, out)
	}
	want, err := os.ReadFile(filepath.Join(dir, "key.go"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("key.go")
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Error("key.go is not what en.toml makes; run go generate ./flow/wording")
	}
}

// TestRoundingNeverFlatters holds the direction of rounding: what is to be
// carried goes up, what may be carried goes down.
func TestRoundingNeverFlatters(t *testing.T) {
	b := English()
	for _, c := range []struct {
		value any
		name  string
		want  string
	}{
		{Load{unit.Newtons(4801)}, "Force", "4.81 kN (1,080 lbf)"},
		{Limit{unit.Newtons(4809)}, "Limit", "4.8 kN (1,080 lbf)"},
		{Load{unit.Newtons(123456)}, "Force", "124 kN (27,800 lbf)"},
		{Limit{unit.Newtons(0)}, "Limit", "0 kN (0 lbf)"},
		{bound.Of[unit.Force]{Low: unit.Newtons(7159), Best: unit.Newtons(9000), High: unit.Newtons(11817)}, "Need", "7.15 to 11.9 kN (1,600 to 2,660 lbf)"},
	} {
		got, err := b.value(unit.Metric, c.value)
		if err != nil || got != c.want {
			t.Errorf("%v is written %q, %v; want %q", c.value, got, err, c.want)
		}
	}
}

// TestPlain takes out what could make a text look like another.
func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"wet\nclover":          "wet clover",
		"a\x1b[31mred":         "a[31mred",
		"safe\u202eog on":      "safeog on",
		"zero\u200bwidth":      "zerowidth",
		"\u2066x\u2069":        "x",
		"naïve ½ inch 🚜 ok":    "naïve ½ inch 🚜 ok",
		"bad \xff byte":        "bad  byte",
		"\U000e0041tag hidden": "tag hidden",
	} {
		if got := Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

// Whoever wrote in pounds and feet reads them first in the reasons too, which
// the calculation writes for everybody.
func TestOwnUnitsFirstInReasons(t *testing.T) {
	b := English()
	why := "The sling carries both lines, 25.3 kN (5,680 lbf), over 1.64 t (3,610 lb), 63.5 m (209 ft), 20 cm (7.87 in)."
	for s, want := range map[unit.System]string{
		unit.Metric:    why,
		unit.Customary: "The sling carries both lines, 5,680 lbf (25.3 kN), over 3,610 lb (1.64 t), 209 ft (63.5 m), 7.87 in (20 cm).",
	} {
		got, err := b.Say(s, PlanWhy, Args{"Why": why})
		if err != nil || got != want {
			t.Errorf("%q, %v; want %q", got, err, want)
		}
	}
}
