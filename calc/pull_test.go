package calc

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/job"
	"linetender/calc/unit"
)

func metres(m float64) Length { return bound.Exactly(unit.Metres(m)) }

func TestLightLoadWorked(t *testing.T) {
	p := Reckon(read(t, plainGo()))
	// Two parts of plain sheaves gain 1.9 at best: 5156.7 ÷ 1.9 = 2714.1, of which a tenth to a fifth.
	l, ok := LightLoad(p)
	if !ok || l.Held != unit.Seconds(60) {
		t.Fatalf("%+v, %v", l, ok)
	}
	for i, got := range []unit.Force{l.Haul.Low, l.Haul.Best, l.Haul.High} {
		if want := []float64{271.4, 407.1, 542.8}[i]; math.Abs(got.Newtons()-want) > 0.05 {
			t.Errorf("light load %v, want %v", l.Haul, want)
		}
	}
	s := plainGo()
	s.Load.Pull, s.Load.Slope = "downhill", "20 deg"
	if l, ok := LightLoad(Reckon(read(t, s))); ok {
		t.Errorf("a load that runs by itself is tried with %+v", l)
	}
	if _, ok := LightLoad(Plan{Decision: Refer}); ok {
		t.Error("a refer has a light load")
	}
}

func TestBiteWorked(t *testing.T) {
	for _, c := range []struct {
		name, by string
		change   func(s *job.Sheet)
		load     float64 // m; 0 is not known
		ends     string
		count    int
		unknown  []string
	}{
		{"half a turn", "π × 0.35 m on 10.6 deg; 8 ÷ 1.09956 = 7.3", func(s *job.Sheet) { s.Load.WheelRadius = "35 cm" }, 1.09956, ByChock, 8, nil},
		{"the wheel of a step will do", "π × 0.40", func(s *job.Sheet) { s.Load.Lip = job.LipSheet{Height: "5 cm", WheelRadius: "40 cm"} }, 1.25664, ByChock, 7, nil},
		{"nobody told the wheel", "", nil, 0, "", 0, []string{"load.wheel_radius"}},
		{"the run", "(9 − 5) ÷ 2 on 2 deg by level, at most 3", func(s *job.Sheet) {
			s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground, s.Puller.Run = "2 deg", "level", "mud", "9 m"
		}, 2, ByRun, 4, nil},
		{"no run at all", "4 m, and 5 to stop in", func(s *job.Sheet) {
			s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground, s.Puller.Run = "2 deg", "level", "mud", "4 m"
		}, -1, ByRun, -1, nil},
		{"the blocks", "6 − 1", func(s *job.Sheet) {
			s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground, s.Reach = "2 deg", "level", "mud", "6 m"
		}, 5, ByBlocks, 2, nil},
		{"the way", "all of it in one, where it can't roll", func(s *job.Sheet) { s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground = "2 deg", "level", "mud" }, 8, ByDistance, 1, nil},
		{"it may roll on less", "π × 0.35 on 2 deg of firm ground", func(s *job.Sheet) {
			s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground, s.Load.WheelRadius = "2 deg", "level", "gravel", "35 cm"
		}, math.Pi * 0.35, ByChock, 8, nil},
		{"it may roll on less, nobody told the wheel", "", func(s *job.Sheet) { s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground = "2 deg", "level", "gravel" }, 0, "", 0, []string{"load.wheel_radius"}},
		{"a winch needs no run", "", func(s *job.Sheet) {
			s.Load.Slope, s.Load.SlopeFrom, s.Load.Ground = "2 deg", "level", "mud"
			s.Puller = &job.PullerSheet{Kind: "winch", Rating: "4 t", RatingKind: "working", WinchLayer: ptr(1), Mass: "6 t", Ground: "gravel", Slope: "0 deg"}
		}, 8, ByDistance, 1, nil},
		{"little is told", "", func(s *job.Sheet) { s.Distance, s.Reach, s.Puller.Run = "", "", "" }, 0, "", 0, []string{"puller.run", "load.wheel_radius", "reach", "distance"}},
		{"no puller", "", func(s *job.Sheet) { s.Puller, s.Load.WheelRadius = nil, "35 cm" }, 0, "", 0, []string{"puller.run"}},
	} {
		s := plainGo()
		s.Tackle = &job.TackleSheet{Parts: ptr(2), HaulFrom: "moving"}
		if c.change != nil {
			c.change(&s)
		}
		j := read(t, s)
		b := Bite(j, Reckon(j))
		if !slices.Equal(b.Unknown, c.unknown) {
			t.Errorf("%s: unknown %v, want %v", c.name, b.Unknown, c.unknown)
		}
		if c.load == 0 {
			if b.Load != nil || b.Haul != nil || b.Count != nil || b.By != "" {
				t.Errorf("%s: %+v out of what is not known", c.name, b)
			}
			continue
		}
		if b.Load == nil || math.Abs(b.Load.Metres()-max(0, c.load)) > 5e-6 || b.By != c.ends || math.Abs(float64(*b.Haul-b.Load.Scale(2))) > 1e-9 {
			t.Errorf("%s (%s): %+v", c.name, c.by, b)
		}
		if c.count < 0 != (b.Count == nil) || b.Count != nil && *b.Count != c.count {
			t.Errorf("%s: %v bites, want %d", c.name, b.Count, c.count)
		}
	}
	if b := Bite(job.Case{}, Plan{Decision: Refer}); b.Load != nil || b.Limits != nil {
		t.Errorf("a refer has a bite: %+v", b)
	}
}

