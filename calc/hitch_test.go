package calc

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/unit"
)

// What carries a winch is asked and judged as a machine's hitch is: a ball breaks off,
// a receiver that bears too little tears out and one above the axle tips, whoever
// pulls. Only what an anchor of its own holds needs no other bearer.
func TestWhatCarriesAWinchIsJudged(t *testing.T) {
	const tied = "anchors[2].kind=rated; anchors[2].use=puller; anchors[2].rating=8 t; anchors[2].rating_kind=working; "
	const untold = "puller.hitch=; puller.hitch_rating=; puller.hitch_rating_kind=; puller.hitch_height=; puller.axle_height="
	const eye = "puller.hitch=rated-point; "
	for _, c := range []struct {
		told     string
		decision Decision
		check    string // of the hitch's, that fails or asks; "" where none does
	}{
		{"", Go, ""},
		{eye + "puller.hitch_rating=8 t; puller.hitch_rating_kind=working", Go, ""},
		{"puller.hitch=drawbar", Go, ""},
		{untold, Open, "U2/carries"},
		{"puller.hitch=", Open, "U2/carries"},
		{"puller.hitch_rating=; puller.hitch_rating_kind=", Open, "R2"},
		{"puller.hitch_rating=8 t; puller.hitch_rating_kind=", Open, "R2"}, // of nobody knows which kind
		{"puller.hitch_height=", Open, "U2/high"},
		{"puller.axle_height=", Open, "U2/high"},
		{"puller.hitch_height=70 cm", NoGo, "U2/high"},
		{"puller.hitch=other", NoGo, "U2/carries"},
		{"puller.hitch=ball", NoGo, "U2/carries"},
		{"puller.hitch=bumper", NoGo, "U2/carries"},
		{eye + "puller.hitch_rating=1 kN", NoGo, "R3"},        // under the haul
		{eye + "puller.hitch_rating=15 kN", NoGo, "R4/break"}, // under half of what a 3 t winch stalls at
		{tied + untold, Go, ""},
		{tied + untold + "; puller.hitch=ball", NoGo, "U2/carries"},
	} {
		o := weighedBest(t, changed(t, winch+"; "+c.told))
		if o.v.decision != c.decision {
			t.Errorf("%q: %s, want %s", c.told, o.v.decision, c.decision)
		}
		got := outcomes(o, c.check)
		_, failed := got[Fail]
		_, asked := got[Unknown]
		if failed != (c.decision == NoGo) || asked != (c.decision == Open) {
			t.Errorf("%q: %q is not what decides: %v", c.told, c.check, got)
		}
	}
}

// What a hitch breaks at is no working limit: it is divided by the design factor, and
// of a figure whose kind nobody told nothing passes, though it bears no more than that
// whichever it is. Told or stamped it counts as any other point does.
func TestAHitchsRatingIsOfAKind(t *testing.T) {
	const fits = "puller.hitch_rating=30 t; "
	for _, c := range []struct {
		told     string
		decision Decision
		field    string // asked by R2; "" where it is not
	}{
		{"puller.hitch_rating_kind=working", Go, ""},
		{"puller.hitch_rating_kind=", Open, "puller.hitch_rating_kind"},
		{"puller.hitch_rating=1.2 t; puller.hitch_rating_kind=breaking", NoGo, ""}, // 2.35 kN after the factor, under the haul of 2.68 kN
		{"puller.hitch_rating_kind=unmarked", NoGo, ""},
		{"puller.hitch_rating=; puller.hitch_rating_kind=unmarked", NoGo, ""},
		{"puller.hitch_rating=; puller.hitch_rating_kind=", Open, "puller.hitch_rating"},
		{"puller.hitch_rating=0.2 t; puller.hitch_rating_kind=", NoGo, "puller.hitch_rating_kind"}, // too little of either kind
		{fits + "puller.hitch_rating_kind=breaking", Go, ""},
		{fits + "puller.hitch_rating_kind=", Open, "puller.hitch_rating_kind"},
	} {
		p := Reckon(read(t, changed(t, c.told)))
		if p.Decision != c.decision {
			t.Errorf("%q: %s, want %s: %v", c.told, p.Decision, c.decision, p.Why)
		}
		asked := slices.ContainsFunc(p.Checks, func(k Check) bool { return k.ID == "R2" && k.Result == Unknown })
		if asked != (c.field != "") || c.decision == Open && !slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == c.field }) {
			t.Errorf("%q: R2 asked %v, measure %v", c.told, asked, p.Measure)
		}
	}
	working, breaking := Reckon(read(t, changed(t, fits))), Reckon(read(t, changed(t, fits+"puller.hitch_rating_kind=breaking")))
	limit := func(p Plan) unit.Force {
		return *p.Gear[slices.IndexFunc(p.Gear, func(m Member) bool { return m.Use == "hitch" })].Working
	}
	if w, b := limit(working), limit(breaking); math.Abs(w.Newtons()-30000*9.80665) > 1 || math.Abs(b.Newtons()-6000*9.80665) > 1 {
		t.Errorf("30 t working bears %v, breaking %v", w, b)
	}
}

