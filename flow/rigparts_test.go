package flow

import (
	"slices"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
)

// TestEyesAreFittedToTheRig: an anchor that nothing hangs on is not marked or
// watched, and a straight rope has no blocks to look after; what a rig has, or
// must be held, keeps its eyes.
func TestEyesAreFittedToTheRig(t *testing.T) {
	anchor := []calc.Held{{Kind: "tree"}}
	for _, tc := range []struct {
		name           string
		told           int
		plan           calc.Plan
		anchor, blocks bool
	}{
		{"straight, a tree was told of", 1, calc.Plan{Tackle: &calc.Rove{Parts: 1}}, false, false},
		{"straight, and something holds", 1, calc.Plan{Tackle: &calc.Rove{Parts: 1}, Holding: &calc.Holding{Needed: true}}, true, false},
		{"a lead block on the tree", 1, calc.Plan{Tackle: &calc.Rove{Parts: 1, LeadBlocks: 1}, Anchors: anchor}, true, true},
		{"two parts", 1, calc.Plan{Tackle: &calc.Rove{Parts: 2, Sheaves: 1}, Anchors: anchor}, true, true},
		{"no plan to go by", 1, calc.Plan{}, true, true},
		{"no anchor", 0, calc.Plan{Tackle: &calc.Rove{Parts: 1}}, false, false},
	} {
		crew := 5
		s := newSession()
		s.Sheet.Crew, s.Sheet.Anchors, s.Stage = &crew, make([]job.AnchorSheet, tc.told), LightTension
		s.Holds = []Hold{{Number: 1, Stage: LightTension}}
		x := &turn{s: s, known: true, planned: &tc.plan}
		marked := slices.ContainsFunc(x.listed(), func(c siteCheck) bool { return c.field == "anchor_marked" })
		watched := slices.Contains(x.neededPosts(), "anchor")
		if marked != tc.anchor || watched != tc.anchor {
			t.Errorf("%s: the anchor is marked %v, watched %v", tc.name, marked, watched)
		}
		var walked []string
		for _, c := range claims {
			if c.stage == LightTension && c.duty == "rigger" && (c.apply == nil || c.apply(x)) {
				walked = append(walked, c.name)
			}
		}
		if want := map[bool]string{true: "walked", false: "walked_straight"}[tc.blocks]; len(walked) != 1 || walked[0] != want {
			t.Errorf("%s: the walk is %v, not %s", tc.name, walked, want)
		}
	}
}
