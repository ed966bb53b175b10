package calc

import (
	"strings"
	"testing"
)

// TestAStropGoesRoundTheAnchor: what makes a block or a winch fast to a trunk, a
// stump, a log or stakes goes round it, and a shackle that is there does not. A
// strop that is too weak for the lines on it is no go.
func TestAStropGoesRoundTheAnchor(t *testing.T) {
	const (
		strop  = "gear[5].kind=sling; gear[5].sling_angle=0 deg; "
		wound  = "puller=; puller.kind=hand-winch; puller.rating=3 t; puller.rating_kind=working; puller.winch_layer=1; puller.ground=gravel; puller.slope=0 deg; tackle.parts=1; tackle.haul_from=; "
		winder = "anchors[2].kind=tree; anchors[2].use=puller; anchors[2].diameter=60 cm; anchors[2].alive=true; anchors[2].lean=false; anchors[2].tied_back=true; anchors[2].strap_held=true; "
		sling  = "gear[4].kind=sling; gear[4].use=anchor; gear[4].rating=8 t; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].sling_angle=0 deg; "
	)
	for name, tc := range map[string]struct{ bare, strop, weak, lack string }{
		"tree":       {block2 + "; " + tree, strop, "gear[5].rating=0.3 t", "a strop round the anchor of the tackle"},
		"stump":      {block2 + "; " + stump, strop, "gear[5].rating=0.3 t", "a strop round the anchor of the tackle"},
		"stakes":     {block2 + "; load.mass=800 kg; " + stakes, strop, "gear[5].rating=0.1 t", "a strop round the anchor of the tackle"},
		"hand winch": {wound + winder, sling, "gear[4].rating=0.3 t", "a strop round the anchor of the winch"},
	} {
		if got := outcomes(weighedBest(t, changed(t, tc.bare)), "R1")[Unknown]; !strings.Contains(got, tc.lack) {
			t.Errorf("%s: without a strop it is asked %q, want what is missing: %s", name, got, tc.lack)
		}
		if got := outcomes(weighedBest(t, changed(t, tc.bare, tc.strop)), "R1"); got[Unknown] != "" || got[Fail] != "" {
			t.Errorf("%s: with a strop the load path is not named: %v", name, got)
		}
		o := weighedBest(t, changed(t, tc.bare, tc.strop, tc.weak))
		if got := outcomes(o, "R10")[Fail]; got == "" || o.v.decision != NoGo {
			t.Errorf("%s: with a weak strop the plan is %s: %q", name, o.v.decision, got)
		}
	}
}
