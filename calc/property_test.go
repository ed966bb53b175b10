package calc

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
)

// drawn is a job uphill with everything told, whose figures are drawn from
// what crews meet. Most come to a go or come near one.
func drawn(t *rapid.T) job.Sheet {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	q := func(name string, lo, hi float64, unit string) string {
		return fmt.Sprintf("%.4f %s", f(name, lo, hi), unit)
	}
	word := func(name string, of ...string) string { return rapid.SampledFrom(of).Draw(t, name) }
	no, yes, none := false, true, []string{}
	rated := func(kind, use string) job.GearSheet {
		return job.GearSheet{Kind: kind, Use: use, Rating: q(kind+use, 1.5, 12, "t"), RatingKind: "working", Condition: "good", Improvised: &no}
	}
	rope := func(use string, lo, hi float64) job.GearSheet {
		g := rated("rope", use)
		g.Rating = q("rope "+use, lo, hi, "t")
		g.Material, g.Diameter, g.Length, g.Knots = "polyester", "28 mm", q("length "+use, 50, 250, "m"), &none
		return g
	}
	s := job.Sheet{
		Load: job.LoadSheet{
			Mass: q("mass", 800, 5000, "kg"), MassFrom: word("from", job.MassFroms...), Slope: q("slope", 1, 22, "deg"), SlopeFrom: word("slope from", job.SlopeFroms...),
			Pull: "uphill", Ground: word("ground", "gravel", "grass", "firm soil", "wet grass", "sand"), Locked: ptr(float64(rapid.IntRange(0, 1).Draw(t, "locked")) * 0.25),
			Sunk: word("sunk", "none", "none", "none", "hub"), Lip: job.LipSheet{None: true}, OffLine: q("off", 0, 12, "deg"), Belly: &no, SideSlope: q("side", 0, 12, "deg"),
			TowPoint:     &job.TowPointSheet{Kind: "frame", Rating: q("tow", 2, 12, "t"), RatingKind: "working", Condition: "good"},
			HoldingPoint: &job.TowPointSheet{Kind: "rated-eye", Rating: q("hold", 4, 30, "t"), RatingKind: "working", Condition: "good"},
		},
		Distance: q("distance", 3, 15, "m"), Reach: q("reach", 16, 40, "m"), Lead: q("lead", 5, 20, "m"), HoldReach: q("hold reach", 16, 40, "m"),
		Puller: &job.PullerSheet{
			Kind: "wheeled", Mass: q("puller", 1500, 7000, "kg"), Driven: ptr(f("driven", 0.6, 1)), Slope: q("its slope", 0, 11, "deg"), SlopeFrom: "level", Pull: word("its pull", job.Pulls...),
			Ground: word("its ground", "gravel", "asphalt", "firm soil"), HitchRating: q("hitch", 2, 8, "t"), HitchRatingKind: "working", Run: q("run", 10, 60, "m"), Hitch: "drawbar",
			HitchHeight: "40 cm", AxleHeight: "60 cm", FrontShare: ptr(0.4), Wheelbase: "2.2 m", CGHeight: "80 cm", Rollover: &yes, SideSlope: "1 deg",
		},
		Anchors: []job.AnchorSheet{
			{Kind: "tree", Use: "standing", Diameter: q("tree", 0.3, 0.7, "m"), Alive: &yes, Lean: &no, TiedBack: &yes, StrapHeld: &yes},
			{Kind: "rated", Use: "holding", Rating: q("ring", 4, 40, "t"), RatingKind: "working"},
		},
		Gear: []job.GearSheet{
			rope("haul", 1.5, 6), rope("holding", 4, 40), rated("block", ""), rated("block", ""), rated("shackle", ""), rated("shackle", ""), rated("shackle", ""),
		},
		Crew: ptr(rapid.IntRange(3, 8).Draw(t, "crew")), Hazards: &none,
		Sure: &[]string{"gear[0].rating", "gear[1].rating", "gear[2].rating", "gear[3].rating", "gear[4].rating", "gear[5].rating", "gear[6].rating"}, // they are drawn stronger than ropes of their thickness are
	}
	if rapid.IntRange(0, 5).Draw(t, "hold reach untold") == 0 { // then it is no go
		s.HoldReach = ""
	}
	return s
}

// fataler is what a test and a drawn one have in common.
type fataler interface {
	Helper()
	Fatalf(string, ...any)
}

func read(t fataler, s job.Sheet) job.Case {
	t.Helper()
	c, err := s.Case()
	if err != nil {
		t.Fatalf("read: %v", err)
	}
	return c
}

func decision(t *rapid.T, s job.Sheet) Decision {
	return newSearch(read(t, s), view{}).run()[0].v.decision
}

