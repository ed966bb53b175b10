package calc

import (
	"slices"
	"strings"
	"testing"
)

// What a no-go is for is what is offered to be put right, and with it done the
// plan is no no-go any more.
func TestTheCauseIsPutRight(t *testing.T) {
	winchVehicle := "puller.kind=winch; puller.rating=2 t; puller.rating_kind=working; puller.winch_layer=5; puller.driven=; puller.hitch=drawbar; puller.run="
	for _, row := range []struct{ check, with, says string }{
		{"U4", "puller.run=5.2 m", "Clear the puller's way, or stand it where it has at least 5.60 m"},
		{"U8", "puller.side_slope=18 deg", "level across its pull"},
		{"U5", "puller.slope=22 deg; puller.pull=uphill", "Stand the puller on level ground"},
		{"U9", winchVehicle + "; puller.mass=300 kg", "Give the winch an anchor of its own that may be counted for at least "},
		{"L3", "load.side_slope=17 deg", "Choose a way on which it leans at most 9.0 deg to the side by a level"},
		{"T1", "gear[1].rating=3 kN; site.holding_slack=0.25 m", "Put a good rope with a working limit of at least "},
		{"L3", "load.pull=level; load.slope=17 deg; load.slope_from=level", "Haul it straight uphill, not across the slope"},
		{"T3", "gear[1].length=20 m", "Hold it with a rope as strong as the "},
		{"T3", "gear[0].length=55 m", "Stand the puller nearer to its block, by at least "},
		{"T3", "gear[0].length=55 m", "Rig from an anchor nearer to the load: from 9"},
		{"T1", "anchors[0].name=ring; anchors[1].name=ring", "Give the holding line an anchor of its own that may be counted for at least "},
		{"A4", lorry + "; puller.name=tractor; anchors[0].name=tractor", "Take another anchor than the machine that pulls"},
		{"R4", "anchors[0].rating=3 kN", "Use an anchor in place of the rated anchor point that may be counted for at least "},
	} {
		c := read(t, changed(t, strings.Split(row.with, "; ")...))
		p := Reckon(c)
		if got := failing(p, row.check); p.Decision != NoGo || !got {
			t.Errorf("%s: %s, and %s fails: %v", row.with, p.Decision, row.check, got)
			continue
		}
		i := slices.IndexFunc(p.Changes, func(ch Change) bool { return strings.Contains(ch.Do, row.says) })
		if i < 0 {
			t.Errorf("%s: %q is not offered: %v", row.with, row.says, p.Changes)
			continue
		}
		if strings.Contains(p.Changes[i].Do, " And: ") {
			t.Errorf("%s: more than one thing: %s", row.with, p.Changes[i].Do)
		}
		found := newSearch(c, view{})
		o := found.run()[0]
		for _, r := range remedies(c, &found, o) {
			k, d := least(c, r, new(room))
			if d == NoGo || r.do(c, k) != p.Changes[i].Do {
				continue
			}
			after := clone(c)
			r.set(&after, k)
			if again := Reckon(after); again.Decision != p.Changes[i].Then || failing(again, row.check) {
				t.Errorf("%s: with %q it says %s, and %s fails: %v", row.with, p.Changes[i].Do, again.Decision, row.check, failing(again, row.check))
			}
		}
	}
}

func failing(p Plan, id string) bool {
	return slices.ContainsFunc(p.Checks, func(c Check) bool { return c.ID == id && c.Severity == Block && c.Result == Fail })
}

// A puller that is in the way of a load that runs by itself is led aside.
func TestThePullerIsLedAside(t *testing.T) {
	s := changed(t, "load.pull=downhill; load.slope=20 deg; distance=40 m; reach=41.1 m; lead=0.5 m; gear[0].length=300 m; gear[1].length=300 m; puller.slope=0 deg")
	p := Reckon(read(t, s))
	if !failing(p, "T5") {
		t.Fatalf("the puller is out of its way: %s %v", p.Decision, p.Why)
	}
	if !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "Turn the line square over one lead block") }) {
		t.Errorf("%v", p.Changes)
	}
}

// Where the anchor is too weak and nothing holds the load neither alone does it:
// a stronger anchor and a second rope are offered as a pair.
func TestStrongerAnchorAndSecondRope(t *testing.T) {
	p := Reckon(read(t, changed(t, "anchors[0].rating=8 kN", "gear[1].kind=sling; gear[1].use=spare; gear[1].length=; gear[1].diameter=; gear[1].material=")))
	if p.Decision != NoGo {
		t.Fatalf("%s %v", p.Decision, p.Why)
	}
	for _, c := range p.Changes {
		if strings.Contains(c.Do, "Hold it with a second rope") && strings.Contains(c.Do, "Use an anchor in place of") {
			return
		}
	}
	t.Errorf("the pair is not offered: %v", p.Changes)
}

// Where it was told that the puller stands level, nobody is sent to level ground; where
// it stands on a slope, or nobody told, they are.
func TestLevelGroundIsNotOfferedTwice(t *testing.T) {
	light := "puller.mass=520 kg; puller.driven=0.5; puller.ground=grass; load.mass=3 t; load.slope=14 deg; load.ground=grass; "
	for with, offered := range map[string]bool{
		"puller.slope=0 to 2 deg; puller.pull=level":  false,
		"puller.slope=0 to 8 deg; puller.pull=uphill": true,
	} {
		c := read(t, changed(t, strings.Split(light+with, "; ")...))
		found := newSearch(c, view{})
		says := slices.ContainsFunc(stronger(c, found.run()[0]), func(r remedy) bool { return strings.Contains(r.do(c, 0), "level ground") })
		if says != offered {
			t.Errorf("%s: level ground is offered: %t", with, says)
		}
		for _, ch := range Reckon(c).Checks {
			if !offered && strings.Contains(ch.Text, "level ground") {
				t.Errorf("%s: %s says %q", with, ch.ID, ch.Text)
			}
		}
	}
}

// A go that takes a signature is told from one that takes none, by the checks that the
// plan with the change would have signed for.
func TestAChangeSaysWhatIsToBeSigned(t *testing.T) {
	const narrow = "puller.run=5.2 m; "
	for sets, want := range map[string][]string{narrow: nil, narrow + "load.side_slope=12 deg; load.side_slope_from=level": {"L3"}} {
		p := Reckon(read(t, changed(t, sets)))
		i := slices.IndexFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "Clear the puller's way") })
		if i < 0 || p.Changes[i].Then != Go || !slices.Equal(p.Changes[i].SignOffs, want) {
			t.Errorf("%q: %s %+v, want a go signed for %v", sets, p.Decision, p.Changes, want)
		}
	}
}
