package calc

import (
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

func forces(o weighed, use string) (out []float64) {
	for _, t := range o.path.seats {
		if t.anchor && t.use == use {
			out = append(out, t.tension.Newtons())
		}
	}
	return out
}

const twoLeads = "tackle.lead_blocks=2; anchors[2].kind=rated; anchors[2].use=lead; anchors[2].rating=9 t; anchors[2].rating_kind=working"

// One anchor under two lead blocks carries both; two of them carry one each,
// and two that share one block count for two only where they share evenly.
func TestAnchorsCarryTheSumOfWhatIsOnThem(t *testing.T) {
	second := "; anchors[3].kind=rated; anchors[3].use=lead; anchors[3].rating=9 t; anchors[3].rating_kind=working"
	sum := forces(weighedBest(t, changed(t, twoLeads)), "lead")
	each := forces(weighedBest(t, changed(t, twoLeads+second)), "lead")
	if len(sum) != 1 || len(each) != 2 || math.Abs(sum[0]-2*each[0]) > 1e-6 {
		t.Errorf("one anchor carries %v, two carry %v", sum, each)
	}
	standing := "; anchors[2].kind=rated; anchors[2].use=standing; anchors[2].rating=9 t; anchors[2].rating_kind=working"
	alone := forces(weighedBest(t, changed(t)), "standing")
	beside := forces(weighedBest(t, changed(t, standing)), "standing")
	evenly := forces(weighedBest(t, changed(t, standing+"; anchors[0].equalised=true; anchors[2].equalised=true; anchors[0].sling_angle=0 deg; anchors[2].sling_angle=0 deg")), "standing")
	if len(beside) != 2 || beside[0] != alone[0] || beside[1] != alone[0] || evenly[0] != alone[0]/2 || evenly[1] != alone[0]/2 {
		t.Errorf("alone %v, beside each other %v, sharing evenly %v", alone, beside, evenly)
	}
}

// Two pieces alike that were made to share evenly carry twice as one, in one
// place; the same two can't also stand in two places.
func TestPiecesThatShareAreInOnePlace(t *testing.T) {
	o := weighedBest(t, changed(t, block2, "gear[3].use=; gear[5].use=spare; gear[3].count=2; gear[3].equalised=true"))
	at := 0
	for _, s := range o.path.seats {
		if s.piece != nil && s.label == "strop" {
			at++
		}
	}
	if at != 1 {
		t.Errorf("the two slings that share one load are in %d places", at)
	}
}

// Lengths add up only where the line is straight: what runs through sheaves is
// one whole rope.
func TestRopesAddUpOnlyInAStraightLine(t *testing.T) {
	two := "gear[0].length=30 m; gear[4].kind=rope; gear[4].use=haul; gear[4].rating=6 t; gear[4].rating_kind=working; gear[4].length=30 m; gear[4].condition=good; gear[4].improvised=false; gear[4].knots=none; gear[4].material=polyester"
	straight := "; tackle.parts=1; gear[2].use=spare"
	for _, r := range []struct {
		sets string
		want Result
	}{
		{two, Fail}, {two + straight, Pass}, {"gear[0].length=30 m; gear[0].count=2", Fail}, {"gear[0].length=30 m; gear[0].count=2" + straight, Pass},
		{two + "; gear[4].length=60 m", Pass},
	} {
		got := outcomes(weighedBest(t, changed(t, r.sets)), "T3")
		if _, ok := got[r.want]; !ok || len(got) != 1 {
			t.Errorf("%s: %v, want %s", r.sets, got, r.want)
		}
	}
}

// Every number of parts has its reason, those that the blocks do not make too.
func TestEveryNumberOfPartsHasItsReason(t *testing.T) {
	p := Reckon(read(t, changed(t, "tackle.parts=; tackle.haul_from=")))
	last, _ := handbook.PartsOfUse()
	seen := map[int]bool{}
	taken := 0
	for _, o := range p.Options {
		seen[o.Parts] = true
		if o.Why == "" || o.HaulFrom == "" {
			t.Errorf("%+v says nothing", o)
		}
		if o.Taken {
			taken++
		}
	}
	for n := 1; n <= last; n++ {
		if !seen[n] {
			t.Errorf("nothing is said of %d parts: %v", n, p.Options)
		}
	}
	if taken != 1 {
		t.Errorf("%d options are taken", taken)
	}
}

func TestPullersOfEachKind(t *testing.T) {
	for name, r := range map[string]struct {
		sets  string
		low   float64 // N, by hand
		most  float64
		limit string
	}{
		"people":     {"puller=; puller.kind=people; puller.people=6; puller.ground=gravel; puller.slope=0 deg", 420, 6300, "people"},
		"hand winch": {"puller=; puller.kind=hand-winch; puller.capstan=true; puller.rating=10 kN; puller.rating_kind=working", 10000, 15000, "rating"},
		"winch":      {winch + "; puller.mass=40 t; puller.rating=20 kN", 20000, 30000, "rating"},
		// 360 kg, 3530.39 N: × (0.04 × cos 1° − sin 1°), the way may climb by a degree; and × (0.3 × cos 11.5° − sin 11.5°)
		"people on ice": {"puller=; puller.kind=people; puller.people=6; puller.ground=ice; puller.slope=0 to 0 deg; puller.pull=level", 79.580381, 6300, "traction"},
		"people uphill": {"puller=; puller.kind=people; puller.people=6; puller.ground=grass; puller.slope=10 to 11 deg; puller.pull=uphill", 334.008730, 6300, "traction"},
	} {
		p := Reckon(read(t, changed(t, r.sets)))
		if p.Puller == nil || p.Puller.Available == nil {
			t.Errorf("%s: gives no figure: %v", name, p.Why)
			continue
		}
		if got := p.Puller.Available.Low.Newtons(); math.Abs(got-r.low) > 1e-6 || p.Puller.Limit != r.limit {
			t.Errorf("%s: %v N by %s, want %v by %s", name, got, p.Puller.Limit, r.low, r.limit)
		}
		if got := p.Puller.Most.Newtons(); math.Abs(got-r.most) > 1e-6 {
			t.Errorf("%s: %v N at most, want %v", name, got, r.most)
		}
	}
	// A hand winch pulls on an anchor of its own, which must be there.
	o := weighedBest(t, changed(t, "puller=; puller.kind=hand-winch; puller.rating=10 kN; puller.rating_kind=working"))
	if got := outcomes(o, "R1"); got[Unknown] == "" {
		t.Errorf("a hand winch made fast to nothing: %v", got)
	}
	held := "; anchors[2].kind=rated; anchors[2].use=puller; anchors[2].rating=9 t; anchors[2].rating_kind=working"
	o = weighedBest(t, changed(t, "puller=; puller.kind=hand-winch; puller.rating=10 kN; puller.rating_kind=working"+held))
	if f := forces(o, "puller"); len(f) != 1 || f[0] != o.s.haul.High.Newtons() {
		t.Errorf("its anchor carries %v of %v", f, o.s.haul)
	}
	tracked := weighedBest(t, changed(t, "puller.kind=tracked; puller.driven="))
	if tracked.power.available == nil || tracked.power.limit == "tipping" {
		t.Errorf("a tracked machine gives %v by %s", tracked.power.available, tracked.power.limit)
	}
}

// A machine as an anchor holds by its own ground and its own slope, whatever
// load and puller stand on: 12 t less a tenth is 10,800 kg, 105,912 N; on gravel the
// lesser grip of tyres and tracks is 0.3; told by level at 3 deg its ground may
// fall by 4: 105,912 × (0.3 × 0.997564 − 0.069756) × ½ = 12,154 N.
func TestMachineAsAnchor(t *testing.T) {
	of := func(sets string) (weighed, unit.Force) {
		o := weighedBest(t, changed(t, lorry, sets))
		for _, s := range o.path.seats {
			if s.anchor && s.use == "standing" && s.working != nil {
				return o, *s.working
			}
		}
		return o, -1
	}
	for _, ground := range []string{"grass", "ice", "asphalt"} { // of load and puller: nothing to it
		if _, got := of("anchors[0].slope=3 deg; load.ground=" + ground + "; puller.ground=" + ground); math.Abs(got.Newtons()-12154) > 1 {
			t.Errorf("beside %s it holds %v, want 12154 N", ground, got)
		}
	}
	for _, field := range []string{"mass", "ground", "slope", "chocked", "braked", "in_line"} {
		if o, _ := of("anchors[0]." + field + "="); o.v.decision != Open {
			t.Errorf("a machine of which %s is not told as an anchor: %s", field, o.v.decision)
		}
	}
	for _, no := range []string{"chocked", "braked", "in_line"} {
		if o, got := of("anchors[0]." + no + "=false"); o.v.decision != NoGo || got != 0 {
			t.Errorf("%s is not so: %s, and it holds %v", no, o.v.decision, got)
		}
	}
	p := Reckon(read(t, changed(t, lorry, "anchors[0].chocked=false")))
	if !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "chock it") && c.Then == Go }) {
		t.Errorf("no change says to chock it: %v", p.Changes)
	}
	if _, got := of("anchors[0].slope=18 deg"); got != 0 {
		t.Errorf("on ground as steep as it grips it holds %v", got)
	}
}