// notBetter fails when making a job worse made it a go.
func notBetter(t *rapid.T, before, after job.Sheet) {
	if b, a := decision(t, before), decision(t, after); a == Go && b != Go {
		t.Fatalf("worse turned %s into %s", b, a)
	}
}

func copied(t *rapid.T, s job.Sheet) job.Sheet {
	c, err := s.Clone()
	if err != nil {
		t.Fatalf("clone: %v", err)
	}
	return c
}

func set(t *rapid.T, s job.Sheet, path, text string) job.Sheet {
	c := copied(t, s)
	if err := c.Set(path, text); err != nil {
		t.Fatalf("set: %v", err)
	}
	return c
}

func TestHeavierIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		m := rapid.Float64Range(1, 1.6).Draw(t, "times") * read(t, s).Load.Mass.Best.Kilograms()
		notBetter(t, s, set(t, s, "load.mass", fmt.Sprintf("%.4f kg", m)))
	})
}

// Hardly uphill, by eye, may be downhill: then the load may run to the puller
// by itself. Steeper up it can't any more, and that danger is over.
func TestSteeperIsNeverBetter(t *testing.T) {
	held := 0
	runs := func(t *rapid.T, s job.Sheet) bool { return newSearch(read(t, s), view{}).n.runs }
	checkMeeting(t, func() bool { return held > 0 }, func(t *rapid.T) {
		s := drawn(t)
		a := read(t, s).Load.Slope.Best.Degrees() + rapid.Float64Range(0, 12).Draw(t, "steeper")
		steeper := set(t, s, "load.slope", fmt.Sprintf("%.4f deg", a))
		if !runs(t, s) || runs(t, steeper) {
			held++
			notBetter(t, s, steeper)
		}
	})
}

// Softer is a ground that resists more at every end. Where the load no longer
// rolls back by itself a missing holding line stops mattering, so the line is
// there in every job drawn.
func TestSofterGroundIsNeverBetter(t *testing.T) {
	softer := func(a, b handbook.Ground) bool {
		ra, _, _ := handbook.Rolling(a)
		rb, _, _ := handbook.Rolling(b)
		sa, _, _ := handbook.Sliding(a)
		sb, _, _ := handbook.Sliding(b)
		return ra.High <= rb.High && ra.Best <= rb.Best && sa.High <= sb.High && sa.Best <= sb.Best && ra.Low == rb.Low
	}
	pairs := 0
	for _, a := range handbook.Grounds() {
		for _, b := range handbook.Grounds() {
			if a == b || !softer(a, b) {
				continue
			}
			pairs++
			rapid.Check(t, func(t *rapid.T) {
				s := set(t, drawn(t), "load.ground", string(a))
				notBetter(t, s, set(t, s, "load.ground", string(b)))
			})
		}
	}
	if pairs == 0 {
		t.Fatal("no ground is softer than another")
	}
}

func TestWeakerMemberIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		k := rapid.Float64Range(0.05, 1).Draw(t, "share")
		// The holding rope is left out: its stiffness would fall with its rating,
		// and a softer line catches more gently.
		var pieces []int
		for i, g := range s.Gear {
			if g.Use != "holding" {
				pieces = append(pieces, i)
			}
		}
		i := rapid.SampledFrom(pieces).Draw(t, "piece")
		w := read(t, s).Gear[i].Rating.Force.Best.TonnesForce() * k
		notBetter(t, s, set(t, s, fmt.Sprintf("gear[%d].rating", i), fmt.Sprintf("%.4f t", w)))
	})
}

func TestWiderRangeIsNeverBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		c := read(t, s)
		d := rapid.Float64Range(0.01, 0.5).Draw(t, "wider")
		wide := c
		switch rapid.SampledFrom([]string{"mass", "slope", "puller", "rope", "reach"}).Draw(t, "which") {
		case "mass":
			wide.Load.Mass = widen(c.Load.Mass, d)
		case "slope":
			wide.Load.Slope = widen(c.Load.Slope, d)
		case "puller":
			wide = clone(c)
			m := widen(*c.Pullers[0].Mass, d)
			wide.Pullers[0].Mass = &m
		case "rope":
			wide = clone(c)
			r := widen(*c.Gear[0].Rating.Force, d)
			wide.Gear[0].Rating.Force = &r
		case "reach":
			r := widen(*c.Reach, d)
			wide.Reach = &r
		}
		b, a := newSearch(c, view{}).run()[0].v.decision, newSearch(wide, view{}).run()[0].v.decision
		if a == Go && b != Go {
			t.Fatalf("wider turned %s into %s", b, a)
		}
	})
}

