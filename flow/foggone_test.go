package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow"
)

// inFog is how a job is reckoned whose best rig in fog is another, and no go either.
func inFog(c job.Case) calc.Plan {
	p := reckon(c)
	if !slices.ContainsFunc(p.Checks, func(k calc.Check) bool { return k.Result == calc.Fail && k.ID == "H7" }) {
		return p
	}
	other := *p.Tackle
	other.Parts = 3
	p.Decision, p.Conditional, p.SignOffs, p.Tackle = calc.NoGo, false, []string{}, &other
	p.Why = []string{"The rope 2 bends too tightly."}
	p.Checks = append(slices.Clone(p.Checks), calc.Check{ID: "R9", Severity: calc.Block, Result: calc.Fail, Text: p.Why[0]})
	return p
}

// TestWhatTheListStopsIsTheReason: where the job is no go by what somebody saw on the
// spot and by nothing else, the reasons are that, and not what is wrong with a rig that
// nobody has.
func TestWhatTheListStopsIsTheReason(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.engine.Reckon = inFog
	out := p.say("Bo", "nope the fog is thick")
	if got := text(out["test/Ada"]); !strings.Contains(got, "NO-GO.\n\nIt is dark or stormy") || strings.Contains(got, "rope 2 bends") {
		t.Errorf("the lead reads %q", got)
	}
	for _, words := range []string{"why", "plan", "show board"} {
		got := text(p.say("Ada", words)["test/Ada"])
		if !strings.Contains(got, "It is dark or stormy") || strings.Contains(got, "rope 2 bends") || strings.Contains(got, "3 line parts") {
			t.Errorf("%s is answered %q", words, got)
		}
	}
}

// TestFogGone: that it has gone is no second no, and it is looked at again; that it has
// not, or that there is another thing, is.
func TestFogGone(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Bo", "nope the fog is thick")
	for words, gone := range map[string]bool{
		"fixed, fog gone": true, "the fog has lifted": true, "fog gone now": true, "fixed, the fog is not gone": false, "fog gone but thunder": false,
	} {
		q := p.copied(t)
		out := q.say("Bo", words)
		again := strings.Contains(text(out["test/Ada"])+text(out["test/Bo"]), "look once more")
		if said := strings.Contains(text(out["test/Cy"]), words); again != gone || said == gone {
			t.Errorf("%q: it is asked again %v, the others read it %v", words, again, said)
		}
		if v, _ := q.job().Sheet.Get("site.light"); v == "true" {
			t.Errorf("%q makes it good", words)
		}
	}
}
