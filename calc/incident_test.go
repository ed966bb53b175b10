package calc

import (
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"linetender/calc/job"
)

// Incidents hold only what was known before the pull. What no report gives but
// a case must have (mass, slope, ground) is a plain middling figure.
func TestIncidents(t *testing.T) {
	for _, i := range caseIndex(t).Incidents {
		t.Run(name(i.File), func(t *testing.T) {
			p := planFile(t, i.File)
			if !slices.Contains(i.Decision, p.Decision) {
				t.Errorf("%s: decision %s, want one of %v (%s)", i.About, p.Decision, i.Decision, i.Source)
			}
			for id, words := range i.Fails {
				says(t, i, p, id, Fail, words)
			}
			for id, words := range i.Asks {
				says(t, i, p, id, Unknown, words)
			}
			if !slices.ContainsFunc(i.Cause, func(id string) bool { return i.Fails[id] != "" && matches(t, i.Fails[id], p.Why...) }) && p.Decision != Open {
				t.Errorf("%s: no reason names the cause that the report gives (%v): %q", i.About, i.Cause, p.Why)
			}
			for _, field := range i.Measure {
				if p.Decision != Refer && !slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == field }) {
					t.Errorf("%s: %s is not asked for", i.About, field)
				}
			}
			if p.Decision == Refer {
				noFigures(t, i.About, p)
			}
		})
	}
}

func says(t *testing.T, i incident, p Plan, id string, result Result, words string) {
	t.Helper()
	var texts []string
	for _, c := range p.Checks {
		if c.ID == id && c.Result == result {
			texts = append(texts, c.Text)
		}
	}
	if !matches(t, words, texts...) {
		t.Errorf("%s: no %s of %s says %q: %q (%s)", i.About, result, id, words, texts, i.Source)
	}
}

// A program that refuses everything would pass the test above, so each
// incident has a twin with what the report asks for put right: then the checks
// that it failed pass, or still ask for something else.
func TestTwinsClear(t *testing.T) {
	for _, i := range caseIndex(t).Incidents {
		t.Run(name(i.Twin), func(t *testing.T) {
			p := planFile(t, i.Twin)
			for _, id := range slices.Concat(i.Clears, slices.Collect(maps.Keys(i.Fails))) {
				for _, c := range p.Checks {
					if c.ID == id && c.Result == Fail && clearable(id, c) {
						t.Errorf("twin of %s: %s still fails: %s", i.About, id, c.Text)
					}
				}
			}
			for id, words := range i.Asks {
				for _, c := range p.Checks {
					if c.ID == id && c.Result != Pass && matches(t, words, c.Text) {
						t.Errorf("twin of %s: %s is still %s: %s", i.About, id, c.Result, c.Text)
					}
				}
			}
		})
	}
}

// clearable leaves out what shares an id with the check that a twin clears
// and stands for something else: crews of three are enough for the reports
// that ask for a third person, and a fourth holds the holding line.
func clearable(id string, c Check) bool {
	return id != "P3" || c.Severity == Block
}

func name(file string) string {
	return strings.TrimSuffix(file[strings.LastIndex(file, "/")+1:], ".json")
}

// mayHelp are the fields whose absence may turn a plan to the better, and why
// each has to.
var mayHelp = []struct {
	field  *regexp.Regexp
	reason string
}{
	{regexp.MustCompile(`^tackle(\.parts|\.haul_from|\.lead_blocks)?$`), "a pin asks about one tackle; without it any that serves may be taken"},
	{regexp.MustCompile(`\.use$`), "a pin puts a piece where it may not serve; without it the plan puts it where it does"},
	{regexp.MustCompile(`^site(\.[a-z_]+)?$`), "what only people on the spot see leaves a plan alone until they say it; the pull does not start before"},
}

func excepted(path string, used map[int]bool) bool {
	for i, e := range mayHelp {
		if e.field.MatchString(path) {
			used[i] = true
			return true
		}
	}
	return false
}

// Not knowing is never better than knowing: no field left out of a case that
// is no go may make it one, and no value of a field that a go can do without
// may spoil it. Of such values a third is tried, and all with LINETENDER_LONG.
func TestNoFieldLeftOutMakesAGo(t *testing.T) {
	lone(t)
	all, tried := os.Getenv("LINETENDER_LONG") != "", 0
	used := map[int]bool{}
	for _, file := range caseFiles(t) {
		tree := caseTree(t, file)
		whole, err := verdictOf(t, tree)
		if err != nil {
			t.Fatal(err)
		}
		leaveOut(tree, "", func(path string, node map[string]any, key string, told any) {
			v, err := verdictOf(t, tree)
			if err != nil || v.decision != Go {
				return
			}
			if whole.decision != Go {
				if !excepted(path, used) {
					t.Errorf("%s: a go once %s is left out", file, path)
				}
				return
			}
			for _, other := range others(told) {
				if tried++; !all && tried%3 != 1 {
					continue
				}
				node[key] = other
				// That an odd figure is asked about is no worse than not telling it: it is here said to be so.
				tree["sure"] = []any{path, strings.Replace(path, ".diameter", ".rating", 1)}
				v, err := verdictOf(t, tree)
				never := canNotBe(t, tree) // and is asked about for good: a slip of the pen is no knowledge
				delete(tree, "sure")
				if err == nil && !never && v.decision != Go && !excepted(path, used) {
					t.Errorf("%s: %s with %s %v, and a go without it", file, v.decision, path, other)
				}
			}
		})
	}
	for i, e := range mayHelp {
		if all && !used[i] {
			t.Errorf("%s is an exception for nothing (%s)", e.field, e.reason)
		}
	}
}

var (
	figureIn = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	wordsOf  = [][]string{
		job.MassFroms, job.SlopeFroms, job.Pulls, job.Depths, job.TowPoints, job.RatingKinds, job.PullerKinds, job.Hitches, job.HaulFroms,
		job.AnchorKinds, job.AnchorUses, job.Patterns, job.Soils, job.GearKinds, job.GearUses, job.Materials, job.Conditions,
		{"gravel", "wet grass", "mud", "ice"},
	}
)

// others are values that might have been told in place of one.
func others(told any) []any {
	var out []any
	switch v := told.(type) {
	case bool:
		return []any{!v}
	case float64:
		return []any{0.0, 1.0, 8.0, 0.3}
	case []any:
		return []any{[]any{"reef"}}
	case string:
		for _, words := range wordsOf {
			if slices.Contains(words, v) {
				for _, w := range words {
					out = append(out, w)
				}
			}
		}
		for _, k := range []float64{0, 0.1, 30} {
			if figureIn.MatchString(v) {
				out = append(out, figureIn.ReplaceAllStringFunc(v, func(f string) string {
					x, _ := strconv.ParseFloat(f, 64)
					return strconv.FormatFloat(x*k, 'f', -1, 64)
				}))
			}
		}
		if strings.HasSuffix(v, " deg") {
			out = append(out, "20 deg")
		}
	}
	return out
}

// leaveOut calls try with each field below node left out in turn.
func leaveOut(node any, path string, try func(path string, node map[string]any, key string, told any)) {
	switch n := node.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(n)) {
			at := k
			if path != "" {
				at = path + "." + k
			}
			v := n[k]
			delete(n, k)
			try(at, n, k, v)
			n[k] = v
			leaveOut(v, at, try)
		}
	case []any:
		for i, v := range n {
			leaveOut(v, fmt.Sprintf("%s[%d]", path, i), try)
		}
	}
}