// What the load has gone is not left to go; a spread in it widens what is.
func TestMoved(t *testing.T) {
	c := Moved(read(t, plainGo()), Length{Low: unit.Metres(2), Best: unit.Metres(2.5), High: unit.Metres(3)})
	if *c.Distance != (Length{Low: 5, Best: 5.5, High: 6}) || *c.Reach != (Length{Low: 22, Best: 22.5, High: 23}) {
		t.Errorf("distance %v, reach %v", *c.Distance, *c.Reach)
	}
	c = Moved(c, metres(50))
	if *c.Distance != (Length{}) {
		t.Errorf("past the end there are %v left", *c.Distance)
	}
	s := plainGo()
	s.Load.WheelRadius = "35 cm"
	p := Reckon(read(t, s))
	if b := Bite(Moved(read(t, s), metres(8)), p); b.Count == nil || *b.Count != 0 || *b.Load != 0 {
		t.Errorf("there, and still to bite: %+v", b)
	}
	if c := Moved(job.Case{}, metres(1)); c.Distance != nil || c.Reach != nil {
		t.Error("what nobody told became known")
	}
}

// Bites never reach past what ends them, and never sum to less than the way.
func TestBitesCoverTheWay(t *testing.T) {
	lone(t)
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s.Load.WheelRadius = "0.3 m"
		c := read(t, s)
		p := Reckon(c)
		b := Bite(c, p)
		if p.Decision == Refer || b.Load == nil {
			return
		}
		for _, l := range b.Limits {
			if l.Load < *b.Load {
				t.Fatalf("a bite of %v over the %s of %v", *b.Load, l.By, l.Load)
			}
		}
		if b.Count != nil && b.Load.Scale(float64(*b.Count)) < c.Distance.High.Scale(1-1e-6) {
			t.Fatalf("%d bites of %v do not make %v", *b.Count, *b.Load, c.Distance)
		}
	})
}

