package calc

import (
	"slices"
	"testing"

	"linetender/calc/unit"
)

// What carries a winch is judged as soon as it is told: a ball breaks off and a
// receiver that bears too little tears out, whoever pulls. Not told it is not
// asked for, since a winch may be bolted to its frame.
func TestWhatCarriesAWinchIsJudged(t *testing.T) {
	for _, c := range []struct {
		told     string
		decision Decision
		fails    string // the check that does; "" where none of the hitch's is left
	}{
		{"", Go, ""},
		{"; puller.hitch=rated-point", Go, ""},
		{"; puller.hitch=rated-point; puller.hitch_rating=8 t", Go, ""},
		{"; puller.hitch_rating=8 t", Go, ""},
		{"; puller.hitch=other", Go, ""}, // a frame, a truck's bed
		{"; puller.hitch=ball", NoGo, "U2/carries"},
		{"; puller.hitch=ball; puller.hitch_rating=8 t", NoGo, "U2/carries"},
		{"; puller.hitch=bumper", NoGo, "U2/carries"},
		{"; puller.hitch=rated-point; puller.hitch_rating=1 kN", NoGo, "R3"},        // under the haul
		{"; puller.hitch=rated-point; puller.hitch_rating=15 kN", NoGo, "R4/break"}, // under half of what a 3 t winch stalls at
	} {
		o := weighedBest(t, changed(t, winch+c.told))
		if o.v.decision != c.decision {
			t.Errorf("%q: %s, want %s", c.told, o.v.decision, c.decision)
		}
		if _, failed := outcomes(o, c.fails)[Fail]; failed != (c.fails != "") {
			t.Errorf("%q: %q is not what fails: %v", c.told, c.fails, outcomes(o, c.fails))
		}
	}
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
