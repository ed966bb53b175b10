package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// Each common mistake is answered where the figures show it, and only there.
func TestNotes(t *testing.T) {
	mixed := func(s *job.Sheet) { s.Gear[0].Rating = "60 kN" }
	for _, c := range []struct {
		name, says string
		change     func(s *job.Sheet)
		there      bool
	}{
		{"parts take friction", "do not make", nil, true},
		{"no parts, no friction", "do not make", func(s *job.Sheet) { s.Tackle = &job.TackleSheet{Parts: ptr(1)} }, false},
		{"the tow point carries all", "tow point", nil, true},
		{"an anchor carries the sum", "sum of its lines", func(s *job.Sheet) { s.Tackle = &job.TackleSheet{Parts: ptr(3)} }, true},
		{"weight is not pull", "not what it pulls", nil, true},
		{"breaking is not working", "breaks at", func(s *job.Sheet) {
			s.Tackle = &job.TackleSheet{Parts: ptr(2)}
			for i := 2; i < 4; i++ {
				s.Gear[i].Rating, s.Gear[i].RatingKind = "3 t", "breaking"
			}
		}, true},
		{"working is told as such", "breaks at", nil, false},
		{"loops do not add", "counted as one", func(s *job.Sheet) { s.Gear[4].Count, s.Gear[4].Use = ptr(2), "load" }, true},
		{"shackles that lie there", "counted as one", func(s *job.Sheet) { s.Gear[4].Count = ptr(3) }, false},
		{"a steep level is no board", "tangent", func(s *job.Sheet) { s.Load.Slope = "level 48 in, gap 18 in" }, true},
		{"a steep board is no level", "tangent", func(s *job.Sheet) { s.Load.Slope = "board 48 in, rise 18 in" }, true},
		{"near level they agree", "tangent", func(s *job.Sheet) { s.Load.Slope = "level 48 in, gap 4 in" }, false},
		{"two systems", "Ratings here", mixed, true},
		{"one system", "Ratings here", nil, false},
	} {
		s := plainGo()
		if c.change != nil {
			c.change(&s)
		}
		p := Reckon(read(t, s))
		if got := slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, c.says) }); got != c.there {
			t.Errorf("%s: said is %v, want %v, in %s:\n%s", c.name, got, c.there, p.Decision, strings.Join(p.Notes, "\n"))
		}
	}
}

// plainGo is a job in two parts that passes with room to spare.
func plainGo() job.Sheet {
	no, yes, none := false, true, []string{}
	rated := func(kind, use, rating string) job.GearSheet {
		return job.GearSheet{Kind: kind, Use: use, Rating: rating, RatingKind: "working", Condition: "good", Improvised: &no}
	}
	rope := func(use, rating string) job.GearSheet {
		g := rated("rope", use, rating)
		g.Material, g.Diameter, g.Length, g.Knots = "polyester", "28 mm", "120 m", &none
		return g
	}
	block := rated("block", "", "6 t")
	block.Diameter = "25 cm"
	return job.Sheet{
		Load: job.LoadSheet{
			Mass: "2000 kg", MassFrom: "weighed", Slope: "level 48 in, gap 9 in", Pull: "uphill", Ground: "grass", Locked: ptr(0.0), Sunk: "none",
			Lip: job.LipSheet{None: true}, OffLine: "0 to 0 deg", Belly: &no, SideSlope: "2 deg",
			TowPoint:     &job.TowPointSheet{Kind: "frame", Rating: "8 t", RatingKind: "working", Condition: "good"},
			HoldingPoint: &job.TowPointSheet{Kind: "frame", Rating: "20 t", RatingKind: "working", Condition: "good"},
		},
		Distance: "8 m", Reach: "25 m", HoldReach: "25 m", Lead: "10 m", Crew: ptr(5), Hazards: &none,
		Sure: &[]string{"gear[0].rating", "gear[1].rating"}, // the lines are thinner than their stamps want
		Puller: &job.PullerSheet{
			Kind: "wheeled", Mass: byEnds(1600), Driven: ptr(1.0), Slope: "0 deg", SlopeFrom: "level", Pull: "level", Ground: "gravel", HitchRating: "4 t", HitchRatingKind: "working", Run: "40 m",
			Hitch: "drawbar", HitchHeight: "40 cm", AxleHeight: "60 cm", FrontShare: ptr(0.4), Wheelbase: "2 m", CGHeight: "80 cm", Rollover: &yes, SideSlope: "1 deg",
		},
		Anchors: []job.AnchorSheet{
			{Kind: "rated", Use: "standing", Rating: "8 t", RatingKind: "working"},
			{Kind: "rated", Use: "holding", Rating: "20 t", RatingKind: "working"},
		},
		Gear: []job.GearSheet{
			rope("haul", "5 t"), rope("holding", "15 t"), block, block,
			rated("shackle", "", "6 t"), rated("shackle", "", "6 t"),
		},
	}
}

// byEnds tells the mass of a machine by both its ends, a twentieth either way,
// as one that was weighed with fuel and driver on it and off it.
func byEnds(kg float64) string { return fmt.Sprintf("%g to %g kg", 0.95*kg, 1.05*kg) }

// Pulled level the load goes across the slope that was told: its grade is only
// what is not known of it, but it may tip by all of it and roll by all of it.
func TestPulledLevel(t *testing.T) {
	s := plainGo()
	s.Load.Pull, s.Load.Slope, s.Load.SlopeFrom = "level", "12 deg", "level"
	c := read(t, s)
	n := reckonNeed(c, view{})
	one := unit.Degrees(1).Sin()
	if got, want := n.sum.Grade.High.Newtons(), unit.Weight(c.Load.Mass.High).Newtons()*one; math.Abs(got-want) > 1e-6 {
		t.Errorf("grade is %v, want %v", got, want)
	}
	if got, want := n.static.High.Newtons(), unit.Weight(c.Load.Mass.High).Newtons()*unit.Degrees(13).Sin(); math.Abs(got-want) > 1e-6 {
		t.Errorf("held at rest is %v, want %v", got, want)
	}
	p := Reckon(c)
	if !slices.Contains(p.SignOffs, "L3") {
		t.Errorf("a side slope of 13 deg asks no signature: %v", p.SignOffs)
	}
}

// inLine is s with every shackle told to be pulled in its line.
func inLine(s job.Sheet) job.Sheet {
	for i := range s.Gear {
		if s.Gear[i].Kind == "shackle" {
			s.Gear[i].SideAngle = "0 deg"
		}
	}
	return s
}