// Left out, told as breaking or unmarked, the kind makes no go of what a working figure
// leaves none, and left out it never is one.
func TestTheKindOfAHitchsRatingNeverBetters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s = set(t, s, "puller.hitch_rating", fmt.Sprintf("%.2f t", rapid.Float64Range(0.1, 40).Draw(t, "rating")))
		if rapid.Bool().Draw(t, "a winch") {
			for _, f := range [][2]string{{"kind", "winch"}, {"rating", "3 t"}, {"rating_kind", "working"}, {"winch_layer", "1"}, {"hitch", "rated-point"}} {
				s = set(t, s, "puller."+f[0], f[1])
			}
		}
		working := decision(t, s)
		for _, kind := range []string{"", "breaking", "unmarked"} {
			other := decision(t, set(t, s, "puller.hitch_rating_kind", kind))
			if other == Go && (working != Go || kind != "breaking") {
				t.Fatalf("%q comes to %s, working to %s", kind, other, working)
			}
		}
	})
}

// A machine on tracks goes over backward as one on wheels does, so how high the
// point is that it is hitched at is asked of both, save for a drawbar, which is low
// by a tracked machine's make. Not told it was a go, and told to be too high none.
func TestHowHighATrackedMachineIsHitchedIsAsked(t *testing.T) {
	for _, c := range []struct {
		told     string
		decision Decision
	}{
		{"", Go},
		{"; puller.hitch=rated-point", Go},
		{"; puller.hitch=rated-point; puller.hitch_height=", Open},
		{"; puller.hitch=rated-point; puller.axle_height=", Open},
		{"; puller.hitch=rated-point; puller.hitch_height=2 m", NoGo},
		{"; puller.hitch_height=", Open},
		{"; puller.axle_height=", Open},
		{"; puller.hitch_height=2 m", NoGo},
	} {
		o := weighedBest(t, changed(t, "puller.kind=tracked"+c.told))
		if o.v.decision != c.decision {
			t.Errorf("%q: %s, want %s", c.told, o.v.decision, c.decision)
		}
		if _, asked := outcomes(o, "U2/height")[Unknown]; asked != (c.decision == Open) {
			t.Errorf("%q: U2/height is asked: %v", c.told, asked)
		}
	}
}

// A step whose axle's share nobody told is reckoned as if all the weight were on it, and
// the plan says so: told to be so it needs no more.
func TestAnAxlesShareNotToldIsAllOfIt(t *testing.T) {
	const step = "load.lip.height=4 cm; load.lip.wheel_radius=38 cm"
	lip := func(sets string) unit.Force {
		return Reckon(read(t, changed(t, step+sets))).Resistance.Lip.High
	}
	if untold, all, half := lip(""), lip("; load.lip.axle_share=1"), lip("; load.lip.axle_share=0.5"); untold != all || half >= all {
		t.Errorf("untold %v, all of it %v, half %v", untold, all, half)
	}
	p := Reckon(read(t, changed(t, step)))
	if !slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == "load.lip.axle_share" && a.Value == "0.5 to 1" }) {
		t.Errorf("it is not named: %v", p.Assumed)
	}
}
