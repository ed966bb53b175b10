package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/script"
)

// What only people on the spot see is asked before a plan is said to be a go,
// and where nobody can say it nothing is pulled: it counts at its worst, or the
// pull does not begin before it is told.
func TestNoPullBeforeItIsTold(t *testing.T) {
	flow.Lone(t)
	for topic, want := range map[string]string{
		"off_line":              "plan.open",
		"tow_point_condition":   "plan.open",
		"puller_side_slope":     "plan.no_go",
		"puller_rollover_frame": "plan.go_signed", // it counts as missing, and the signature names it
		"gear_side_angle":       "plan.go_signed", // pulled square to its line
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		a.byKey[topic] = []string{"skip", "skip", "skip"}
		s := compose(t, a)
		at := func(key string) int {
			return slices.IndexFunc(s.Steps, func(s script.Step) bool {
				return slices.ContainsFunc(s.Said, func(p flow.Said) bool { return p.Key == key })
			})
		}
		if asked, said := at("ask."+topic), at(want); asked < 0 || said < asked {
			t.Errorf("%s skipped: asked in step %d, %s said in step %d of %d", topic, asked, want, said, len(s.Steps))
		}
		if want == "plan.go_signed" {
			continue
		}
		if slices.ContainsFunc(s.Steps, func(s script.Step) bool { return slices.Contains(s.Label, "begin the pull") }) {
			t.Errorf("%s skipped: the pull may begin", topic)
		}
	}
}

// With fewer people than it takes for one to watch a road, or to pass signals
// on, the list asks whether that is needed, and a yes wants a signature.
func TestRoadAndSignalsAreAsked(t *testing.T) {
	for claim, want := range map[string]string{
		"No road, path or people":           "A road or the public is near",
		"The driver can see the leader all": "The driver can't see whoever leads",
	} {
		a := readAnswers(t, answersDir+"/s01-go-two-parts.txt")
		a.byWord = append(a.byWord, [2]string{claim, "[no]"})
		s := compose(t, a)
		said := slices.ContainsFunc(s.Steps, func(s script.Step) bool {
			return slices.ContainsFunc(s.Said, func(p flow.Said) bool { return strings.Contains(p.Text, want) })
		})
		begins := slices.ContainsFunc(s.Steps, func(s script.Step) bool { return slices.Contains(s.Label, "begin the pull") })
		if !said || begins {
			t.Errorf("no to %q: %q said %v, the pull may begin %v", claim, want, said, begins)
		}
	}
}
