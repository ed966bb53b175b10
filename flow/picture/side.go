package picture

import (
	"math"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// ground is a slope as it is drawn: from its left end, u along it to the
// right, n away from it upward.
type ground struct {
	at   Point
	u, n Point
	long float64
}

func (g ground) on(along, up float64) Point { return g.at.along(g.u, along).along(g.n, up) }

// slopeOf is the signed drawn angle, positive when the ground rises to the right.
func slopeOf(a unit.Angle, pull string) float64 {
	switch pull {
	case "uphill":
		return a.Radians()
	case "downhill":
		return -a.Radians()
	}
	return 0
}

// lay draws a slope at its true angle as long as width and height allow, with
// room above it for what stands on it, and the angle at its lower end.
func (s *sketch) lay(part string, angle, width, height, room float64, dashed bool, label string) ground {
	l := width / math.Cos(angle)
	if h := math.Abs(math.Sin(angle)); l*h > height {
		l = height / h
	}
	rise := l * math.Sin(angle)
	s.y += room + max(0, rise)
	g := ground{at: Point{margin, s.y}, u: Point{math.Cos(angle), -math.Sin(angle)}, n: Point{-math.Sin(angle), -math.Cos(angle)}, long: l}
	foot := g.at
	if angle < 0 {
		foot = g.on(l, 0)
		s.y = foot.Y
	}
	s.add(Op{Kind: Line, Part: part, Pen: Ink, Stroke: 5, Dashed: dashed, At: []Point{g.at, g.on(l, 0)}})
	if math.Abs(angle) > 0.001 {
		run, from, to := min(240, l*math.Cos(angle)), 0.0, angle*180/math.Pi
		if angle < 0 {
			run, from, to = -run, 180+to, 180
		}
		s.dashed("level", Faint, 3, foot, Point{foot.X + run, foot.Y})
		s.add(Op{Kind: Arc, Part: "angle", Pen: Ink, Stroke: 3, At: []Point{foot}, Radius: math.Abs(run) * 0.75, From: min(from, to), To: max(from, to)})
	}
	s.y += 50
	s.text("", Start, SmallText, true, Point{margin, s.y}, label)
	return g
}

// car draws a body on wheels, or on a track, from along to along+long.
func (s *sketch) car(part string, g ground, along, long float64, track bool) {
	s.shape(part, Ink, Page, g.on(along, 26), g.on(along+long, 26), g.on(along+long, 80), g.on(along+long*0.62, 80), g.on(along+long*0.5, 112), g.on(along+long*0.12, 112), g.on(along, 80))
	if track {
		s.shape("", Ink, Faint, g.on(along+10, 0), g.on(along+long-10, 0), g.on(along+long-2, 18), g.on(along+long-12, 36), g.on(along+12, 36), g.on(along+2, 18))
		return
	}
	for _, k := range []float64{0.22, 0.78} {
		s.disc("", Ink, Faint, g.on(along+long*k, 22), 22)
	}
}

// stake draws an anchor: a stake through the ground.
func (s *sketch) stake(part string, g ground, along, high float64) {
	s.line(part, Ink, 12, g.on(along, -22), g.on(along, high))
}

// side draws the load on its slope with its tackle and holding line.
func (s *sketch) side() {
	s.section(say("side"))
	angle := slopeOf(s.c.Load.Slope.Best, s.c.Load.Pull)
	way := say(s.c.Load.Pull)
	label := say("slope", degrees(s.c.Load.Slope.Best), degrees(s.c.Load.Slope.Low), degrees(s.c.Load.Slope.High)) + ", " + way
	g := s.lay("slope", angle, Width-2*margin, 430, 215, false, label)
	s.say(say("alt_slope", degrees(s.c.Load.Slope.Best), way))
	t := s.p.Tackle
	from, body := 30.0, min(150, g.long*0.25)
	back := s.holding() && s.c.Load.Pull != "uphill"
	if back {
		from = g.long * 0.24
	}
	s.car("load-side", g, from, body, false)
	front := from + body
	moving, fixed := front+g.long*0.1, g.long*0.82
	s.line("", Rope, 4, g.on(front, 50), g.on(moving, 50))
	if t.Parts == 1 && t.HaulFrom == "moving" && t.Compound == nil {
		s.arrow("haul-side", Rope, 5, g.on(front, 50), g.on(g.long-20, 50))
	} else {
		s.fall(g, moving, fixed)
		s.stake("standing-side", g, g.long-24, 70)
	}
	if s.holding() {
		end, at := g.long-70, g.on(front, 78)
		if back {
			end, at = 30, g.on(from+6, 80)
		}
		s.stake("holding-side", g, end, 130)
		s.dashed("holding-side", Hold, 5, at, g.on(end, 124))
	}
}

// fall draws the tackle seen from the side: two blocks and the parts between.
func (s *sketch) fall(g ground, moving, fixed float64) {
	n := s.p.Tackle.Parts
	gap := min(12, 60/float64(n))
	low := 50 - gap*float64(n-1)/2
	for i := range n {
		h := low + gap*float64(i)
		s.line("part-side", Rope, 2.5, g.on(moving, h), g.on(fixed, h))
	}
	s.line("", Rope, 4, g.on(fixed, 50), g.on(g.long-24, 50))
	for _, at := range []float64{moving, fixed} {
		s.disc("", Ink, Page, g.on(at, 50), 22)
		s.disc("", Ink, Ink, g.on(at, 50), 5)
	}
	up := 110.0
	if s.holding() && s.c.Load.Pull == "uphill" {
		up = 170 // clear of the holding line
	}
	s.balloon("moving-block", g.on(moving, up))
	s.balloon("standing-block", g.on(fixed, up))
}

// holding reports whether the rig has a holding line.
func (s *sketch) holding() bool {
	if _, ok := s.numbers["holding"]; ok {
		return true
	}
	return s.p.Holding != nil && (s.p.Holding.Needed || s.p.Holding.Main)
}

// puller is the puller that the plan takes.
func (s *sketch) puller() (job.Puller, bool) {
	if s.p.Puller == nil || len(s.c.Pullers) == 0 {
		return job.Puller{}, false
	}
	for _, p := range s.c.Pullers {
		if p.Name == s.p.Puller.Name {
			return p, true
		}
	}
	return s.c.Pullers[0], true
}

// pullerSide draws the puller on its own ground, with the line behind it.
func (s *sketch) pullerSide() {
	s.leadSide()
	s.section(say("puller_side"))
	p, ok := s.puller()
	if !ok {
		s.para(false, say("no_puller"))
		return
	}
	way := p.Pull
	if p.Slope == nil || way == "" {
		way = "untold"
	}
	label, angle := say("puller_untold"), 0.0
	if p.Slope != nil {
		angle = slopeOf(p.Slope.Best, p.Pull)
		label = say("puller_slope", degrees(p.Slope.Best), say("pulls_"+way))
	}
	s.say(say("puller_side") + ": " + label + ".")
	g := s.lay("puller-slope", angle, 760, 250, 150, p.Slope == nil, label)
	at := g.long * 0.4
	switch p.Kind {
	case "people":
		for i := range 4 {
			a := at + 20 + 45*float64(i)
			s.line("", Ink, 5, g.on(a, 0), g.on(a+10, 70))
			s.disc("", Ink, Page, g.on(a+13, 86), 14)
		}
	case "winch", "hand-winch":
		s.shape("", Ink, Page, g.on(at, 0), g.on(at+150, 0), g.on(at+150, 60), g.on(at, 60))
		s.disc("", Ink, Page, g.on(at+45, 60), 36)
		s.disc("", Ink, Ink, g.on(at+45, 60), 6)
	default:
		s.car("puller-side", g, at, 170, p.Kind == "tracked")
	}
	s.line("", Rope, 5, g.on(0, 50), g.on(at, 50))
	if p.Kind != "winch" && p.Kind != "hand-winch" {
		s.arrow("travel-side", Ink, 5, g.on(at+200, 60), g.on(at+300, 60))
	} else {
		s.arrow("travel-side", Ink, 5, g.on(at*0.3, 80), g.on(at*0.75, 80))
	}
}

// leadSide draws the two lines at a lead block with the angle between them.
func (s *sketch) leadSide() {
	if s.p.Tackle.LeadBlocks == 0 || s.c.Tackle.LeadAngle == nil {
		return
	}
	a := s.c.Tackle.LeadAngle.Best
	s.section(say("lead_side", degrees(a)))
	const reach = 230.0
	half := a.Degrees() / 2
	tall := max(60, reach*math.Sin(half*math.Pi/180))
	hub := Point{Width / 2, s.y + tall + 40}
	for _, deg := range []float64{180 - half, 180 + half} {
		s.line("lead-angle", Rope, 6, hub, onCircle(hub, reach, deg))
	}
	s.line("", Rope, 7, hub, Point{hub.X + 90, hub.Y})
	s.add(Op{Kind: Arc, Pen: Ink, Stroke: 3, At: []Point{hub}, Radius: 120, From: 180 - half, To: 180 + half})
	s.disc("", Ink, Page, hub, 34)
	s.cross("", Point{hub.X + 118, hub.Y})
	s.balloon("lead-block", hub)
	s.text("", Start, SmallText, true, Point{hub.X + 170, hub.Y + 12}, degrees(a))
	s.y = hub.Y + tall + 20
}
