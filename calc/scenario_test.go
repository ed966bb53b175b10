package calc

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
)

// The case files stand in testdata/cases: jobs of our own, and incidents built
// from what was known before the pull. Their index says where each comes from
// and what the plan must say.
const caseFolder = "../testdata/cases"

type scenario struct {
	File, Source, About string
	Decision            Decision
	Parts               int    // that the plan takes; 0 is any
	Why                 string // one of the reasons matches this
	Change              string // one of the changes matches this
	Runs                bool   // the load runs by itself
	Assumed             string // a field that the plan says it filled in
	Turned              string // why this is no longer what a coarser table made it
}

type incident struct {
	File, Twin, Source, Read, About string
	Decision                        []Decision
	Fails                           map[string]string // check id to the words of its cause
	Cause                           []string          // of those that fail, what the report itself gives
	Asks                            map[string]string // check id to the words of its question
	Measure                         []string          // fields that the plan asks for
	Clears                          []string          // checks that the twin no longer fails
}

func caseIndex(t *testing.T) (index struct {
	Scenarios []scenario
	Incidents []incident
}) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(string(readCase(t, "index.json"))))
	d.DisallowUnknownFields()
	if err := d.Decode(&index); err != nil {
		t.Fatal(err)
	}
	return index
}

func readCase(t *testing.T, file string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(caseFolder, file))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func caseOf(text []byte) (job.Case, error) {
	sheet, err := job.Decode(text)
	if err != nil {
		return job.Case{}, err
	}
	return sheet.Case()
}

func planFile(t *testing.T, file string) Plan {
	t.Helper()
	c, err := caseOf(readCase(t, file))
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return Reckon(c)
}

// verdictOf is what a case comes to, without what would change it.
func verdictOf(t *testing.T, tree map[string]any) (verdict, error) {
	t.Helper()
	text, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := caseOf(text)
	if err != nil {
		return verdict{}, err
	}
	return newSearch(c, view{}).run()[0].v, nil
}

// canNotBe reports whether a case has a figure that nobody may be sure of.
func canNotBe(t *testing.T, tree map[string]any) bool {
	t.Helper()
	text, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	c, err := caseOf(text)
	return err == nil && len(c.Odd) > 0
}

func caseTree(t *testing.T, file string) map[string]any {
	t.Helper()
	var tree map[string]any
	if err := json.Unmarshal(readCase(t, file), &tree); err != nil {
		t.Fatal(err)
	}
	return tree
}

func matches(t *testing.T, pattern string, texts ...string) bool {
	t.Helper()
	re, err := regexp.Compile("(?i)" + pattern)
	if err != nil {
		t.Fatal(err)
	}
	return slices.ContainsFunc(texts, re.MatchString)
}

// Scenarios carry full facts, so a go is a go: a second rope with its own
// anchor and tow point is listed wherever the slope asks for a holding line.
//
// Those that come out otherwise than tables of round figures would have them say
// why in the index. A puller's own rolling is taken off its grip, which is that
// of the least that it may weigh, what breaks at the puller's most is blocked and
// not signed for, no tree counts for more than two tonnes, and stakes keep the
// factor of two. In mud the dug out four-wheel-drive may need 1.8 t at its tow
// point, where 1.5 t would pass with the high end of shallow mud at 0.4 of the
// weight; it is half here, and the point bears 3.5 t, since it has to outlast the
// most of a tractor that may weigh 4.4 t.
func TestScenarios(t *testing.T) {
	for _, s := range caseIndex(t).Scenarios {
		t.Run(strings.TrimSuffix(filepath.Base(s.File), ".json"), func(t *testing.T) {
			p := planFile(t, s.File)
			if p.Decision != s.Decision {
				t.Fatalf("%s: decision %s, want %s\nwhy: %s", s.About, p.Decision, s.Decision, strings.Join(p.Why, "\n     "))
			}
			if s.Why != "" && !matches(t, s.Why, p.Why...) {
				t.Errorf("%s: no reason says %q:\n%s", s.About, s.Why, strings.Join(p.Why, "\n"))
			}
			if s.Parts > 0 && (p.Tackle == nil || p.Tackle.Parts != s.Parts) {
				t.Errorf("%s: the plan takes %+v, want %d parts", s.About, p.Tackle, s.Parts)
			}
			if p.RunsAlone != s.Runs {
				t.Errorf("%s: runs by itself is %v", s.About, p.RunsAlone)
			}
			if s.Change != "" && !slices.ContainsFunc(p.Changes, func(c Change) bool { return matches(t, s.Change, c.Do) }) {
				t.Errorf("%s: no change says %q: %v", s.About, s.Change, p.Changes)
			}
			if s.Assumed != "" && !slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == s.Assumed }) {
				t.Errorf("%s: %s is not told as assumed", s.About, s.Assumed)
			}
			if p.Decision == NoGo && len(p.Changes) == 0 {
				t.Errorf("%s: a no-go that names no change", s.About)
			}
			if p.Decision == Refer {
				noFigures(t, s.About, p)
			}
		})
	}
}

