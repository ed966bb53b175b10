package picture

import (
	"fmt"
	"math/rand/v2"

	"linetender/calc/job"
)

// randomSheet is a job of any kind that a sheet takes: every way to pull, any
// tackle, many or no lead blocks, pieces missing or named with rubbish, crews
// and pullers of all kinds. Equal seeds give equal sheets.
func randomSheet(seed uint64) job.Sheet {
	r := rand.New(rand.NewPCG(seed, 1))
	word := func(of ...string) string { return of[r.IntN(len(of))] }
	q := func(lo, hi float64, unit string) string { return fmt.Sprintf("%.1f %s", lo+r.Float64()*(hi-lo), unit) }
	some := func(share float64) bool { return r.Float64() < share }
	yes, no, none := true, false, []string{}
	names := []string{"", "", "old one from the blue barn", `A & B <"tag">`, "Süß 24 mm", "averylongnamewithnospacesinitatallthatgoesonandonandonandonandonandon"}
	n := func(v int) *int { return &v }
	steep := 13.0
	if seed%4 == 1 {
		steep = 45 // too steep is referred, so that few of these are drawn
	}
	s := job.Sheet{Load: job.LoadSheet{
		Mass: q(300, 4500, "kg"), MassFrom: word(job.MassFroms...), Slope: q(0, steep, "deg"), SlopeFrom: word(job.SlopeFroms...),
		Pull: word(job.Pulls...), Ground: word("gravel", "wet grass", "mud", "sand", "firm soil", "asphalt"), Sunk: word("", "none", "none", "hub"),
	}}
	if some(0.7) {
		s.Load.TowPoint = &job.TowPointSheet{Kind: word("rated-eye", "frame"), Rating: q(1, 12, "t"), RatingKind: "working", Condition: "good"}
		s.Distance, s.Reach, s.Lead = q(2, 30, "m"), q(10, 60, "m"), q(4, 40, "m")
		s.Load.Lip = job.LipSheet{None: true}
		s.Load.Belly, s.Load.OffLine, s.Load.SideSlope = &no, q(0, 11, "deg"), q(0, 5, "deg")
	}
	if some(0.5) {
		s.Load.Lip = job.LipSheet{Height: q(5, 20, "cm"), WheelRadius: "35 cm"}
	}
	if some(0.8) {
		p := job.PullerSheet{Kind: word(job.PullerKinds...), Name: word(names...), Ground: "gravel"}
		if some(0.8) {
			p.Mass, p.Slope, p.SlopeFrom, p.Pull = q(800, 9000, "kg"), q(0, 30, "deg"), "level", word(job.Pulls...)
			share := 1.0
			p.Driven, p.Rating, p.RatingKind, p.People, p.Run = &share, q(0.3, 5, "t"), "working", n(1+r.IntN(12)), q(3, 60, "m")
			p.Hitch, p.HitchRating, p.HitchRatingKind = "drawbar", q(1, 8, "t"), "working"
		}
		s.Puller = &p
	}
	if some(0.7) {
		s.Tackle = &job.TackleSheet{}
		if some(0.8) {
			s.Tackle.Parts = n(1 + r.IntN(12))
			s.Tackle.HaulFrom = word("", "standing", "moving")
		}
		if some(0.6) {
			s.Tackle.LeadBlocks = n(r.IntN(3))
		}
		if some(0.5) {
			s.Tackle.LeadAngle = q(0, 178, "deg")
		}
	}
	rated := func(kind, use string) job.GearSheet {
		g := job.GearSheet{Kind: kind, Use: use, Name: word(names...), Rating: q(2, 16, "t"), RatingKind: word("working", "working", "working", "breaking", ""), Condition: word("good", "good", "good", "good", "good", ""), Improvised: &no}
		if kind == "rope" {
			g.Material, g.Length, g.Diameter, g.Knots = "polyester", q(20, 200, "m"), "24 mm", &none
		}
		if kind == "block" {
			g.Sheaves, g.Count = n(1+r.IntN(6)), n(1+r.IntN(3))
		}
		return g
	}
	for range r.IntN(14) {
		s.Gear = append(s.Gear, rated(word(job.GearKinds...), word("", "", "", "haul", "holding", "moving-block", "standing-block", "lead-block", "anchor", "load")))
	}
	for range r.IntN(5) {
		s.Anchors = append(s.Anchors, job.AnchorSheet{Kind: word("tree", "rated", "vehicle"), Use: word("", "", "standing", "lead", "holding", "puller"), Name: word(names...),
			Diameter: "0.4 m", Alive: &yes, Lean: &no, Mass: "3 t", Rating: q(1, 20, "t"), RatingKind: "working"})
	}
	if some(0.9) {
		s.Crew = n(1 + r.IntN(11))
	}
	if some(0.95) {
		s.Hazards = &none
	}
	return s
}

// weakSheet is a job that only a tackle on a tackle solves.
func weakSheet(seed uint64) job.Sheet {
	s := randomSheet(seed)
	yes, no, none := true, false, []string{}
	n := func(v int) *int { return &v }
	s.Load.Mass, s.Load.Slope, s.Load.Pull, s.Load.Ground = "6 t", "15 deg", "uphill", "firm soil"
	s.Hazards, s.Tackle = &none, nil
	s.Puller = &job.PullerSheet{Kind: "people", People: n(5), Ground: "gravel", Slope: "0 deg", Pull: "level", Run: "40 m"}
	s.Gear = []job.GearSheet{
		{Kind: "rope", Use: "haul", Rating: "9 t", RatingKind: "working", Material: "polyester", Length: "400 m", Diameter: "24 mm", Knots: &none, Condition: "good", Improvised: &no, Count: n(2)},
		{Kind: "block", Rating: "12 t", RatingKind: "working", Condition: "good", Improvised: &no, Count: n(8), Sheaves: n(3)},
		{Kind: "shackle", Rating: "12 t", RatingKind: "working", Condition: "good", Improvised: &no, Count: n(12)},
	}
	s.Anchors = []job.AnchorSheet{{Kind: "rated", Rating: "20 t", RatingKind: "working"}, {Kind: "rated", Rating: "20 t", RatingKind: "working"}, {Kind: "rated", Rating: "20 t", RatingKind: "working", Alive: &yes}}
	return s
}
