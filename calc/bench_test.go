package calc

import (
	"fmt"
	"testing"

	"linetender/calc/job"
)

// yard is a job with so many pieces of gear lying about, three pullers and
// six anchors, everything told.
func yard(tb testing.TB, gear int) job.Case {
	tb.Helper()
	yes, no, one, share, crew := true, false, 1, 0.4, 5
	zero := 0.0
	none := []string{}
	s := job.Sheet{
		Load: job.LoadSheet{
			Mass: "3200 kg", MassFrom: "weighed", Slope: "level 10 in, gap 2 in", Pull: "uphill", Ground: "grass",
			Locked: &zero, Sunk: "none", Lip: job.LipSheet{None: true}, OffLine: "0 deg", Belly: &no, SideSlope: "2 deg",
			TowPoint:     &job.TowPointSheet{Kind: "frame", Rating: "8 t", RatingKind: "working"},
			HoldingPoint: &job.TowPointSheet{Kind: "frame", Rating: "12 t", RatingKind: "working"},
		},
		Distance: "10 m", Reach: "25 m", Lead: "10 m", Crew: &crew, Hazards: &none,
	}
	for i := range 3 {
		s.Pullers = append(s.Pullers, job.PullerSheet{
			Name: fmt.Sprintf("tractor %d", i), Kind: "wheeled", Mass: fmt.Sprintf("%d kg", 1500+500*i), Driven: ptr(1.0), Slope: "1 deg", SlopeFrom: "level",
			Pull: "uphill", Ground: "gravel", HitchRating: "4 t", HitchRatingKind: "working", Run: "60 m", Hitch: "drawbar", HitchHeight: "40 cm", AxleHeight: "60 cm",
			FrontShare: &share, Wheelbase: "2 m", CGHeight: "80 cm",
		})
	}
	for i := range 6 {
		s.Anchors = append(s.Anchors, job.AnchorSheet{Kind: "rated", Name: fmt.Sprintf("ring %d", i), Rating: fmt.Sprintf("%d t", 4+2*i), RatingKind: "working"})
	}
	for i := range gear {
		g := job.GearSheet{Name: fmt.Sprintf("piece %d", i), RatingKind: "working", Rating: fmt.Sprintf("%.2f t", 3+0.1*float64(i%90)), Condition: "good", Improvised: &no}
		switch i % 5 {
		case 0:
			g.Kind, g.Material, g.Diameter, g.Length, g.Knots = "rope", "polyester", "28 mm", fmt.Sprintf("%d m", 60+10*(i%13)), &none
		case 1:
			g.Kind, g.Sheaves = "block", ptr(1+i%3)
		case 2, 3:
			g.Kind = "shackle"
		case 4:
			g.Kind, g.SlingAngle = "sling", "0 deg"
		}
		s.Gear = append(s.Gear, g)
	}
	_, _ = yes, one
	c, err := s.Case()
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

func ptr[T any](v T) *T { return &v }

// BenchmarkSearch reports how long the choice among all rigs takes with 30
// pieces, and how many times longer with 300: a quadratic growth is 100; then
// how many times longer the whole plan takes, which searches again for all
// that might be measured, and the decision alone.
func BenchmarkSearch(b *testing.B) {
	c, big := yard(b, 30), yard(b, 300)
	var few, many float64
	b.Run("30 pieces", func(b *testing.B) {
		for b.Loop() {
			newSearch(c, view{}).run()
		}
		few = float64(b.Elapsed()) / float64(b.N)
	})
	b.Run("300 pieces", func(b *testing.B) {
		for b.Loop() {
			newSearch(big, view{}).run()
		}
		many = float64(b.Elapsed()) / float64(b.N)
		b.ReportMetric(many/few, "×30-pieces")
	})
	b.Run("whole plan", func(b *testing.B) {
		for b.Loop() {
			Reckon(c)
		}
		b.ReportMetric(float64(b.Elapsed())/float64(b.N)/few, "×search")
	})
	b.Run("decision alone", func(b *testing.B) {
		for b.Loop() {
			Decide(c)
		}
		b.ReportMetric(float64(b.Elapsed())/float64(b.N)/few, "×search")
	})
}
