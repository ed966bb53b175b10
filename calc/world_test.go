package calc

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
)

// A go says that whatever is true of what the crew told, within the spread of
// how they know it, nothing carries more than the plan has for it, and that no
// more than it may. So worlds are drawn in which every figure is one number,
// mostly an end of its spread and each sheave with a friction of its own, and
// the pull is reckoned there without ranges: the sums are written out here
// anew, the tackle is the linear system of [solveRig], and what a piece may
// carry is read off the sheet.
func TestAGoHoldsInEveryWorld(t *testing.T) {
	lone(t)
	goes, draws := 0, 0
	checkMeeting(t, func() bool { return draws >= 50 && goes*50 >= draws }, func(t *rapid.T) {
		draws++
		s := likely(t)
		p := Reckon(read(t, s))
		if p.Decision != Go || p.Tackle.Compound != nil {
			return
		}
		goes++
		for range 40 {
			drawWorld(t, s).hold(t, s, p)
		}
	})
	t.Logf("%d of %d drawn jobs are a go", goes, draws)
}

// likely is a drawn job with gear that may well do, each piece with a name of
// its own.
func likely(t *rapid.T) job.Sheet {
	s := drawn(t)
	q := func(name string, lo, hi float64, unit string) string {
		return fmt.Sprintf("%.4f %s", rapid.Float64Range(lo, hi).Draw(t, name), unit)
	}
	s.Load.Mass, s.Load.Slope, s.Load.SlopeFrom = q("likely mass", 800, 3000, "kg"), q("likely slope", 1, 14, "deg"), "level"
	s.Load.OffLine, s.Load.SideSlope = q("likely off line", 0, 9, "deg"), "1 deg"
	s.Load.TowPoint.Rating, s.Load.HoldingPoint.Rating = q("likely tow", 3, 14, "t"), q("likely hold", 8, 40, "t")
	s.Puller.Mass, s.Puller.Slope, s.Puller.Run, s.Puller.HitchRating = q("likely puller", 3000, 7000, "kg"), q("likely puller's slope", 0, 5, "deg"), "90 m", q("likely hitch", 4, 12, "t")
	s.Anchors[1].Rating = q("likely ring", 10, 40, "t")
	for i := range s.Gear {
		g := &s.Gear[i]
		g.Name = fmt.Sprintf("piece %d", i)
		if g.Kind == "rope" {
			g.Length = "250 m"
		}
		if g.Use == "holding" {
			g.Rating = q("likely holding rope", 10, 40, "t")
		} else {
			g.Rating = q("likely "+g.Name, 3, 14, "t")
		}
	}
	return s
}

// world is one way it may really be. SI throughout, angles in radians.
type world struct {
	weight, slope, rolling, sliding, locked, mire, off float64

	pullerWeight, pullerSlope, driven, grip, pullerRolling float64

	eta           []float64 // of each sheave from the puller on
	slack, length float64   // of the holding line when the load runs
	holdStretch   float64   // at its breaking strength
	holdOver      float64   // that strength over its working limit
}

const g0 = 9.80665 // CGPM 1901