var forceFigure = regexp.MustCompile(`\d\s*(k?N|lbf|kgf)\b`)

// noFigures holds a refer to holding no force: a number invites a pull.
func noFigures(t *testing.T, about string, p Plan) {
	t.Helper()
	if p.Force != nil || p.Resistance != nil || p.Tackle != nil || p.Puller != nil || p.Gear != nil || p.Changes != nil || p.Working != nil {
		t.Errorf("%s: a refer with a pull in it", about)
	}
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	if f := forceFigure.Find(text); f != nil {
		t.Errorf("%s: a refer says %q", about, f)
	}
	if len(p.Handover) == 0 {
		t.Errorf("%s: a refer with nothing to hand over", about)
	}
}

func TestEveryCaseFileIsInTheIndex(t *testing.T) {
	var listed []string
	index := caseIndex(t)
	for _, s := range index.Scenarios {
		listed = append(listed, s.File)
		if s.Source == "" || s.About == "" {
			t.Errorf("%s: no source, or not said what it is about", s.File)
		}
	}
	for _, i := range index.Incidents {
		listed = append(listed, i.File, i.Twin)
		if i.Source == "" || i.Read == "" || i.About == "" {
			t.Errorf("%s: no source, or not said how it was read or what it is about", i.File)
		}
	}
	files, err := filepath.Glob(caseFolder + "/*/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no case files", err)
	}
	for _, f := range files {
		name := filepath.Base(filepath.Dir(f)) + "/" + filepath.Base(f)
		if !slices.Contains(listed, name) {
			t.Errorf("%s is not in the index", name)
		}
	}
	if len(files) != len(listed) {
		t.Errorf("%d files, %d in the index", len(files), len(listed))
	}
}

// The order in which gear and anchors are listed is an accident of telling.
func TestGearInAnyOrder(t *testing.T) {
	lone(t)
	for _, file := range caseFiles(t) {
		tree := caseTree(t, file)
		want, err := verdictOf(t, tree)
		if err != nil {
			t.Fatal(err)
		}
		for _, list := range []string{"gear", "anchors"} {
			all, _ := tree[list].([]any)
			for turn := range all {
				turned := append(slices.Clone(all[turn:]), all[:turn]...)
				for _, order := range [][]any{turned, reversed(turned)} {
					tree[list] = order
					got, err := verdictOf(t, tree)
					if err != nil {
						t.Fatal(err)
					}
					if got.decision != want.decision || !slices.Equal(got.unsigned, want.unsigned) {
						t.Errorf("%s: %s %v with its %s in another order; else %s %v", file, got.decision, got.unsigned, list, want.decision, want.unsigned)
					}
				}
			}
			if all != nil {
				tree[list] = all
			}
		}
	}
}

func reversed(list []any) []any {
	out := slices.Clone(list)
	slices.Reverse(out)
	return out
}

func caseFiles(t *testing.T) []string {
	t.Helper()
	var out []string
	index := caseIndex(t)
	for _, s := range index.Scenarios {
		out = append(out, s.File)
	}
	for _, i := range index.Incidents {
		out = append(out, i.File, i.Twin)
	}
	return out
}
