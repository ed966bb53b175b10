package calc

import (
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// The second tackle closes by all that the first one's haul line travels: 12 m in three
// parts are 36 m, and its blocks then stand 1 m apart, so its three parts and a lead of
// 15 m take (3 × 37 + 15) × 1.1 + 3 = 141.6 m. Over a reach that is more it is that.
//
// Source: derived, each part shortens by the load's way; by pocket calculator.
func TestASecondTackleClosesByTheFirstOnesTravel(t *testing.T) {
	three := tackle.Reeving{Parts: 3, From: tackle.Moving}
	r := rig{first: three, second: three}
	for reach, want := range map[string]float64{"25 m": 141.6, "60 m": (3*60+15)*1.1 + 3} {
		c := read(t, changed(t, "distance=12 m +/- 0 m; lead=15 m; reach="+reach))
		if got := reckonStrain(c, newSearch(c, view{}).n, r, view{}).rope2.Metres(); math.Abs(got-want) > 1e-9 {
			t.Errorf("reach %s: the second rope takes %.2f m, want %.2f", reach, got, want)
		}
	}
}

// What hauls the first tackle is the worse of friction and of the manuals' rule, as the
// haul at the puller is: 3,733 N over three parts and two sheaves are 3,733 × 1.2 ÷ 3 =
// 1,493 N where roller sheaves of 0.92 leave 3,733 ÷ (1 + 0.92 + 0.8464) = 1,349 N.
//
// Source: the manuals' ten per cent a sheave; by pocket calculator.
func TestTheFirstHaulLineIsByTheManualsRuleToo(t *testing.T) {
	three := tackle.Reeving{Parts: 3, From: tackle.Moving}
	pull, gain := bound.Exactly(unit.Newtons(3733)), bound.Exactly(bound.Ratio(1+0.92+0.8464))
	if got := firstLine(pull, rig{first: three, second: three}, gain).High.Newtons(); math.Abs(got-1493.2) > 0.05 {
		t.Errorf("a compound's first line takes %.1f N, want 1493.2", got)
	}
	if got := firstLine(pull, rig{first: three}, gain).High.Newtons(); math.Abs(got-1349.4) > 0.05 {
		t.Errorf("a simple tackle's takes %.1f N, want 1349.4: the rule is in the haul", got)
	}
	o := weighedBest(t, changed(t, gang, compound+"puller.people=6"))
	if !o.rig.compound() {
		t.Fatal("no compound was taken")
	}
	most := firstLine(newSearch(read(t, changed(t, gang, compound+"puller.people=6")), view{}).n.pull(), o.rig, must(tackle.Advantage(o.rig.first, o.s.eta))).High
	n := 0
	for _, s := range o.path.seats {
		if s.use == "haul" && s.tension >= most {
			n++
		}
	}
	if n == 0 {
		t.Errorf("no rope carries the first tackle's line, %v: %v", most, o.path.seats)
	}
}

// Where the line that holds is paid out, the plan says how: it carries the load by itself.
func TestAPaidOutHoldingLineHasItsTurns(t *testing.T) {
	for sets, want := range map[string]bool{"load.pull=downhill; load.slope=12 deg": true, "load.pull=uphill; load.slope=12 deg": false} {
		p := Reckon(read(t, changed(t, sets)))
		if got := slices.ContainsFunc(p.Cautions, func(c string) bool {
			return strings.Contains(c, "3 round turns") && strings.Contains(c, needed(p.Holding.Static.High).String()+" at rest")
		}); got != want {
			t.Errorf("%s: says how it is paid out: %v: %v", sets, got, p.Cautions)
		}
	}
}