func drawWorld(t *rapid.T, s job.Sheet) world {
	in := func(name string, lo, hi float64) float64 {
		switch rapid.IntRange(0, 2).Draw(t, name+" at") {
		case 0:
			return lo
		case 1:
			return hi
		}
		return rapid.Float64Range(lo, hi).Draw(t, name)
	}
	row := func(name string, v bound.Of[bound.Ratio], _ handbook.Row, ok bool) float64 {
		if !ok {
			t.Fatalf("%s is in no table", name)
		}
		return in(name, float64(v.Low), float64(v.High))
	}
	around := func(name, told string, spread float64) float64 {
		v := number(t, told)
		return in(name, v-spread, v+spread)
	}
	massSpread, _, _ := handbook.MassSpread(s.Load.MassFrom)
	pullerSpread, _ := handbook.MachineMassSpread()
	level, _, _ := handbook.SlopeSpread("level")
	mass, puller := number(t, s.Load.Mass), number(t, s.Puller.Mass)
	w := world{
		weight: g0 * around("mass", s.Load.Mass, mass*float64(massSpread)),
		slope:  math.Max(0, around("slope", s.Load.Slope, level.Degrees())) * math.Pi / 180,
		locked: *s.Load.Locked, off: number(t, s.Load.OffLine) * math.Pi / 180,
		pullerWeight: g0 * around("puller", s.Puller.Mass, puller*float64(pullerSpread)), driven: *s.Puller.Driven,
	}
	ground, under := handbook.Ground(s.Load.Ground), handbook.Ground(s.Puller.Ground)
	v, r, ok := handbook.Rolling(ground)
	w.rolling = row("rolling", v, r, ok)
	v, r, ok = handbook.Sliding(ground)
	w.sliding = row("sliding", v, r, ok)
	if s.Load.Sunk != "none" {
		v, r, ok = handbook.Mire(s.Load.Sunk)
		w.mire = row("mire", v, r, ok)
	}
	v, r, ok = handbook.Grip(under)
	w.grip = row("grip", v, r, ok)
	v, r, ok = handbook.Rolling(under)
	w.pullerRolling = row("puller's rolling", v, r, ok)

	stands := number(t, s.Puller.Slope)
	switch spread := level.Degrees(); s.Puller.Pull {
	case "uphill":
		w.pullerSlope = math.Max(0, in("puller's slope", stands-spread, stands+spread))
	case "downhill":
		w.pullerSlope = -math.Max(0, in("puller's slope", stands-spread, stands+spread))
	default:
		w.pullerSlope = in("puller's slope", -spread, spread)
	}
	w.pullerSlope *= math.Pi / 180
	v, r, ok = handbook.SheaveEfficiency("plain")
	for i := range 8 {
		w.eta = append(w.eta, row(fmt.Sprint("sheave ", i), v, r, ok))
	}
	checked, _ := handbook.SlackChecked()
	shortest, _ := handbook.HoldingShortest()
	w.slack = in("slack", 0, checked.Metres())
	nearest, reach := shortest.Metres(), number(t, s.Reach)
	if s.HoldReach != "" {
		reach = number(t, s.HoldReach)
		nearest = math.Max(nearest, reach-number(t, s.Distance))
	}
	w.length = in("holding line", nearest, reach)
	v, r, ok = handbook.StretchAtBreak("polyester")
	w.holdStretch = row("stretch", v, r, ok)
	w.holdOver = in("breaking over working", 2, 12)
	return w
}

// number reads the number of a quantity that [drawn] or [likely] wrote.
func number(t *rapid.T, told string) float64 {
	var v float64
	var unit string
	if _, err := fmt.Sscanf(told, "%f %s", &v, &unit); err != nil {
		t.Fatalf("%q: %v", told, err)
	}
	switch unit {
	case "kg", "m", "deg":
		return v
	case "t":
		return 1000 * v
	case "cm":
		return v / 100
	case "mm":
		return v / 1000
	}
	t.Fatalf("%q has an unknown unit", told)
	return 0
}

// need is what the load takes along the line.
func (w world) need() float64 {
	sin, cos := math.Sincos(w.slope)
	resists := math.Max(w.weight*cos*(w.rolling*(1-w.locked)+w.sliding*w.locked), w.weight*w.mire)
	return (w.weight*sin + resists) / math.Cos(w.off)
}

// gives is what the puller pulls before it slips.
func (w world) gives() float64 {
	sin, cos := math.Sincos(w.pullerSlope)
	return w.pullerWeight * ((w.grip*w.driven-w.pullerRolling)*cos - sin)
}

