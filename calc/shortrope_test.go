package calc

import (
	"slices"
	"testing"
)

// In two parts with 20 m of reach and 10 m of lead the haul line takes
// (2 × 20 + 10) × 1.1 + 3 = 58 m. The one rope that is there is the haul line,
// however short; what lacks is its length, and a second rope to hold.
func TestTheOnlyRopeHauls(t *testing.T) {
	for length, want := range map[string]Result{"50 m": Fail, "60 m": Pass} {
		p := Reckon(read(t, changed(t, "gear[0].use=; gear[0].length="+length+"; gear[1].kind=sling; gear[1].use=spare; gear[1].length=; gear[1].diameter=; gear[1].material=")))
		if got, text := resultOf(p, "T3", "rope is"); got != want {
			t.Errorf("%s of rope: %q %s, want %s", length, got, text, want)
		}
		if got, text := resultOf(p, "T1", "no second rope"); got != Fail {
			t.Errorf("%s of rope: %q %s; want that nothing holds", length, got, text)
		}
		if got, text := resultOf(p, "R1", "a haul rope"); got != "" {
			t.Errorf("%s of rope: %s", length, text)
		}
	}
}

// Uphill with 20 m of reach the holding line takes 20 × 1.1 + 3 = 25 m: the
// stronger rope that is shorter holds nothing, the weaker one that reaches does.
func TestTheRopeThatReachesHolds(t *testing.T) {
	other := "gear[4].kind=rope; gear[4].rating=2 t; gear[4].rating_kind=working; gear[4].material=polyester; gear[4].diameter=20 mm; gear[4].length=60 m; gear[4].condition=good; gear[4].improvised=false; gear[4].knots=none"
	for _, length := range []string{"24 m", "26 m"} {
		o := weighedBest(t, changed(t, "gear[1].use=; gear[1].length="+length, other))
		i := slices.IndexFunc(o.path.seats, func(s seat) bool { return s.hold && s.piece != nil })
		if i < 0 {
			t.Fatalf("%s: nothing holds", length)
		}
		if got, want := o.path.seats[i].piece.g.Length.Low.Metres() == 60, length == "24 m"; got != want {
			t.Errorf("with the stronger rope of %s the longer one holds: %v", length, got)
		}
		if _, fails := outcomes(o, "T3/holding")[Fail]; fails {
			t.Errorf("%s: the holding line is too short", length)
		}
	}
}

// What is told of the anchor and of the point is not asked again because the
// rope that would catch the load is not there.
func TestWhatIsToldOfTheHoldIsNotAsked(t *testing.T) {
	p := Reckon(read(t, changed(t, "gear[1].kind=sling; gear[1].use=spare; gear[1].length=; gear[1].diameter=; gear[1].material=")))
	for _, c := range p.Checks {
		if c.ID == "T1" && c.Result == Unknown && !c.OnSite && !slices.Equal(c.Fields, []string{"gear"}) {
			t.Errorf("asked for %v", c.Fields)
		}
	}
}

// Who may give nothing is not told that friction eats what more parts gain.
func TestNothingIsNotFrictions(t *testing.T) {
	for ground, want := range map[string]string{"wet grass": "No number of parts makes anything of that: ground that grips", "grass": ""} {
		p := Reckon(read(t, changed(t, "puller.mass=1.5 t; puller.slope=4 deg; load.mass=8 t; puller.ground="+ground)))
		if got, text := resultOf(p, "U1", "friction takes"); want != "" && got != "" {
			t.Errorf("%s: %s", ground, text)
		}
		if got, _ := resultOf(p, "U1", "No number of parts"); (got == Fail) != (want != "") {
			t.Errorf("%s: %q in %v", ground, got, p.Why)
		}
	}
}

// A chain of 3 m hauls nothing over 30 m. It leaves the one rope to the haul, and where
// another may still be told to hold there is no no-go for it; where there is none, what
// lacks is the rope that holds.
func TestAShortChainLeavesTheRopeToTheHaul(t *testing.T) {
	chain := "gear[1].kind=chain; gear[1].use=; gear[1].length=3 m; gear[1].diameter=13 mm; gear[1].material=; gear[1].rating=5 t; gear[1].rating_kind=working; tackle.parts=1; tackle.haul_from="
	for more, want := range map[string]Result{"": Fail, "holding_more=true": Unknown} {
		p := Reckon(read(t, changed(t, "gear[0].use=; "+chain, more)))
		if got, text := resultOf(p, "T3", "rope is"); got == Fail {
			t.Errorf("with %q: %s", more, text)
		}
		if got, text := resultOf(p, "T1", "second rope"); got != want {
			t.Errorf("with %q: nothing holds: %q %s, want %s", more, got, text, want)
		}
	}
}