func widen[Q bound.Quantity](v bound.Of[Q], d float64) bound.Of[Q] {
	return bound.Of[Q]{Low: Q(float64(v.Low) * (1 - d)), Best: v.Best, High: Q(float64(v.High) * (1 + d))}
}

func TestOrderOfListsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		turned := copied(t, s)
		turned.Gear = rapid.Permutation(s.Gear).Draw(t, "gear")
		turned.Anchors = rapid.Permutation(s.Anchors).Draw(t, "anchors")
		a, b := newSearch(read(t, s), view{}).run()[0], newSearch(read(t, turned), view{}).run()[0]
		wa, _ := a.path.worst()
		wb, _ := b.path.worst()
		if a.v.decision != b.v.decision || a.rig != b.rig || math.Abs(wa-wb) > 1e-9*wa {
			t.Fatalf("%s with %v (worst %v) became %s with %v (worst %v)", a.v.decision, a.rig, wa, b.v.decision, b.rig, wb)
		}
	})
}

func TestUnitsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		c := read(t, s)
		lb := set(t, s, "load.mass", fmt.Sprintf("%.10f lb", c.Load.Mass.Best.PoundsMass()))
		lb = set(t, lb, "distance", fmt.Sprintf("%.10f ft", c.Distance.Best.Feet()))
		lb = set(t, lb, "gear[0].rating", fmt.Sprintf("%.10f lb", c.Gear[0].Rating.Force.Best.PoundsForce()))
		a, b := newSearch(c, view{}).run()[0], newSearch(read(t, lb), view{}).run()[0]
		if a.v.decision != b.v.decision || math.Abs(float64(a.s.haul.High-b.s.haul.High)) > 1e-6*float64(a.s.haul.High) {
			t.Fatalf("%s, haul %v became %s, haul %v", a.v.decision, a.s.haul, b.v.decision, b.s.haul)
		}
	})
}

func TestTensionsSumToTheForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		for _, o := range newSearch(read(t, s), view{}).run() {
			sum := 0.0
			parts := o.s.tensions
			if o.rig.first.From == tackle.Standing {
				parts = parts[1:]
			}
			for _, f := range parts {
				sum += f.Newtons()
			}
			want := max(0, newSearch(read(t, s), view{}).n.force.High).Newtons()
			if math.Abs(sum-want) > 1e-9*max(1, want) {
				t.Fatalf("%v: parts sum to %v, force is %v", o.rig, sum, want)
			}
		}
	})
}

// Every number of a plan is finite, and its JSON can be written.
func TestPlansAreFinite(t *testing.T) {
	lone(t)
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		s.Load.Mass = fmt.Sprintf("%.4f kg", math.Pow(10, rapid.Float64Range(-2, 5).Draw(t, "mass power")))
		s.Load.Slope = fmt.Sprintf("%.4f deg", rapid.Float64Range(0, 89.9).Draw(t, "any slope"))
		s.Load.Pull = rapid.SampledFrom(job.Pulls).Draw(t, "pull")
		s.Load.OffLine = fmt.Sprintf("%.4f deg", rapid.Float64Range(0, 79.9).Draw(t, "any off"))
		s.Load.Sunk = rapid.SampledFrom(job.Depths).Draw(t, "any sunk")
		p := Reckon(read(t, s))
		text, err := json.Marshal(p)
		if err != nil {
			t.Fatalf("write: %v", err)
		}
		again, _ := json.Marshal(Reckon(read(t, s)))
		if string(again) != string(text) {
			t.Fatalf("equal cases, unequal plans")
		}
		if p.Decision == Refer && (p.Force != nil || p.Tackle != nil || p.Gear != nil || len(p.Handover) == 0) {
			t.Fatalf("a refer with figures or without a card: %s", text)
		}
	})
}

// Points drawn inside the input ranges must not leave the ranges that come
// out. The seed is fixed, so a failure stays one.
func TestMonteCarloStaysInside(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	c := yard(t, 20)
	c.Load.Pull = "uphill"
	share := bound.Of[bound.Ratio]{Low: 0, Best: 0.3, High: 0.6}
	c.Load.Locked = &share
	for _, pull := range job.Pulls {
		c.Load.Pull = pull
		whole := newSearch(c, view{}).run()
		n := newSearch(c, view{}).n
		for range 2000 {
			p := c
			p.Load.Mass = at(r, c.Load.Mass)
			p.Load.Slope = at(r, c.Load.Slope)
			locked := at(r, *c.Load.Locked)
			p.Load.Locked = &locked
			m := reckonNeed(p, view{})
			for _, in := range []struct {
				name       string
				got, outer Force
			}{
				{"total", m.sum.Total, n.sum.Total}, {"grade", m.sum.Grade, n.sum.Grade}, {"rolling", m.sum.Rolling, n.sum.Rolling},
				{"drag", m.sum.Drag, n.sum.Drag}, {"force", m.force, n.force}, {"static", m.static, n.static},
			} {
				if pull == "level" && in.name != "rolling" && in.name != "drag" {
					continue // a level way spans its slope both ways, whatever the slope
				}
				if in.got.Low < in.outer.Low-1e-6 || in.got.High > in.outer.High+1e-6 {
					t.Fatalf("%s: %s %v leaves %v", pull, in.name, in.got, in.outer)
				}
			}
			st := reckonStrain(p, m, whole[0].rig, view{})
			if st.haul.High > whole[0].s.haul.High+1e-6 || st.haul.Low < whole[0].s.haul.Low-1e-6 {
				t.Fatalf("%s: haul %v leaves %v", pull, st.haul, whole[0].s.haul)
			}
		}
	}
}