// hold fails where something carries more in this world than it may.
func (w world) hold(t *rapid.T, s job.Sheet, p Plan) {
	t.Helper()
	grade, force := w.weight*math.Sin(w.slope), w.need()
	from := tackle.Moving
	if p.Tackle.HaulFrom == tackle.Standing.String() {
		from = tackle.Standing
	}
	r := tackle.Reeving{Parts: p.Tackle.Parts, From: from}
	runs := solveRig(t, r, p.Tackle.LeadBlocks, force, func(i int) float64 { return w.eta[i] })
	haul, most, ends := runs[0], 0.0, -runs[0]
	for _, f := range runs {
		most = math.Max(most, f)
		ends += 2 * f // a run pulls at both of its ends, the haul line only here
	}
	standing := ends - force

	psin, pcos := math.Sincos(w.pullerSlope)
	height := number(t, s.Puller.HitchHeight)
	tips := w.pullerWeight * (*s.Puller.FrontShare*number(t, s.Puller.Wheelbase)*pcos - number(t, s.Puller.CGHeight)*psin) / height
	least := p.Puller.Available.Low.Newtons()
	w.within(t, "haul", haul, p.Tackle.Haul.High.Newtons(), least)
	w.within(t, "puller's least", least, min(w.gives(), tips), math.Inf(1))

	rated := func(told string) float64 { return g0 * number(t, told) }
	arrest := 0.0
	if p.Holding.Needed {
		// What is stamped is a working limit; the line breaks at two to twelve times that
		// (CI 1401-06), and is the stiffer the more; at no more than the strongest
		// polyester rope of its thickness, which is doubted by a fifth.
		rope := pieceOf(t, s, p, "holding")
		thick := 1000 * number(t, rope.Diameter)
		stiff := min(w.holdOver*rated(rope.Rating), 1.2*330*thick*thick) / w.holdStretch
		arrest = grade + math.Sqrt(grade*grade+2*grade*w.slack*stiff/w.length)
	}
	loads := map[string]float64{
		"haul": most, "hitch": haul, "tow-point": force, "moving-block": force, "load": force, "standing-block": standing, "anchor": standing,
		"holding": arrest, "holding-point": arrest,
	}
	for _, m := range p.Gear {
		load, ok := loads[m.Use]
		if !ok {
			t.Fatalf("the test knows no %s", m.Use)
		}
		var may float64
		switch m.Use {
		case "tow-point":
			may = rated(s.Load.TowPoint.Rating)
		case "hitch":
			may = rated(s.Puller.HitchRating)
		case "holding-point":
			may = rated(s.Load.HoldingPoint.Rating)
		default:
			may = rated(pieceOf(t, s, p, m.Use).Rating)
		}
		w.within(t, m.Use, load, m.Tension.Newtons(), may)
	}
	for _, h := range p.Anchors {
		load, may := arrest, rated(s.Anchors[1].Rating)
		if h.Use == "standing" {
			load, may = standing, standingMay(t, s.Anchors[0])
		}
		w.within(t, h.Use+" anchor", load, h.Force.Newtons(), may)
	}
}

// standingMay is what a rated anchor may carry, or a tree: by common practice one
// tonne-force from 30 cm, two from 45 cm.
func standingMay(t *rapid.T, a job.AnchorSheet) float64 {
	if a.Kind == "rated" {
		return g0 * number(t, a.Rating)
	}
	switch d := number(t, a.Diameter); {
	case d >= 0.45:
		return 2000 * g0
	case d >= 0.3:
		return 1000 * g0
	}
	return 0
}

// within fails unless a load is no more than the plan has for it, and that no
// more than it may be.
func (w world) within(t *rapid.T, what string, load, has, may float64) {
	t.Helper()
	const round = 1 + 1e-9
	if load > has*round || has > may*round {
		t.Fatalf("a go with %.0f N for the %s, where %.0f N comes to it and %.0f N is what it may take: %+v", has, what, load, may, w)
	}
}

// pieceOf finds the piece of the sheet that the plan put in one place.
func pieceOf(t *rapid.T, s job.Sheet, p Plan, use string) job.GearSheet {
	t.Helper()
	for _, m := range p.Gear {
		for _, g := range s.Gear {
			if m.Use == use && m.Name == g.Name {
				return g
			}
		}
	}
	t.Fatalf("the plan has no piece for %s", use)
	return job.GearSheet{}
}
