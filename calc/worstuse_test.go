package calc

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// worstUse is the most that any piece of a rig is used, of what it may carry or at
// the puller's most of what nobody can sign past, whichever is more.
func worstUse(o weighed) float64 {
	w := 0.0
	for _, t := range o.path.seats {
		if t.working != nil && t.tension > 0 {
			w = max(w, float64(t.tension)/float64(*t.working))
		}
		if t.peak != nil && t.breaks != nil {
			w = max(w, float64(*t.peak)/float64(*t.breaks)/float64(t.peakMost()))
		}
	}
	return w
}

// Of the ways to rope a job that come out alike the one is taken whose worst use
// ratio is the smallest, the puller's most among it: every number of parts from
// either block is tried here. A straight pull has the smaller peaks.
func TestTheSmallestWorstUseIsTaken(t *testing.T) {
	straight, rove := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		if rapid.Bool().Draw(t, "strong") {
			s.Puller.Mass = rapid.SampledFrom([]string{"3 t", "5 t", "8 t"}).Draw(t, "puller")
		}
		if rapid.Bool().Draw(t, "heavy gear") {
			for i := range s.Gear {
				s.Gear[i].Rating = "14 t"
				if s.Gear[i].Kind == "rope" {
					s.Gear[i].Diameter, s.Gear[i].Length = "50 mm", "200 m"
				}
			}
			s.Load.TowPoint.Rating, s.Puller.HitchRating = "14 t", "14 t"
			s.Anchors[0] = job.AnchorSheet{Kind: "rated", Use: "standing", Rating: "14 t", RatingKind: "working"}
		}
		c := read(t, s)
		q := newSearch(c, view{})
		took := q.run()[0]
		if took.v.decision == NoGo || took.v.decision == Refer || took.rig.compound() {
			return
		}
		took = q.weigh(took.rig, took.power)
		for n := 1; n <= 6; n++ {
			for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
				r := rig{first: tackle.Reeving{Parts: n, From: from}, leads: q.leads()}
				if n == 1 && from == tackle.Standing || !canRig(c, r) {
					continue
				}
				o := q.weigh(r, took.power)
				if o.v.decision != took.v.decision || o.v.blocks != took.v.blocks || len(o.v.signOffs) != len(took.v.signOffs) || len(o.path.missing) != len(took.path.missing) ||
					tier(o.worst) != tier(took.worst) {
					continue
				}
				a, b := worstUse(took), worstUse(o)
				if took.rig.straight() && !r.straight() {
					straight++
				} else if r.straight() {
					rove++
				}
				if a > b+1e-9 {
					t.Fatalf("%+v works at %v, and %+v at %v", took.rig, a, r, b)
				}
				if math.Abs(a-b) < 1e-9 && n < took.rig.parts() {
					t.Fatalf("%+v is as good as %+v with fewer parts", r, took.rig)
				}
			}
		}
	})
	if straight == 0 {
		t.Errorf("straight was taken %d times before a tackle, and a tackle %d times before it", straight, rove)
	}
}

// A line of which something is not known is used alike in both rigs; what else carries
// them is used harder in the one, and the other is taken.
func TestWhatIsNotKnownHidesNoUse(t *testing.T) {
	force := func(kn float64) *unit.Force { return new(unit.Kilonewtons(kn)) }
	rig := func(line, block float64) path {
		return path{seats: []seat{
			{tension: *force(line), working: force(100), hitchOpen: true},
			{tension: *force(20), working: force(100), peak: force(block), breaks: force(100)},
		}}
	}
	if hard, easy := rig(25.41, 74), rig(25.42, 54); !(easy.used() < hard.used()) {
		t.Errorf("with a block at 54 %% it is used %v, with one at 74 %% %v", easy.used(), hard.used())
	}
}