func at[Q bound.Quantity](r *rand.Rand, v bound.Of[Q]) bound.Of[Q] {
	return bound.Exactly(Q(float64(v.Low) + r.Float64()*float64(v.High-v.Low)))
}

// A field left out never makes a go of what was none. Left aside: the pins of
// tackle and use, which leave the choice to the plan.
func TestFieldLeftOutIsNeverBetter(t *testing.T) {
	// Worse, and likely all the same: a figure that is told and can't be leaves a plan open where it bears on nothing.
	worse := map[string]string{
		"load.lip.axle_share": "1",
		"load.mass_from":      "", "load.locked": "1", "load.sunk": "cab", "load.belly": "true", "load.side_slope": "18 deg",
		"load.off_line": "30 deg", "load.tow_point.condition": "damaged", "load.holding_point.condition": "damaged", "load.holding_point.kind": "bumper",
		"puller.slope": "40 deg", "puller.side_slope": "30 deg",
		"load.tow_point.kind": "bumper", "load.tow_point.rating": "0.1 t", "load.tow_point.rating_kind": "unmarked",
		"puller.driven": "0.01", "puller.ground": "ice", "puller.hitch": "top-link", "puller.hitch_rating": "0.1 t", "puller.hitch_rating_kind": "breaking", "puller.run": "4 m",
		"puller.hitch_height": "1 m", "puller.axle_height": "20 cm", "puller.front_share": "0.01", "puller.wheelbase": "1 m", "puller.cg_height": "2.5 m", "puller.rollover_frame": "false",
		"distance": "900 m", "reach": "900 m", "holding_reach": "", "lead": "900 m", "crew": "1", "hazards": "edge",
		"anchors[0].alive": "false", "anchors[0].lean": "true", "anchors[0].diameter": "10 cm", "anchors[1].rating": "0.1 t", "anchors[1].rating_kind": "unmarked",
		"gear[0].condition": "damaged", "gear[0].improvised": "true", "gear[0].knots": "reef", "gear[0].rating": "0.1 t", "gear[0].rating_kind": "unmarked",
		"gear[0].length": "5 m", "gear[0].material": "nylon", "gear[1].material": "wire", "gear[1].rating": "0.1 t", "load.holding_point.rating": "0.1 t",
	}
	keys := slices.Sorted(func(yield func(string) bool) {
		for k := range worse {
			if !yield(k) {
				return
			}
		}
	})
	if !reflect.DeepEqual(keys, slices.Compact(slices.Clone(keys))) {
		t.Fatal("keys repeat")
	}
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		if rapid.IntRange(0, 3).Draw(t, "signed for") == 0 { // two checks, so that a third decides
			s = set(t, set(t, s, "site.light", "false"), "site.aid", "false")
		}
		if rapid.IntRange(0, 3).Draw(t, "tracked") == 0 {
			s = set(t, s, "puller.kind", "tracked")
		}
		k := rapid.SampledFrom(keys).Draw(t, "field")
		if k == "load.lip.axle_share" {
			s = set(t, set(t, set(t, s, "load.lip.height", "2 cm"), "load.lip.wheel_radius", "40 cm"), k, "0.3")
		}
		if k == "puller.driven" {
			s = set(t, s, "puller.kind", "wheeled") // tracks drive on the whole weight, and that is said where nobody told it
		}
		to := worse[k]
		if k == "holding_reach" { // as near as one that the load does not pass, and then the rope that is left untold is long enough
			to = fmt.Sprintf("%.3f m", read(t, s).Distance.High.Metres()+0.001)
		}
		bad := set(t, s, k, to)
		out := set(t, bad, k, "")
		for _, before := range []job.Sheet{bad, s} {
			if b, a := decision(t, before), decision(t, out); a == Go && b != Go {
				t.Fatalf("%s left out turned %s into go: %v", k, b, Reckon(read(t, before)).Why)
			}
		}
	})
}
