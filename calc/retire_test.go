package calc

import (
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

func TestRetire(t *testing.T) {
	s := plainGo()
	s.Gear[0].Name, s.Gear[4].Name = "blue rope", "bow shackle"
	p := Reckon(read(t, s))
	find := func(l []Retired, use string) *Retired {
		for i := range l {
			if l[i].Use == use {
				return &l[i]
			}
		}
		return nil
	}
	all := func(e ...Event) []Retired {
		t.Helper()
		l, err := Retire(p, e)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	if l := all(); len(l) != 0 {
		t.Errorf("a pull like planned retires %+v", l)
	}
	for _, shock := range Shocks {
		l := all(Event{What: shock})
		if len(l) != len(p.Gear)+len(p.Anchors) || find(l, "haul").Do != Quarantine || find(l, "hitch").Do != LookOver || find(l, "standing").Do != LookOver {
			t.Errorf("%s: %+v", shock, l)
		}
	}
	for _, mark := range Marks {
		l := all(Event{What: mark, Piece: "BLUE rope"})
		if len(l) != 1 || l[0].Name != "blue rope" || l[0].Reasons[0].Why != mark || l[0].Reasons[0].Source == "" || l[0].Ratio == nil {
			t.Errorf("%s: %+v", mark, l)
		}
	}
	if l := all(Event{What: "bent", Piece: "moving-block"}); len(l) != 1 || l[0].Kind != "block" {
		t.Errorf("by its use: %+v", l)
	}
	if l := all(Event{What: "cut", Piece: "rope"}); len(l) != 2 {
		t.Errorf("either of two ropes: %+v", l)
	}
	if l := all(Event{What: "cut", Piece: "spare sling"}); len(l) != 1 || l[0].Name != "spare sling" || l[0].Do != Scrap || l[0].Ratio != nil {
		t.Errorf("one that the plan does not know: %+v", l)
	}
	if l := all(Event{What: "cut"}); len(l) != 1 || l[0].Do != Scrap {
		t.Errorf("one that nobody named: %+v", l)
	}
	over := all(Event{What: EventReading, At: AtHaul, Reading: bound.Spread(unit.Kilonewtons(40), 0.05)}, Event{What: "caught"}, Event{What: "bent", Piece: "bow shackle"})
	if b := find(over, "moving-block"); b == nil || b.Do != Quarantine || math.Abs(*b.Ratio-1.4063) > 5e-4 || b.Reasons[0].Why != "over-reading" || len(b.Reasons) != 2 || strings.Contains(b.Reasons[0].Text, "{") {
		t.Errorf("the block: %+v", b)
	}
	if over[0].Name != "bow shackle" || over[0].Do != Scrap {
		t.Errorf("the worst first: %+v", over[0])
	}
	if _, err := Retire(p, []Event{{What: "sneezed"}}); err == nil || !strings.Contains(err.Error(), "sneezed") {
		t.Errorf("an event that is none: %v", err)
	}
}

// What the plan itself has near, over or not known is on the list without any
// event; a catch that never came is not.
func TestRetireByPlan(t *testing.T) {
	force := func(kn float64) *unit.Force { f := unit.Kilonewtons(kn); return &f }
	p := Plan{Gear: []Member{
		{Kind: "rope", Use: "haul", Tension: *force(9), Working: force(10)},
		{Kind: "rope", Use: "holding", Tension: *force(30), Working: force(10)},
		{Kind: "shackle", Use: "load", Tension: *force(12), Working: force(10)},
		{Kind: "shackle", Use: "load", Tension: *force(6), Working: force(10)}, // the same piece again
		{Kind: "block", Use: "moving-block", Tension: *force(12)},
		{Kind: "sling", Use: "anchor", Tension: *force(7), Working: force(10)},
		{Kind: "hook", Use: "load", Tension: *force(7), Working: force(0)},
	}, Anchors: []Held{{Kind: "tree", Use: "standing", Force: *force(11), Capacity: force(10)}}}
	l, err := Retire(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range l {
		got = append(got, r.Kind+" "+r.Use+": "+r.Do+", "+r.Reasons[0].Why)
	}
	want := []string{"shackle load: quarantine, over-plan", "hook load: quarantine, over-plan", "tree standing: look over, over-plan",
		"block moving-block: look over, unknown-plan", "rope haul: look over, near"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// A piece that the plan has no place for may have joined two that it has: it goes out
// after a shock that it was there for, after a reading that is more than it may carry,
// and where it was told to be damaged. One that the plan has a place for is there once.
func TestRetireBesideThePlan(t *testing.T) {
	s := plainGo()
	s.Gear[0].Name, s.Gear[4].Name = "blue rope", "bow shackle"
	p := Reckon(read(t, s))
	weak, strong := unit.Kilonewtons(5), unit.Kilonewtons(500)
	reading := Event{What: EventReading, At: AtHaul, Reading: bound.Spread(unit.Kilonewtons(10), 0.05)}
	for _, c := range []struct {
		events []Event
		want   string // what is said of the little shackle
	}{
		{[]Event{{What: EventListed, Piece: "little shackle", Working: &weak}}, ""},
		{[]Event{{What: "jerked"}, {What: EventListed, Piece: "little shackle", Working: &strong, Shaken: true}}, "quarantine beside"},
		{[]Event{{What: "jerked"}, {What: EventListed, Piece: "little shackle", Working: &strong}}, ""}, // brought later
		{[]Event{reading, {What: EventListed, Piece: "little shackle", Working: &weak}}, "quarantine over-beside"},
		{[]Event{reading, {What: EventListed, Piece: "little shackle", Working: &strong}}, ""},
		{[]Event{{What: "told", Piece: "little shackle"}}, "quarantine told"},
		{[]Event{{What: "bent", Piece: "little shackle"}, {What: EventListed, Piece: "little shackle", Shaken: true}}, "scrap bent beside"},
	} {
		l, err := Retire(p, append(slices.Clone(c.events), Event{What: EventListed, Piece: "bow shackle", Shaken: true}))
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		bows := 0
		for _, r := range l {
			if r.Name == "bow shackle" {
				bows++
			}
			if r.Name == "little shackle" {
				got = r.Do
				for _, why := range r.Reasons {
					got += " " + why.Why
					if strings.Contains(why.Text, "{") || why.Source == "" {
						t.Errorf("%+v", why)
					}
				}
			}
		}
		if got != c.want || bows > 1 {
			t.Errorf("%+v: the little shackle is %q, want %q; the bow shackle is there %d times", c.events, got, c.want, bows)
		}
	}
}