// Told to haul from a standing block where none is, a plan says so.
func TestToldHaulWithoutBlocks(t *testing.T) {
	c := yard(t, 1)
	c.Tackle.HaulFrom = "standing"
	p := Reckon(c)
	if p.Tackle == nil || p.Tackle.HaulFrom != "standing" || p.Tackle.Parts != 1 || p.Decision == Go {
		t.Fatalf("got %s with %+v, want no go with the block that is missing", p.Decision, p.Tackle)
	}
	if i := slices.IndexFunc(p.Checks, func(k Check) bool { return k.ID == "R1" && k.Result == Unknown }); i < 0 || !strings.Contains(p.Checks[i].Text, "block") {
		t.Errorf("the checks do not ask for the block: %+v", p.Checks)
	}
}

// A sling is no haul line, however long it is: it joins, and nothing is hauled by it.
func TestASlingIsNoHaulLine(t *testing.T) {
	sling := "gear[0].length=30 m; gear[0].use=; gear[4].kind=sling; gear[4].rating=20 t; gear[4].rating_kind=working; gear[4].length=90 m; gear[4].condition=good; gear[4].improvised=false; gear[4].material=polyester"
	for _, more := range []string{"", "; tackle.parts=1; tackle.haul_from=; gear[2].use=spare", "; tackle.parts=1; tackle.haul_from=; gear[2].use=spare; gear[0].rating=0.3 t"} {
		p := Reckon(read(t, changed(t, sling+more)))
		for _, m := range p.Gear {
			if m.Use == "haul" && m.Kind == "sling" {
				t.Errorf("%q: %s hauls", more, m.Name)
			}
		}
		if p.Decision == Go {
			t.Errorf("%q is a go", more)
		}
	}
}