// The holding rope is polyester of 15 t working, 147.1 kN; at rest it carries
// 2060 kg × 9.80665 × sin(11.62 deg) at most. What the plan's own arrest gives
// for a slack, the cost of that slack gives too.
func TestHoldCostWorked(t *testing.T) {
	c := read(t, plainGo())
	p := Reckon(c)
	for _, a := range p.Holding.Arrest {
		h := HoldCost(c, p, bound.Exactly(a.Slack))
		if !h.Needed || h.Arrest == nil || *h.Arrest != a.Force || len(h.Members) != 3 || h.Within != Pass {
			t.Fatalf("slack %v: %+v, want %v", a.Slack, h, a.Force)
		}
		for _, m := range h.Members {
			if m.Force != a.Force.High || math.Abs(*m.Ratio-float64(m.Force)/float64(*m.Working)) > 1e-12 {
				t.Errorf("slack %v: %+v", a.Slack, m)
			}
		}
	}
	span := HoldCost(c, p, Length{Low: 0, Best: unit.Metres(0.25), High: unit.Metres(0.5)})
	if a := p.Holding.Arrest; span.Arrest.Low != a[0].Force.Low || span.Arrest.Best != a[1].Force.Best || span.Arrest.High != a[2].Force.High {
		t.Errorf("over a span %v of %v", span.Arrest, a)
	}
	if h := HoldCost(c, p, metres(50)); h.Within != Fail || h.Members[0].Within != Fail || *h.Members[0].Ratio <= 1 {
		t.Errorf("fifty metres of slack: %+v", h)
	}
}

func TestHoldCostNotKnown(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(s *job.Sheet)
		needed  bool
		within  Result
		unknown []string
	}{
		{"no rope", func(s *job.Sheet) { s.Gear = s.Gear[:1] }, true, Unknown, []string{"gear"}},
		{"a rope of nobody knows what", func(s *job.Sheet) { s.Gear[1].Material = "" }, true, Unknown, []string{"gear[1].material", "gear[1].rating"}},
		{"no anchor", func(s *job.Sheet) { s.Anchors = s.Anchors[:1] }, true, Unknown, []string{"anchors"}},
		{"an anchor that may be anything", func(s *job.Sheet) { s.Anchors[1].Rating = "" }, true, Unknown, []string{"anchors[1]"}},
		{"an unmarked anchor", func(s *job.Sheet) { s.Anchors[1].RatingKind = "unmarked" }, true, Fail, nil},
		{"level ground", func(s *job.Sheet) { s.Load.Slope, s.Load.SlopeFrom = "0 deg", "level" }, false, Unknown, nil},
		{"for a professional", func(s *job.Sheet) { s.Hazards = &[]string{"edge"} }, false, Unknown, nil},
	} {
		s := plainGo()
		c.change(&s)
		j := read(t, s)
		h := HoldCost(j, Reckon(j), metres(0.25))
		if h.Needed != c.needed || h.Within != c.within || !slices.Equal(h.Unknown, c.unknown) {
			t.Errorf("%s: needed %v, %s, unknown %v", c.name, h.Needed, h.Within, h.Unknown)
		}
	}
	c := read(t, plainGo())
	if h := HoldCost(c, Reckon(c), metres(-1)); h.Arrest != nil || h.Within != Unknown {
		t.Errorf("a slack that can't be: %+v", h)
	}
}

// More slack never costs less.
func TestMoreSlackNeverCostsLess(t *testing.T) {
	c := read(t, plainGo())
	p := Reckon(c)
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 3).Draw(t, "a"), rapid.Float64Range(0, 3).Draw(t, "more")
		if less, more := HoldCost(c, p, metres(a)), HoldCost(c, p, metres(a+b)); more.Arrest.High < less.Arrest.High || more.Arrest.Low < less.Arrest.Low {
			t.Fatalf("%v costs %v and %v costs %v", a, less.Arrest, a+b, more.Arrest)
		}
	})
}

