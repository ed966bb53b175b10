package calc

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/job"
)

// lying is what lies there for one tackle of two parts from the standing block, of each
// kind with the working limit of each piece in tonnes.
type lying struct{ ropes, blocks, shackles, rings []float64 }

func drawLying(t *rapid.T) lying {
	some := func(name string, least, most, halves int) []float64 {
		return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 {
			return float64(rapid.IntRange(1, halves).Draw(t, "half tonnes"))/2 + float64(rapid.IntRange(0, 4999).Draw(t, "tenth kg"))/10000
		}), least, most).Draw(t, name)
	}
	// No rope is stamped with more than its thickness is good for: it would count less.
	return lying{some("ropes", 1, 3, 5), some("blocks", 2, 4, 60), some("shackles", 2, 4, 60), some("rings", 1, 3, 60)}
}

// laidOut puts a yard in place of what the plain job has, nothing of it set down for a use.
func (y lying) laidOut(s job.Sheet) job.Sheet {
	no, none := false, []string{}
	held := s.Gear[1]
	s.Gear = []job.GearSheet{held}
	add := func(kind string, tonnes []float64, more func(g *job.GearSheet)) {
		for i, v := range tonnes {
			g := job.GearSheet{Kind: kind, Name: fmt.Sprintf("%s %d", kind, i), Rating: fmt.Sprintf("%.4f t", v), RatingKind: "working", Condition: "good", Improvised: &no}
			more(&g)
			s.Gear = append(s.Gear, g)
		}
	}
	add("rope", y.ropes, func(g *job.GearSheet) {
		g.Material, g.Diameter, g.Length, g.Knots = "polyester", "20 mm", "120 m", &none
	})
	add("block", y.blocks, func(g *job.GearSheet) { g.Diameter = "50 cm" })
	add("shackle", y.shackles, func(g *job.GearSheet) { g.SideAngle = "0 deg" })
	ring := s.Anchors[1]
	s.Anchors = []job.AnchorSheet{ring}
	for i, v := range y.rings {
		s.Anchors = append(s.Anchors, job.AnchorSheet{Kind: "rated", Name: fmt.Sprintf("ring %d", i), Rating: fmt.Sprintf("%.4f t", v), RatingKind: "working"})
	}
	sure := []string{"gear[0].rating"}
	for i := range s.Gear {
		sure = append(sure, fmt.Sprintf("gear[%d].rating", i))
	}
	s.Sure = &sure
	return s
}

// put is what one place must carry.
type put struct{ tension, peak float64 }

// badness is how bad a piece is in a place: one that fails is worse than one that takes a
// signature, and that is worse than any that takes none; of each the share that is used.
func (p put) badness(tonnes float64) float64 {
	limit := tonnes * 1000 * 9.80665
	used, most := p.tension/limit, p.peak/(2*limit)
	switch {
	case used > 1 && most > 1:
		return 2000 + used
	case used > 1:
		return 1000 + used
	case most > 1:
		return 1000 + most
	case most > 0.5:
		return 10 + max(used, most)
	}
	return max(used, most)
}

// best tries every placement and returns the badness of the worst piece of the best one.
func (y lying) best(puts map[string]put) float64 {
	least := math.Inf(1)
	for _, rope := range y.ropes {
		for _, ring := range y.rings {
			for a, moving := range y.blocks {
				for b, standing := range y.blocks {
					for c, load := range y.shackles {
						for d, anchor := range y.shackles {
							if a == b || c == d {
								continue
							}
							least = min(least, max(puts["haul"].badness(rope), puts["standing"].badness(ring), puts["moving-block"].badness(moving),
								puts["standing-block"].badness(standing), puts["load"].badness(load), puts["anchor"].badness(anchor)))
						}
					}
				}
			}
		}
	}
	return least
}

// Of all placements of what lies there the plan's is one whose most strained piece is
// strained least, where any passes: each is tried here, with no help of the search.
func TestNoPlacementIsBetter(t *testing.T) {
	base := changed(t, "tackle.haul_from=standing; load.tow_point.kind=rated-eye; load.tow_point.rating=40 t; load.holding_point.rating=40 t; "+
		"gear[1].rating=40 t; anchors[1].rating=40 t; puller.hitch_rating=40 t; puller.mass=1.2 t; distance=6 m")
	passes, signed, fails := 0, 0, 0
	checkMeeting(t, func() bool { return min(passes, signed, fails) >= 20 }, func(t *rapid.T) {
		y := drawLying(t)
		s := set(t, base, "load.mass", fmt.Sprintf("%.4f kg", rapid.Float64Range(300, 1500).Draw(t, "mass")))
		in := newSearch(read(t, y.laidOut(s)), view{})
		o := in.best()
		puts, got := map[string]put{}, 0.0
		for _, at := range o.path.seats {
			if !slices.Contains([]string{"haul", "moving-block", "standing-block", "load", "anchor", "standing"}, at.use) {
				continue
			}
			if at.peak == nil || at.working == nil {
				t.Fatalf("%s: not all is known", at.use)
			}
			puts[at.use] = put{at.tension.Newtons(), at.peak.Newtons()}
			got = max(got, puts[at.use].badness(at.working.Newtons()/9806.65))
		}
		if len(puts) != 6 {
			t.Fatalf("of six places %d are filled: %v", len(puts), puts)
		}
		want := y.best(puts)
		switch {
		case want >= tierFails:
			fails++
		case want >= 10:
			signed++
		default:
			passes++
		}
		if want >= tierFails { // nothing passes whole; as much as can pass then does, and the worst is no measure
			if got < tierFails {
				t.Fatalf("the plan's worst is %v, and no placement passes: %v", got, want)
			}
			return
		}
		if got > want*(1+1e-5) {
			t.Fatalf("the worst of the plan's is %v, of the best placement %v: %v, with %v", got, want, puts, y)
		}
		if got < want*(1-1e-5) {
			t.Fatalf("the plan's %v is better than any placement, %v: a piece is in two places", got, want)
		}
	})
}
