package calc

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// The line that is taken in over 8 m from an anchor 25 m ahead is 17 m at its end,
// 2 m of one 10 m ahead, and 1 m where nobody said how far that anchor is. Paid out from one 10 m behind
// it is 10 m at the start and 18 m at the end.
func TestHoldingSpanWorked(t *testing.T) {
	for _, row := range []struct {
		sets      string
		low, high float64
	}{
		{"reach=40 m; holding_reach=25 m", 17, 25},
		{"reach=40 m; holding_reach=10 m", 2, 10},
		{"reach=40 m; holding_reach=", 1, 40},
		{"reach=40 m; holding_reach=8.5 m", 1, 8.5}, // 0.5 m are left: T1/apart ends it
		{"reach=40 m; holding_reach=0.6 m", 0.6, 0.6},
		{"load.pull=downhill; holding_reach=10 m", 10, 18},
		{"load.pull=downhill; holding_reach=1 m", 1, 9},
		{"load.pull=level; holding_reach=6 to 10 m", 6, 18},
	} {
		got := holdingSpan(read(t, changed(t, row.sets)))
		if math.Abs(got.Low.Metres()-row.low) > 1e-9 || math.Abs(got.High.Metres()-row.high) > 1e-9 {
			t.Errorf("%s: from %v to %v, want %v to %v m", row.sets, got.Low, got.High, row.low, row.high)
		}
	}
}

// A rig that bears the catch from an anchor 20 m ahead and not from one beside the
// end of the way is a go and no go, and open while nobody said which. What no anchor
// within the rope's length would mend is no go untold as well. A rig that bears it
// from wherever it is reckoned with is open too: the load may pass the anchor, the
// rope may not reach it, and it may stand nearer than an arrest is reckoned with.
func TestWhereTheHoldingAnchorStandsDecides(t *testing.T) {
	const weak = "gear[1].rating=2 t; site.holding_slack=; "
	for _, row := range []struct {
		sets string
		want Decision
		asks bool
	}{
		{"holding_reach=20 m", Go, false},
		{"holding_reach=", Open, true}, // with hardly any slack it bears it from 3 m
		{weak + "holding_reach=20 m", Go, false},
		{weak + "holding_reach=9 m", NoGo, false},
		{weak + "holding_reach=", Open, true},
		{weak + "holding_reach=; gear[1].rating=0.5 t", NoGo, false},
		{"holding_reach=7 m", NoGo, false},                                                 // which the load passes
		{"distance=8 m +/- 0 m; holding_reach=8.9 m; site.holding_slack=0 m", NoGo, false}, // 0.9 m are left, whatever it catches with
		{"distance=8 m +/- 0 m; holding_reach=9.1 m; site.holding_slack=0 m", Go, false},
		{"holding_reach=300 m", NoGo, false},
		{"gear[1].length=20 m; holding_reach=", Open, true},
		{"gear[1].length=20 m; holding_reach=15 m", Go, false},
		{"gear[1].length=11 m; holding_reach=", NoGo, false}, // 7.2 m are less than the way
		{"load.pull=downhill; load.slope=8 deg; holding_reach=", Open, true},
		{"holding_reach=; distance=3 m; gear[1].length=200 m", Open, true},
	} {
		p := Reckon(read(t, changed(t, row.sets)))
		asks := slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == holdReachField && m.CouldFlip })
		if p.Decision != row.want || asks != row.asks {
			t.Errorf("%q: %s, asks %v, want %s, %v: %v", row.sets, p.Decision, asks, row.want, row.asks, p.Why)
		}
		took := slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == holdReachField })
		if told := read(t, changed(t, row.sets)).HoldReach != nil; took == told {
			t.Errorf("%q: assumed is %v", row.sets, took)
		}
	}
}

// What is left of the line at the end of the way is what it catches with: with S of
// 4.424 kN, 0.25 m of slack and EA of 2,043 kN, 2 m of it take 4.424 + √(4.424² + 2 ×
// 4.424 × 0.25 × 2043.052 ÷ 2) = 52.16 kN, and 1 m 71.79 kN, where 3 m took 43.49 kN.
//
// Source: derived, energy of the run-up into the line's stretch; by pocket calculator.
func TestTheCatchAtTheEndOfTheWay(t *testing.T) {
	static := bound.Exactly(unit.Newtons(4424))
	for far, want := range map[string]float64{"14 m": 52.16, "13 m": 71.79, "15 m": 43.49} {
		c := read(t, changed(t, "distance=12 m +/- 0 m; holding_reach="+far+" +/- 0 m"))
		line := motion.Line{Stiffness: bound.Exactly(unit.Newtons(2_043_052)), Length: holdingSpan(c)}
		if got := must(motion.Arrest(static, unit.Metres(0.25), line)).High.Kilonewtons(); math.Abs(got-want) > 0.005 {
			t.Errorf("from %s it catches with %.3f kN, want %.2f", far, got, want)
		}
	}
}