func TestAdvanceWorked(t *testing.T) {
	four, compound := Plan{Tackle: &Rove{Parts: 4}}, Plan{Tackle: &Rove{Parts: 2, Compound: &Compound{Parts: 3}}}
	for _, c := range []struct {
		name         string
		p            Plan
		rope, moved  Length
		ratio        float64
		verdict, why string
	}{
		{"as the parts say", four, metres(1.2), metres(0.3), 4, AdvanceSame, ""},
		{"within the tape", four, metres(1.3), metres(0.3), 4.333, AdvanceSame, "1.235 ÷ 0.315 = 3.92"},
		{"it gives", four, metres(1.5), metres(0.3), 5, AdvanceGives, "1.425 ÷ 0.315 = 4.52"},
		{"it can't be", four, metres(0.9), metres(0.3), 3, AdvanceCannot, "0.945 ÷ 0.285 = 3.32"},
		{"paced", four, bound.Spread(unit.Metres(15), 0.2), bound.Spread(unit.Metres(3), 0.1), 5, AdvanceSame, "12 ÷ 3.3 = 3.64"},
		{"two by three", compound, metres(6), metres(1), 6, AdvanceSame, ""},
		{"nothing moved", four, metres(1), metres(0), 0, AdvanceUnknown, ""},
		{"no plan", Plan{}, metres(1), metres(1), 0, AdvanceUnknown, ""},
	} {
		a := Advance(c.p, c.rope, c.moved)
		if a.Verdict != c.verdict || math.Abs(float64(a.Ratio.Best)-c.ratio) > 5e-4 || !a.Ratio.Ordered() {
			t.Errorf("%s (%s): %+v", c.name, c.why, a)
		}
	}
}

func TestCompareWorked(t *testing.T) {
	p := Reckon(read(t, plainGo())) // haul 3741.9 ÷ 1.97 = 1899.4 to 6898.5 × 1.1 ÷ 2 = 3794.2 N, on the load 3741.9 to 6898.5
	kn := func(f float64) Force { return bound.Spread(unit.Kilonewtons(f), 0.05) }
	for _, c := range []struct {
		at, verdict string
		reading     Force
		touches     bool
		over        int
	}{
		{AtHaul, ReadWithin, kn(2.7), true, 0},
		{AtHaul, ReadBelow, kn(1.88), true, 0},
		{AtHaul, ReadBelow, kn(1), false, 0},
		{AtHaul, ReadAbove, kn(3.9), true, 0},
		{AtHaul, ReadAbove, kn(40), false, 4}, // 42 kN × 1.97 = 82.7 on block, shackle and tow point, 42 on the hitch of 4 t
		{AtLoad, ReadWithin, kn(5), true, 0},
		{AtLoad, ReadAbove, kn(70), false, 3}, // 73.5 kN on block and shackle of 6 t, of which by the manuals' rule 40.4 on the hitch; the tow point has 8 t
		{"between", ReadUnknown, kn(5), false, 0},
		{AtHaul, ReadUnknown, Force{Low: 2, Best: 1}, false, 0},
	} {
		got := Compare(p, c.at, c.reading)
		if got.Verdict != c.verdict || got.Touches != c.touches || len(got.Over) != c.over {
			t.Errorf("%v at the %s: %s, touches %v, over %+v", c.reading, c.at, got.Verdict, got.Touches, got.Over)
		}
	}
	if got := Compare(p, AtHaul, kn(40)).Over[0]; got.Use != "moving-block" || math.Abs(got.Force.Kilonewtons()-82.74) > 0.005 || math.Abs(*got.Ratio-1.4063) > 5e-4 {
		t.Errorf("worst is %+v", got)
	}
	if got := Compare(Plan{Decision: Refer}, AtHaul, kn(1)); got.Verdict != ReadUnknown {
		t.Errorf("a refer predicts: %+v", got)
	}
}

