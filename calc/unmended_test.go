package calc

import (
	"slices"
	"strings"
	"testing"
)

// A no-go that no change was found for says so, and how much is wrong; one with a change,
// and a go, say nothing of the kind.
func TestANoGoWithoutAChangeSaysSo(t *testing.T) {
	says := func(p Plan) bool {
		return slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, "No change that was tried") })
	}
	without := 0
	for _, file := range caseFiles(t) {
		c, err := caseOf(readCase(t, file))
		if err != nil {
			t.Fatal(err)
		}
		p := Reckon(c)
		if want := p.Decision == NoGo && len(p.Changes) == 0; says(p) != want {
			t.Errorf("%s: %s with %d changes: said is %v", file, p.Decision, len(p.Changes), says(p))
		} else if want {
			without++
		}
	}
	if without == 0 {
		t.Error("no case is without a change")
	}
}

// Of the point that the holding line is made fast to "unknown" is no answer.
func TestHoldingPointNotKnownIsNoGo(t *testing.T) {
	for told, want := range map[string]bool{"good": true, "unknown": false, "damaged": false} {
		s := plainGo()
		if s.Load.HoldingPoint == nil {
			t.Fatal("the plain job has no holding point")
		}
		s.Load.HoldingPoint.Condition = told
		if p := Reckon(read(t, s)); (p.Decision == Go) != want {
			t.Errorf("%s: %s", told, p.Decision)
		}
	}
}