// The nearer the anchor, the harder the catch; and none that the load does not pass
// and the rope reaches is worse than one that nobody told of, which is never a go.
func TestNearerHoldingAnchorNeverBettersTheCatch(t *testing.T) {
	lone(t)
	least, _ := handbook.HoldingShortest()
	near, turned := 0, 0 // no go from close by, and a go once it is told
	checkMeeting(t, func() bool { return near > 0 && turned > 0 }, func(t *rapid.T) {
		s := drawn(t)
		s.Gear[1].Length = "900 m" // so that only the catch tells
		s = inLine(s)
		s.Load.Pull = rapid.SampledFrom([]string{"uphill", "uphill", "downhill", "level"}).Draw(t, "pull")
		c := read(t, s)
		nearest := least
		if s.Load.Pull == "uphill" {
			nearest = least + c.Distance.High
		}
		at := func(l *Length) weighed {
			c.HoldReach = l
			return newSearch(c, view{}).run()[0]
		}
		far := nearest + unit.Metres(rapid.Float64Range(0, 80).Draw(t, "far"))
		close := nearest + (far - nearest).Scale(rapid.Float64Range(0, 1).Draw(t, "near"))
		softer, harder, untold := at(new(bound.Exactly(far))), at(new(bound.Exactly(close))), at(nil)
		if softer.path.hold.caught > harder.path.hold.caught {
			t.Fatalf("from %v it catches with %v, and from %v with %v", close, harder.path.hold.caught, far, softer.path.hold.caught)
		}
		if harder.v.decision == Go && softer.v.decision != Go {
			t.Fatalf("%s from %v, and %s from %v", harder.v.decision, close, softer.v.decision, far)
		}
		if untold.path.hold.caught < harder.path.hold.caught {
			t.Fatalf("untold it catches with %v, and from %v with %v", untold.path.hold.caught, close, harder.path.hold.caught)
		}
		if untold.v.decision == Go && untold.path.hold.checked {
			t.Fatal("a go, and nobody said where what holds it stands")
		}
		if harder.v.decision == NoGo && softer.v.decision == Go {
			near++
		}
		if untold.v.decision == Open && softer.v.decision == Go {
			turned++
		}
	})
}

// An anchor that stands too near or too far for the holding line is told to be set
// elsewhere, and set where it is told to be the plan is what was promised.
func TestHoldingAnchorIsSetElsewhere(t *testing.T) {
	told := regexp.MustCompile(`^Set the anchor of the holding line (?:farther off, at least )?([0-9.]+) m `)
	for _, row := range []struct{ sets, says string }{
		{"holding_reach=2 m", "farther off, at least 9.40 m"}, // paced, the load may go 8.4 m, and 1 m is left
		{"holding_reach=7 m", "farther off, at least 9.40 m"},
		{"gear[1].rating=2 t; site.holding_slack=; holding_reach=9 m", "farther off, at least"},
		{"holding_reach=300 m", "and no farther"},
		{"load.pull=downhill; load.slope=8 deg; holding_reach=0.5 m", "farther off, at least"},
	} {
		p := Reckon(read(t, changed(t, row.sets)))
		i := slices.IndexFunc(p.Changes, func(ch Change) bool { return told.MatchString(ch.Do) && strings.Contains(ch.Do, row.says) })
		if p.Decision != NoGo || i < 0 {
			t.Errorf("%s: %s and %v, want %q", row.sets, p.Decision, p.Changes, row.says)
			continue
		}
		metres := told.FindStringSubmatch(p.Changes[i].Do)[1]
		if got := Reckon(read(t, changed(t, row.sets, "holding_reach="+metres+" m"))).Decision; got != p.Changes[i].Then || got == NoGo {
			t.Errorf("%s: %s: then %s, and done it is %s", row.sets, p.Changes[i].Do, p.Changes[i].Then, got)
		}
	}
	for _, p := range Reckon(read(t, changed(t, "holding_reach=20 m; gear[1].rating=0.1 t"))).Changes {
		if told.MatchString(p.Do) {
			t.Errorf("no anchor would mend it, and it is told: %s", p.Do)
		}
	}
}

// What is left of the way to the anchor ahead is less with the load further along;
// from one behind it is more. What catches does so as hard as was reckoned.
func TestMovedHoldingAnchor(t *testing.T) {
	for pull, want := range map[string]unit.Length{"uphill": unit.Metres(15), "downhill": unit.Metres(25)} {
		c := read(t, changed(t, "holding_reach=20 m; load.pull="+pull))
		m := Moved(c, metres(5))
		if m.HoldReach == nil || *m.HoldReach != bound.Exactly(want) || *c.HoldReach != metres(20) {
			t.Errorf("%s: %v of %v", pull, m.HoldReach, c.HoldReach)
		}
		if m = Moved(m, metres(60)); holdingSpan(m).Low <= 0 {
			t.Errorf("%s: a line of %v", pull, holdingSpan(m))
		}
	}
}