// What nobody can reckon is not called within: a piece with no limit, a load
// that was to run by itself, and a puller whose most is not known.
func TestCompareNotKnown(t *testing.T) {
	s := plainGo()
	s.Puller, s.Tackle = nil, &job.TackleSheet{Parts: ptr(2)}
	s.Load.TowPoint.Rating = ""
	got := Compare(Reckon(read(t, s)), AtHaul, bound.Exactly(unit.Kilonewtons(40)))
	if len(got.Unknown) == 0 || len(got.Over) == 0 || got.Over[0].Force < unit.Kilonewtons(40*1.85) {
		t.Errorf("%+v", got)
	}
	s = plainGo()
	s.Load.Pull, s.Load.Slope = "downhill", "20 deg"
	s.Tackle = &job.TackleSheet{Parts: ptr(1)}
	got = Compare(Reckon(read(t, s)), AtLoad, bound.Exactly(unit.Newtons(100)))
	if len(got.Unknown) == 0 || got.Verdict != ReadAbove {
		t.Errorf("a pull on what was to run: %+v", got)
	}
}

// The plan has no count of bites of its own: what the pull is held to from
// where the load stands is what the plan says, and nothing where that is not
// known. A run is not all room to pull in, and chocks follow the wheels.
func TestThePlansBitesAreThePulls(t *testing.T) {
	for _, row := range []struct {
		with string
		want int // 0: not known
	}{
		// 40 m less 5 to stop, over 2 parts, is 17.5 m, but the chocks of a 40 cm wheel follow after 1.257 m: 8 ÷ 1.257 is 6.4.
		{"load.wheel_radius=40 cm", 7},
		// A wheel that nobody measured counts as the smallest, of 25 cm: 8 ÷ 0.785 is 10.2.
		{"", 11},
		// Under 5 degrees no chock ends a bite where the load can't roll: (12 − 5) ÷ 2 is 3.5, and 8 ÷ 3.5 is 2.3; by the run alone it would be 16 ÷ 12.
		{"load.slope=2 deg; load.ground=mud; puller.run=12 m", 3},
		{"load.slope=2 deg; load.ground=mud; puller.run=12 m; distance=3 m", 1},
		{winch + "; load.slope=2 deg; load.ground=mud", 1},
		// Where it may, one does: 8 ÷ 1.257 is 6.4.
		{"load.slope=2 deg; load.ground=gravel; load.wheel_radius=40 cm", 7},
		{"load.slope=2 deg; load.ground=gravel", 11},
		{"puller.run=", 0},
	} {
		c := read(t, changed(t, row.with))
		p := Reckon(c)
		b := Bite(c, p)
		if assumed := slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == wheelField }); assumed {
			if b.Count != nil {
				t.Errorf("%q: a wheel is assumed, and the pull goes by it", row.with)
			}
			b.Count = p.Travel.Bites // the pull itself waits for the wheel
		} else if len(b.Unknown) == 1 && b.Unknown[0] == wheelField {
			t.Errorf("%q: a wheel is assumed in silence", row.with)
		}
		if got := p.Travel.Bites; (got == nil) != (row.want == 0) || got != nil && *got != row.want || (b.Count == nil) != (got == nil) || got != nil && *b.Count != *got {
			t.Errorf("%q: the plan has %v bites, the pull %v, want %d", row.with, deref(got), deref(b.Count), row.want)
		}
	}
}

func deref(n *int) int {
	if n == nil {
		return 0
	}
	return *n
}

// A puller needs room to stop in and for the first move of the load beyond it,
// over all parts: 5 m and 2 × 0.3 m.
func TestAPullerWithNoRoomLeftIsNoGo(t *testing.T) {
	for _, row := range []struct {
		with string
		want Decision
	}{
		{"puller.run=5.59 m", NoGo}, {"puller.run=5.61 m", Go}, {"puller.run=5 m", NoGo}, {"puller.run=5.01 m", NoGo},
		{"puller.run=5.31 m; distance=0.1 m", Go},
	} {
		if p := Reckon(read(t, changed(t, row.with))); p.Decision != row.want {
			t.Errorf("%s: %s, want %s: %v", row.with, p.Decision, row.want, p.Why)
		}
	}
}
