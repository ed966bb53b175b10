package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
)

// Where the holding line is made fast on the load is for people to say. A tow
// point that would carry it is no answer: nobody said that it does.
func TestWhereTheHoldingLineIsFastIsNotTakenForGranted(t *testing.T) {
	p := Reckon(read(t, changed(t, "load.holding_point=")))
	if p.Decision != Open {
		t.Errorf("%s where nobody said what the holding line is on", p.Decision)
	}
	asked := false
	for _, m := range p.Measure {
		asked = asked || m.Field == "load.holding_point.rating" && m.CouldFlip
	}
	if !asked {
		t.Errorf("nobody is asked for it: %v", p.Measure)
	}
	if p := Reckon(read(t, changed(t, "load.holding_point=; load.slope=0 to 0.1 deg; load.ground=mud"))); p.Decision != Go {
		t.Errorf("%s for want of a point that no line is made fast to: %v", p.Decision, p.Why)
	}
}

// A point that both lines share carries both, because both are tight while one
// takes over from the other.
func TestASharedPointCarriesBoth(t *testing.T) {
	const shared = "load.holding_point=; load.holding_point.shared=true; "
	own := Reckon(read(t, changed(t)))
	want := own.Force.High.Newtons()
	for _, m := range own.Gear {
		if m.Use == "holding-point" {
			want += m.Tension.Newtons()
		}
	}
	p := Reckon(read(t, changed(t, shared)))
	found := 0
	for _, m := range p.Gear {
		if m.Use != "tow-point" && m.Use != "holding-point" {
			continue
		}
		found++
		if got := m.Tension.Newtons(); math.Abs(got-want) > 1e-6 {
			t.Errorf("%s carries %v N, and both are %v N", m.Use, got, want)
		}
	}
	// One failure takes both lines, so it is no plain go.
	if found != 2 || p.Decision != Go || !p.Conditional || !slices.Contains(p.SignOffs, "T4") {
		t.Errorf("%d points, %s, to be signed for %v: %v", found, p.Decision, p.SignOffs, p.Why)
	}
	if own.Conditional {
		t.Errorf("with a point each it is to be signed for %v", own.SignOffs)
	}
	// Rated for the greater of the two, but not for both.
	between := "load.tow_point.rating=" + inNewtons(own.Force.High.Scale(1.1))
	if p := Reckon(read(t, changed(t, shared, between))); p.Decision != NoGo {
		t.Errorf("%s with a shared point rated for one line", p.Decision)
	}
}

func TestOnlyAHoldingPointIsShared(t *testing.T) {
	s := changed(t, "load.tow_point.shared=true")
	if _, err := s.Case(); err == nil {
		t.Error("a tow point that is shared with itself is read")
	}
}

// ownCase is a case file with some of its fields set, as changed does.
func ownCase(t *testing.T, file string, sets ...string) job.Sheet {
	t.Helper()
	s, err := job.Decode(readCase(t, file))
	if err != nil {
		t.Fatal(err)
	}
	for _, set := range strings.Split(strings.Join(sets, ";"), ";") {
		if path, text, ok := strings.Cut(strings.TrimSpace(set), "="); ok {
			if err := s.Set(path, text); err != nil {
				t.Fatalf("%s: %v", set, err)
			}
		}
	}
	return s
}

// Where the load runs by itself the puller pulls straight against the holding
// line: rope, anchor and point take what it can give at most and the grade. By
// hand: 4.4 t × g × 0.7 and 1° of its own grade, 30,958 N; 3.3 t × g × sin 15°,
// 8,376 N; together 39,333 N.
func TestThePullerPullsAgainstTheHoldingLine(t *testing.T) {
	const file, strong = "scenarios/x2-runs-by-itself.json", "gear[0].rating=60 t; gear[0].diameter=60 mm; gear[1].diameter=44 mm; load.tow_point.rating=60 t; puller.hitch_rating=60 t; puller.mass=15 t; site.holding_slack=0 m; "
	const weak = "gear[1].rating=%[1]s; anchors[0].rating=%[1]s; load.holding_point.rating=%[1]s"
	for _, r := range []struct {
		sets string
		want Decision
		sign bool
	}{
		{"gear[0].rating=8 t; load.tow_point.rating=8 t", Go, false},
		{strong + fmt.Sprintf(weak, "30 t"), Go, false},
		{strong + fmt.Sprintf(weak, "10 t"), Go, true}, // over half of the 196 kN that it breaks at
		{strong + fmt.Sprintf(weak, "2.4 t"), NoGo, false},
		{strong + fmt.Sprintf(weak, "30 t") + "; anchors[0].rating=2.4 t", NoGo, false},
		{strong + fmt.Sprintf(weak, "30 t") + "; load.holding_point.rating=2.4 t", NoGo, false},
	} {
		p := Reckon(read(t, ownCase(t, file, "sure=gear[0].rating,gear[1].rating", r.sets)))
		if p.Decision != r.want || p.Conditional != r.sign {
			t.Errorf("%q: %s, signed for: %v, want %s, %v: %v", r.sets, p.Decision, p.Conditional, r.want, r.sign, p.Why)
		}
		want := *p.Puller.Most + p.Holding.Static.High
		for _, m := range p.Gear {
			if m.Use == "holding" || m.Use == "holding-point" {
				if m.Peak == nil || math.Abs(float64(*m.Peak-want)) > 1e-6 {
					t.Errorf("%q: the %s takes %v, want %v", r.sets, m.Use, m.Peak, want)
				}
			}
		}
	}
	for _, m := range Reckon(read(t, ownCase(t, file))).Gear {
		if m.Use == "holding" && math.Abs(m.Peak.Newtons()-39333) > 1 {
			t.Errorf("the holding line takes %v at the puller's most, by hand 39,333 N", *m.Peak)
		}
	}
	// Uphill it is taken in behind the pull, and nothing pulls against it.
	for _, m := range Reckon(read(t, changed(t))).Gear {
		if m.Use == "holding" && m.Peak != nil {
			t.Errorf("uphill the holding line takes %v at the puller's most", *m.Peak)
		}
	}
}

