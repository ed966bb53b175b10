package calc

import "testing"

// One ring that is listed for both lines carries the sum of them, and is no
// second hold. In two parts hauled from the moving side it is the pull's half
// and what the holding line may have to take.
func TestAnAnchorListedTwiceIsOne(t *testing.T) {
	on := func(names string) (standing, holding float64, decision Decision, own bool) {
		t.Helper()
		o := weighedBest(t, changed(t, names))
		for _, s := range o.path.seats {
			switch {
			case s.anchor && s.hold:
				holding = s.tension.Newtons()
			case s.anchor:
				standing = s.tension.Newtons()
			}
		}
		_, failed := outcomes(o, "T1/own")[Fail]
		return standing, holding, o.v.decision, !failed
	}
	haul, hold, decision, own := on("")
	if decision != Go || !own {
		t.Fatalf("two without a name: %s, %v", decision, own)
	}
	for _, c := range []struct {
		names string
		one   bool
	}{
		{"anchors[0].name=ring; anchors[1].name=ring", true},
		{"anchors[0].name=ring; anchors[1].name= Ring ", true},
		{"anchors[0].name=ring; anchors[1].name=second ring", false},
		{"anchors[0].name=ring", false},
	} {
		s, h, decision, own := on(c.names)
		wantS, wantH, want := haul, hold, Go
		if c.one {
			wantS, wantH, want = haul+hold, haul+hold, NoGo
		}
		if s-wantS > 1e-6 || wantS-s > 1e-6 || h-wantH > 1e-6 || wantH-h > 1e-6 || decision != want || own == c.one {
			t.Errorf("%q: %.0f and %.0f N, %s, an own anchor %v; want %.0f and %.0f N, %s", c.names, s, h, decision, own, wantS, wantH, want)
		}
	}
}

func TestThePullerIsNoAnchor(t *testing.T) {
	for _, c := range []struct {
		puller, anchor string
		fails          bool
	}{
		{"tractor", "tractor", true},
		{"Tractor", " tractor", true},
		{"green tractor", "tractor", true},
		{"tractor", "second tractor", false},
		{"green tractor", "red tractor", false},
		{"tractor", "", false},
		{"", "tractor", false},
	} {
		o := weighedBest(t, changed(t, lorry, "puller.name="+c.puller+"; anchors[0].name="+c.anchor))
		want := Go
		if c.fails {
			want = NoGo
		}
		if _, failed := outcomes(o, "A4/pulls")[Fail]; failed != c.fails || o.v.decision != want {
			t.Errorf("%q pulls and %q holds: fails %v, %s; want %v, %s", c.puller, c.anchor, failed, o.v.decision, c.fails, want)
		}
	}
}
