package calc

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
)

// onTree hauls in three parts from a block on a tree, with a sling round it.
const onTree = block2 + "; " + tree + "; gear[5].kind=sling; gear[5].name=tree sling; gear[5].knots=none; gear[5].sling_angle=0 deg; load.mass=1500 kg; puller.mass=1.5 t; tackle.parts=3; tackle.haul_from=; "

// A sling that a basket lets through breaks where it is choked: it is no go, with
// the share and what to do about it; and where nobody told, it is asked.
func TestAChokedSlingKeepsAShare(t *testing.T) {
	whole := weighedBest(t, changed(t, onTree+"gear[5].sling_hitch=basket"))
	var needs float64
	for _, s := range whole.path.seats {
		if s.piece != nil && s.piece.path == "gear[5]" {
			needs = max(s.tension.TonnesForce(), s.peak.TonnesForce()/2)
		}
	}
	share, _ := handbook.SlingChoked()
	just := fmt.Sprintf("gear[5].rating=%.4f t; ", needs*1.03) // 97 %
	for _, w := range []struct {
		sets string
		want Decision
	}{
		{just + "gear[5].sling_hitch=basket", Go},
		{just + "gear[5].sling_hitch=choked", NoGo},
		{just + "gear[5].sling_hitch=straight", NoGo}, // round a tree nothing goes straight
		{just, Open},
		{fmt.Sprintf("gear[5].rating=%.4f t; gear[5].sling_hitch=choked", 2.1*needs/float64(share.Low)), Go},
		{fmt.Sprintf("gear[5].rating=%.4f t", 2.1*needs/float64(share.Low)), Go},
	} {
		p := Reckon(read(t, changed(t, onTree+w.sets)))
		if p.Decision != w.want {
			t.Errorf("%s: %s, want %s: %v", w.sets, p.Decision, w.want, p.Why)
		}
		asks := slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == "gear[5].sling_hitch" && m.CouldFlip })
		if asks != (w.want == Open) {
			t.Errorf("%s: asks for how it is put on: %v", w.sets, asks)
		}
		untold := !strings.Contains(w.sets, "sling_hitch")
		if assumed := slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == "gear[5].sling_hitch" && a.Value == "choked" }); assumed != (untold && w.want == Go) {
			t.Errorf("%s: assumed %v", w.sets, p.Assumed)
		}
		if w.want == NoGo && !slices.ContainsFunc(p.Changes, func(c Change) bool {
			return strings.Contains(c.Do, "Put the tree sling round as a basket, both eyes to the shackle.")
		}) {
			t.Errorf("%s: no change puts it round as a basket: %v", w.sets, p.Changes)
		}
	}
}

// On the holding line's tree a strop goes straight no more than on the tackle's: it counts
// as choked, half of its stamp. Into an eye it counts in full.
func TestAStropOnTheHoldingTreeIsNotStraight(t *testing.T) {
	plain := Reckon(read(t, changed(t, ""))).Gear
	needs := plain[slices.IndexFunc(plain, func(m Member) bool { return m.Use == "holding" })].Tension.TonnesForce()
	strop := func(stamp float64, hitch string) string {
		return fmt.Sprintf("gear[4].kind=sling; gear[4].name=oak strop; gear[4].use=holding; gear[4].rating=%.4f t; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].knots=none; gear[4].sling_angle=0 deg; gear[4].sling_hitch=%s; ", stamp, hitch)
	}
	const oak = "anchors[1].rating=; anchors[1].rating_kind=; anchors[1].kind=tree; anchors[1].diameter=90 cm; anchors[1].alive=true; anchors[1].lean=false; anchors[1].tied_back=true; anchors[1].strap_held=true; site.clear="
	for _, c := range []struct {
		sets string
		want Decision
	}{
		{strop(1.5*needs, "basket") + oak, Go},
		{strop(1.5*needs, "choked") + oak, NoGo},
		{strop(1.5*needs, "straight") + oak, NoGo},
		{strop(1.5*needs, "straight"), Go}, // the rated anchor has an eye
		{strop(2.1*needs, "straight") + oak, Go},
	} {
		if p := Reckon(read(t, changed(t, c.sets))); p.Decision != c.want {
			t.Errorf("%s: %s, want %s: %v", c.sets, p.Decision, c.want, p.Why)
		}
	}
}

// Choked it may carry the share of the handbook, and the sum beside it says so.
func TestAChokeIsAStepOfTheSum(t *testing.T) {
	share, _ := handbook.SlingChoked()
	for _, how := range []string{"choked", ""} {
		p := Reckon(read(t, changed(t, onTree+"gear[5].rating=19 t; gear[5].sling_hitch="+how)))
		i := slices.IndexFunc(p.Gear, func(m Member) bool { return m.Name == "tree sling" })
		if i < 0 || p.Gear[i].Working == nil || !about(p.Gear[i].Working.TonnesForce(), 19*float64(share.Low)) {
			t.Fatalf("%q: it may carry %+v", how, p.Gear)
		}
		if !slices.ContainsFunc(p.Working, func(s Step) bool {
			return strings.Contains(s.Topic+s.Formula+s.In, "what a choke leaves")
		}) {
			t.Errorf("%q: no step says what the choke leaves", how)
		}
	}
}

func about(got, want float64) bool { return got > want*(1-1e-9) && got < want*(1+1e-9) }

// A sling, a strap or a chain with a knot in it counts nothing; a spliced eye is none.
func TestAKnottedSlingCountsNothing(t *testing.T) {
	for knots, want := range map[string]Decision{"overhand": NoGo, "eye splice, bowline": NoGo, "eye splice": Go, "none": Go, "": Open} {
		for _, kind := range []string{"sling", "strap", "chain"} {
			sets := "gear[3].rating=10 t; gear[3].material=polyester; gear[3].diameter=30 mm; gear[3].kind=" + kind + "; gear[3].knots=" + knots
			if p := Reckon(read(t, changed(t, sets))); p.Decision != want {
				t.Errorf("%s with %q: %s, want %s: %v", kind, knots, p.Decision, want, p.Why)
			}
		}
	}
}

// What counts as choked is marked so in the plan, told or not.
func TestAChokeIsMarkedInThePlan(t *testing.T) {
	for hitch, want := range map[string]bool{"choked": true, "basket": false, "": true} {
		p := Reckon(read(t, changed(t, onTree+"gear[5].rating=12 t; gear[5].sling_hitch="+hitch)))
		i := slices.IndexFunc(p.Gear, func(m Member) bool { return m.Name == "tree sling" })
		if i < 0 || p.Gear[i].Choked != want {
			t.Errorf("put on %q, want choked %v: %+v", hitch, want, p.Gear)
		}
	}
}
