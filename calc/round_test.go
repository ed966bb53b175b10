package calc

import (
	"strings"
	"testing"
)

// TestAStropGoesRoundTheAnchor: what makes a block or a winch fast to a trunk, a
// stump, a log or stakes goes round it, and a shackle that is there does not. A
// strop that is too weak for the lines on it is no go. With two parts from the moving
// block the rope's dead end alone is on it, and it is placed and judged all the same.
func TestAStropGoesRoundTheAnchor(t *testing.T) {
	const (
		strop  = "gear[5].kind=sling; gear[5].sling_angle=0 deg; "
		wound  = "puller=; puller.kind=hand-winch; puller.rating=3 t; puller.rating_kind=working; puller.winch_layer=1; puller.ground=gravel; puller.slope=0 deg; tackle.parts=1; tackle.haul_from=; "
		winder = "anchors[2].kind=tree; anchors[2].use=puller; anchors[2].diameter=60 cm; anchors[2].alive=true; anchors[2].lean=false; anchors[2].tied_back=true; anchors[2].strap_held=true; "
		sling  = "gear[4].kind=sling; gear[4].use=anchor; gear[4].rating=8 t; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].sling_angle=0 deg; "
	)
	for name, tc := range map[string]struct{ bare, strop, weak, lack, check string }{
		"tree":       {block2 + "; " + tree, strop, "gear[5].rating=0.3 t", "a strop round the anchor of the tackle", "R10"},
		"stump":      {block2 + "; " + stump, strop, "gear[5].rating=0.3 t", "a strop round the anchor of the tackle", "R10"},
		"stakes":     {block2 + "; load.mass=800 kg; " + stakes, strop, "gear[5].rating=0.1 t", "a strop round the anchor of the tackle", "R10"},
		"hand winch": {wound + winder, sling, "gear[4].rating=0.3 t", "a strop round the anchor of the winch", "R3"},
		"dead end":   {tree, treeSling, "gear[4].rating=0.2 t", "a strop round the anchor of the tackle", "R3"},
		"not pinned": {stump, treeSling + "; gear[4].use=", "gear[4].rating=0.2 t", "a strop round the anchor of the tackle", "R3"},
	} {
		if got := outcomes(weighedBest(t, changed(t, tc.bare)), "R1")[Unknown]; !strings.Contains(got, tc.lack) {
			t.Errorf("%s: without a strop it is asked %q, want what is missing: %s", name, got, tc.lack)
		}
		if got := outcomes(weighedBest(t, changed(t, tc.bare, tc.strop)), "R1"); got[Unknown] != "" || got[Fail] != "" {
			t.Errorf("%s: with a strop the load path is not named: %v", name, got)
		}
		o := weighedBest(t, changed(t, tc.bare, tc.strop, tc.weak))
		if got := outcomes(o, tc.check)[Fail]; got == "" || o.v.decision != NoGo {
			t.Errorf("%s: with a weak strop the plan is %s: %q", name, o.v.decision, got)
		}
	}
}

// A strop at the dead end counts as choked where nobody told how it is put round: where
// a choke would come out otherwise that is asked, and it is no go where it is told.
func TestAChokeAtTheDeadEndCounts(t *testing.T) {
	const just = "; gear[4].rating=0.35 t; puller.mass=600 kg; load.mass=1000 kg; load.slope=3 deg; "
	for hitch, want := range map[string]Decision{"basket": Go, "": Open, "choked": NoGo} {
		o := weighedBest(t, changed(t, tree+treeSling+just+"gear[4].sling_hitch="+hitch))
		if o.v.decision != want {
			t.Errorf("put on %q it is %s, want %s: %v", hitch, o.v.decision, want, o.path.seats)
		}
	}
}