// The sentence that a crew reads first names the weakest of all pieces: the
// holding line and its point are two of them, and an anchor is another.
func TestTheWeakestPieceIsNamed(t *testing.T) {
	const strong = "gear[0].rating=9 t; load.tow_point.rating=9 t; "
	for _, r := range []struct{ sets, want string }{
		{strong + "load.holding_point.rating=9 t", "second rope, to hold"},
		{strong + "gear[1].rating=7 t; anchors[0].rating=60 t", "holding point"},
		{strong + "gear[1].rating=7 t; load.holding_point.rating=9 t", "ring in a concrete footing"},
		{"anchors[0].rating=60 t; gear[0].rating=2 t; gear[1].rating=30 t; gear[1].diameter=70 mm; load.holding_point.rating=60 t; tackle.parts=1; load.slope=2 deg", "line"},
	} {
		p := Reckon(read(t, ownCase(t, "scenarios/x2-runs-by-itself.json", r.sets)))
		said := ""
		for _, c := range p.Checks {
			if c.ID == "R3" && c.Result == Pass && strings.Contains(c.Text, "weakest") {
				said = c.Text
			}
		}
		if !strings.Contains(said, "weakest is the "+r.want+", ") {
			t.Errorf("%q: %q, want the %s", r.sets, said, r.want)
		}
	}
}

// Where the load runs by itself the tight line is the one that holds. By hand:
// 3.3 t × g × sin 15° = 8,376 N caught after 0.1 m by a rope of 6 t that breaks
// at twice that and stretches 30 %, so EA is 392,266 N, over 16 m and a way of
// 10 m: 18,149 N, and T² L ÷ 2 EA is 10,916 J. Cleared is twice 26 m.
func TestEnergyIsThatOfTheLineThatHolds(t *testing.T) {
	const file = "scenarios/x2-runs-by-itself.json"
	p := Reckon(read(t, ownCase(t, file, "reach=16 to 16 m; distance=10 to 10 m")))
	if got := p.Energy.Stored.High.Joules(); math.Abs(got-10916) > 20 {
		t.Errorf("%.0f J lie in the line, by hand 10,916", got)
	}
	if got := p.Energy.Clear.Metres(); math.Abs(got-52) > 1e-9 {
		t.Errorf("everybody is to be %.1f m off, want 52", got)
	}
	if low := p.Energy.Stored.Low.Joules(); !(low > 0) {
		t.Errorf("at the least %v J lie in a line that holds", low)
	}
	// No rope holds yet: what lies in it is not known, and not nothing.
	p = Reckon(read(t, ownCase(t, file, "gear[1].use=spare; gear[1].kind=sling")))
	if p.Energy.Stored != nil {
		t.Errorf("%v J in a line that nobody has named", *p.Energy.Stored)
	}
	// Uphill it is the haul line that is tight.
	if p := Reckon(read(t, changed(t))); p.Energy.Stored == nil || p.Energy.Stored.Best <= 0 {
		t.Errorf("nothing lies in a haul line that pulls: %v", p.Energy)
	}
}

// What joins the holding line carries what its rope may have to, and is a no or
// a go by that.
func TestWhatJoinsTheHoldingLineCarriesIt(t *testing.T) {
	const joins = "gear[4].kind=shackle; gear[4].use=holding; gear[4].name=pin; gear[4].rating_kind=working; gear[4].condition=good; gear[4].improvised=false; gear[4].rating="
	for rating, want := range map[string]Result{"20 t": Pass, "0.2 t": Fail} {
		got := outcomes(weighedBest(t, changed(t, joins+rating)), "T1/load")
		if _, ok := got[want]; !ok {
			t.Errorf("a shackle of %s: %v", rating, got)
		}
	}
}
