package report

import (
	"bytes"
	"encoding/base64"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/calc/unit"
)

var update = flag.Bool("update", false, "rewrite the golden pages")

func planFile(t testing.TB, name string) calc.Plan {
	t.Helper()
	text, err := os.ReadFile("../../testdata/cases/scenarios/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := job.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := sheet.Case()
	if err != nil {
		t.Fatal(err)
	}
	return calc.Reckon(c)
}

// drawing stands in for the rig: as high as the highest that is drawn for a card.
func drawing(name string, high int) Picture {
	svg := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1080 %d" role="img" aria-labelledby="%s-title"><title id="%s-title">The rig</title><rect width="1080" height="%d" fill="#fff"/><text x="40" y="80" font-size="34">rig</text></svg>`, high, name, name, high)
	return Picture{Title: "The rig", SVG: []byte(svg), Alt: "Two parts of line from the moving block."}
}

// drawn is a picture as flow/picture keeps it among its goldens.
func drawn(t testing.TB, name string) Picture {
	t.Helper()
	svg, err := os.ReadFile("../picture/testdata/" + name + ".svg")
	if err != nil {
		t.Fatal(err)
	}
	return Picture{Title: "The rig", SVG: svg, Alt: "The rig as drawn."}
}

var crew = []Role{
	{"Ada", "leader and signals", "uphill, off to the side, seeing load and puller", ""},
	{"Bo", "driver", "in the seat, belt on, or at the winch out of the line", ""},
	{"Cleo", "rigger, then anchor watch and chocks", "at the gear until the line is tight, then clear", ""},
	{`Dan <b>&"`, "holding line", "behind the post, side on, hands 2 m from it", ""},
}

func cardOf(t testing.TB, name string) Card {
	p := planFile(t, name)
	c := Card{Title: "flatbed in the beet field", Code: "K7-PLUM", Place: "lower gate, Hollow Lane", Date: "3 March, 14:10", Plan: p, Roles: crew, Head: "9f2c 41d0",
		Numbers: map[string]int{"holding": 1, "holding-point": 2, "moving-block": 3, "tow-point": 4, "load": 5, "haul": 6, "hitch": 7, "holding-anchor": 8, "standing": 9}}
	if p.Force != nil {
		c.Rig = drawn(t, name+".card")
	}
	return c
}

// fullCard is a card with more of everything than there is room for.
func fullCard(t testing.TB) Card {
	c := cardOf(t, "s01-pickup-and-trailer")
	c.Rig = drawing("card", 2900)
	for i := range 30 {
		r := 0.02 * float64(i)
		w := unit.Kilonewtons(123.4)
		c.Plan.Gear = append(c.Plan.Gear, calc.Member{Kind: "shackle", Name: fmt.Sprintf("bow shackle %d with the long name that crews give", i), Use: "standing-block", Tension: unit.Kilonewtons(23.4), Working: &w, Ratio: &r, Passes: true})
		c.Checks = append(c.Checks, Box{Text: fmt.Sprintf("Check %d: the strop lies low on the tree, is padded, and nothing rubs on a sharp edge anywhere along it, as the one who rigged it has shown to the one who leads the pull", i), Done: i%2 == 0, Who: "Ada"})
		c.Roles = append(c.Roles, crew[i%4])
	}
	c.Plan.Why = []string{strings.Repeat("The holding line carries most of what it may. ", 3), strings.Repeat("The hitch is next. ", 6), "The mass was guessed."}
	return c
}

func reportOf(t testing.TB) Report {
	p := planFile(t, "s01-pickup-and-trailer")
	dot, err := base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")
	if err != nil {
		t.Fatal(err)
	}
	return Report{
		Title: "flatbed in the beet field", Code: "K7-PLUM", Made: "3 March, 16:02, by this release", Head: "9f2c 41d0", Verified: "212 entries, all in order",
		Summary:   []Fact{{"Place", "lower gate, Hollow Lane"}, {"Crew", "Ada, Bo, Cleo, Dan"}, {"Ended", "load on the level, gear counted"}},
		Plan:      &p,
		Pictures:  []Picture{drawn(t, "s01-pickup-and-trailer.rig"), drawn(t, "s01-pickup-and-trailer.force"), {Title: "empty"}},
		Timeline:  []Event{{1, "13:02 +01:00", "Ada", "It sits in the ditch & won't move <at all>", []string{"What does it weigh, loaded?\nLike 2.4 t."}}, {2, "13:03 +01:00", "Ada", "2.4 t", nil}},
		Answers:   []Answer{{"Weight, loaded", "2.4 t", "1.8 to 3.0 t", "a guess", "Ada", "13:03", "2 t"}},
		Checks:    []Mark{{"Everyone outside the clear distance", "yes", "Ada", "14:20", "photo 2"}},
		Overrides: []Override{{"More than half of its strength at the puller's most", "Ada", "Bo", "a steady winch, and no run", "14:22", []string{"Put to Bo: “Do you answer for going on against it?” Yes at 14:21."}}},
		Stops:     []Stop{{"14:31", "Cleo", "the mark moved", "2 s", "strop laid lower, checks asked again"}},
		Compared:  []Compare{{"Rope for a metre of load", "2 m", "2.1 m"}},
		Photos:    []Photo{{"image/png", dot, "the strop", "Cleo", "14:19"}, {"image/svg+xml", []byte("<svg onload='x()'/>"), "a drawing", "Bo", "14:20"}},
	}
}

type page struct {
	name string
	html []byte
}

func all(t testing.TB) []page {
	t.Helper()
	made := func(name string, html []byte, err error) page {
		if err != nil {
			t.Fatal(err)
		}
		return page{name, html}
	}
	var out []page
	for _, name := range []string{"s01-pickup-and-trailer", "s14-lead-block", "s24-wires", "x2-runs-by-itself"} {
		html, err := cardOf(t, name).HTML()
		out = append(out, made("card-"+name, html, err))
	}
	html, err := fullCard(t).HTML()
	out = append(out, made("card-full", html, err))
	html, err = reportOf(t).HTML()
	out = append(out, made("report-full", html, err))
	html, err = Report{Code: "K7-PLUM"}.HTML()
	out = append(out, made("report-bare", html, err))
	report, card, _ := filled(t, "s01-go-two-parts")
	out = append(out, page{"report-job", report}, page{"card-job", card})
	p := planFile(t, "s24-wires")
	html, err = Report{Code: "K7-PLUM", Plan: &p}.HTML()
	return append(out, made("report-refer", html, err))
}

func TestGoldenPages(t *testing.T) {
	for _, p := range all(t) {
		file := filepath.Join("testdata", p.name+".html")
		if *update {
			if err := os.WriteFile(file, p.html, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(p.html, want) {
			t.Errorf("%s differs; look at it and run with -update", file)
		}
	}
}

// What people write is shown as they wrote it and never as markup; nothing is
// fetched and nothing runs.
func TestPagesAreClosed(t *testing.T) {
	loads := regexp.MustCompile(`(?i)<script|<link|<iframe|@import|url\(|(?:src|href)="(?:https?:)?//|\son[a-z]+=`)
	for _, p := range all(t) {
		if hit := loads.Find(p.html); hit != nil {
			t.Errorf("%s holds %q", p.name, hit)
		}
		if bytes.Contains(p.html, []byte("<b>&")) || bytes.Contains(p.html, []byte("<at all>")) {
			t.Errorf("%s: a person's words became markup", p.name)
		}
		if bytes.Contains(p.html, []byte("%!")) || bytes.Contains(p.html, []byte("ZgotmplZ")) {
			t.Errorf("%s: a value did not go in", p.name)
		}
	}
}

var forceFigure = regexp.MustCompile(`\d\s*(k?N|lbf|kgf)\b`)

// A refer shows no force: a number invites a pull.
func TestReferHasNoFigures(t *testing.T) {
	for _, p := range all(t) {
		if p.name != "card-s24-wires" && p.name != "report-refer" {
			continue
		}
		if f := forceFigure.Find(p.html); f != nil {
			t.Errorf("%s says %q", p.name, f)
		}
		if !bytes.Contains(p.html, []byte(words["handover"])) {
			t.Errorf("%s: nothing to hand over", p.name)
		}
	}
}

// What a card has no room for is counted on it.
func TestCardCountsWhatItLeavesOut(t *testing.T) {
	c := fullCard(t)
	html, err := c.HTML()
	if err != nil {
		t.Fatal(err)
	}
	for key, n := range map[string]int{
		"more_members": len(c.Plan.Gear) + len(c.Plan.Anchors) - mostMembers,
		"more_roles":   len(c.Roles) - mostRoles,
		"more_checks":  len(c.Checks) - mostBoxes,
	} {
		if want := fmt.Sprintf(words[key], n); !bytes.Contains(html, []byte(want)) {
			t.Errorf("the card does not say %q", want)
		}
	}
}

// Blocking checks that are not passed come before all others, so that a full
// card drops none of them for an advice.
func TestBoxesBlockingFirst(t *testing.T) {
	p := calc.Plan{Checks: []calc.Check{
		{Severity: calc.Advice, Result: calc.Fail, Text: "advice"}, {Severity: calc.Block, Result: calc.Unknown, OnSite: true, Text: "on site"},
		{Severity: calc.Block, Result: calc.Pass, Text: "passed"}, {Severity: calc.SignOff, Result: calc.Fail, Text: "sign"},
	}}
	var got []string
	for _, b := range boxesOf(p) {
		got = append(got, b.Text)
	}
	if want := "sign,on site,advice"; strings.Join(got, ",") != want {
		t.Errorf("boxes %v, want %s", got, want)
	}
}

func TestWeakestFirst(t *testing.T) {
	p := planFile(t, "s21-four-parts")
	all, err := members(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !all[0].Weakest || !all[0].Fails {
		t.Errorf("the first member is %+v; the beech fails and is the weakest", all[0])
	}
	for _, m := range all[1:] {
		if m.Weakest {
			t.Errorf("%s is weakest too", m.Name)
		}
	}
}

// Every word of the file is used, and every use has a word: templates fail on
// a missing one, which the goldens show.
func TestWordsAreUsed(t *testing.T) {
	var text []byte
	for _, glob := range []string{"*.html", "*.go"} {
		names, err := filepath.Glob(glob)
		if err != nil || len(names) == 0 {
			t.Fatal("nothing to read", err)
		}
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			text = append(text, b...)
		}
	}
	for k := range words {
		made := false
		for _, begins := range []string{"use", "result", "severity", "decision", "how", "fact", "as", "word", "compare", "state"} {
			made = made || strings.HasPrefix(k, begins+"_")
		}
		if !made && !bytes.Contains(text, []byte(`"`+k+`"`)) {
			t.Errorf("the words for %s are used nowhere", k)
		}
	}
}

// TestValid asks an HTML checker. It fetches one, so it runs only when asked for.
func TestValid(t *testing.T) {
	if os.Getenv("LINETENDER_LONG") == "" {
		t.Skip("set LINETENDER_LONG=1 to check the pages with html-validate from npm")
	}
	npx, err := exec.LookPath("npx")
	if err != nil {
		t.Skip("npx is not installed: the pages were not checked")
	}
	dir := t.TempDir()
	config := `{"extends":["html-validate:recommended","html-validate:a11y"],"rules":{"no-trailing-whitespace":"off","no-inline-style":"off","void-style":"off"}}`
	if err := os.WriteFile(filepath.Join(dir, ".htmlvalidate.json"), []byte(config), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"--yes", "html-validate@9"}
	for _, p := range all(t) {
		file := filepath.Join(dir, p.name+".html")
		if err := os.WriteFile(file, p.html, 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	cmd := exec.Command(npx, args...)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// TestCardHasTheWayOn: without a signal the card has to be enough: how far a bite
// goes, the order of a re-rig and what happens at a crest, without a holding line
// where there is none.
func TestCardHasTheWayOn(t *testing.T) {
	c := cardOf(t, "s01-pickup-and-trailer")
	far := unit.Metres(1.239)
	for _, row := range []struct {
		bite  *unit.Length
		holds bool
		want  []string
		never string
	}{
		{&far, true, []string{"at most 1.23 m, the first move 0.3 m", "Ease the haul line 10 cm", "holding line fast", "At a crest"}, "not known: 0.3 m"},
		{nil, false, []string{"not known: 0.3 m at most", "1. HELD, chocks in. 2.", "At a crest", "Silence is stop"}, "no slack in the holding line"},
	} {
		c.Bite = row.bite
		held := *c.Plan.Holding
		held.Needed = row.holds
		c.Plan.Holding = &held
		page, err := c.HTML()
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range row.want {
			if !bytes.Contains(page, []byte(want)) {
				t.Errorf("holding line %v: the card lacks %q", row.holds, want)
			}
		}
		if bytes.Contains(page, []byte(row.never)) {
			t.Errorf("holding line %v: the card says %q", row.holds, row.never)
		}
	}
}
