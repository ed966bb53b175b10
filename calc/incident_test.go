package calc

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
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
			if !slices.ContainsFunc(slices.Collect(maps.Values(i.Fails)), func(words string) bool { return matches(t, words, p.Why...) }) && p.Decision != Open {
				t.Errorf("%s: no reason names a cause that the report gives: %v", i.About, p.Why)
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
	{regexp.MustCompile(`^tackle(\.parts|\.haul_from)?$`), "a pin asks about one tackle; without it any that serves may be taken"},
	{regexp.MustCompile(`^load\.off_line$`), "not told it spans 0 to 10 deg, and which way the line leads is asked on the spot"},
	{regexp.MustCompile(`^site(\.[a-z_]+)?$`), "what only people on the spot see leaves a plan alone until they say it; the pull does not start before"},
}

// Not knowing is never better than knowing: no field left out of a case that
// is no go may make it one.
func TestNoFieldLeftOutMakesAGo(t *testing.T) {
	used := map[int]bool{}
	for _, file := range caseFiles(t) {
		tree := caseTree(t, file)
		if v, err := verdictOf(t, tree); err != nil || v.decision == Go {
			continue
		}
		leaveOut(tree, "", func(path string) {
			v, err := verdictOf(t, tree)
			if err != nil || v.decision != Go {
				return
			}
			for i, e := range mayHelp {
				if e.field.MatchString(path) {
					used[i] = true
					return
				}
			}
			t.Errorf("%s: a go once %s is left out", file, path)
		})
	}
	for i, e := range mayHelp {
		if !used[i] {
			t.Errorf("%s is an exception for nothing (%s)", e.field, e.reason)
		}
	}
}

// leaveOut calls try with each field of node left out in turn.
func leaveOut(node any, path string, try func(path string)) {
	switch n := node.(type) {
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(n)) {
			at := k
			if path != "" {
				at = path + "." + k
			}
			v := n[k]
			delete(n, k)
			try(at)
			n[k] = v
			leaveOut(v, at, try)
		}
	case []any:
		for i, v := range n {
			leaveOut(v, fmt.Sprintf("%s[%d]", path, i), try)
		}
	}
}
