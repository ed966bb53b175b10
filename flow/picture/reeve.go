package picture

import "linetender/calc/unit"

// rows are the heights of the parts, the one next to the haul line last on the
// way down and first in the list.
func (s *sketch) rows(n int) []float64 {
	s.y += 110
	out := make([]float64, n)
	for i := range n {
		out[n-1-i] = s.y + rowGap*float64(i)
	}
	s.y = out[0]
	return out
}

func (s *sketch) part(name string, a, b Point, tensions []unit.Force, i int) {
	s.line(name, Rope, 5, a, b)
	if i < len(tensions) {
		s.tension(tensions[i], (a.X+b.X)/2, a.Y)
	}
}

// tackle draws blocks and parts and returns where the haul line leaves them.
// The rope goes from the haul line over one sheave after the other to the dead
// end; each turn is drawn round its sheave.
func (s *sketch) tackle(kind string, at float64, rows []float64, from string, tensions []unit.Force) Point {
	n, a, b := len(rows), at+blockWide, fixedAt
	moving, fixed := []float64{}, []float64{} // heights of the sheaves
	turn := func(standing bool, y1, y2 float64) {
		mid, r := (y1+y2)/2, (y1-y2)/2
		x, lo, hi := a, 90.0, 270.0
		if standing {
			x, lo, hi = b, -90, 90
			fixed = append(fixed, y1, y2)
		} else {
			moving = append(moving, y1, y2)
		}
		s.add(Op{Kind: Arc, Part: kind + "sheave", Pen: Rope, Stroke: 5, At: []Point{{x, mid}}, Radius: r, From: lo, To: hi})
		s.disc("", Ink, Page, Point{x, mid}, min(r-7, 16))
	}
	first := 0
	var line Point
	if from == "standing" {
		first = 1
		y := rows[0] + foldGap
		turn(true, y, rows[0])
		line = Point{b, y}
		s.y = y
		s.tension(tensions[0], (a+b)/2, y)
	} else {
		line = Point{b, rows[0]}
	}
	for i := range n {
		s.part(kind+"part", Point{a, rows[i]}, Point{b, rows[i]}, tensions, i+first)
		if i+1 < n {
			turn(i%2 == 1, rows[i], rows[i+1])
		}
	}
	// The dead end lies at the block that the last part runs to.
	end := Point{b, rows[n-1]}
	if n == 2 && from == "moving" { // no standing block: the rope's end is made fast at the anchor
		end.X = stakeAt - 44
	}
	if n%2 == 1 {
		end.X = a
		moving = append(moving, end.Y)
	} else {
		fixed = append(fixed, end.Y)
	}
	s.disc(kind+"dead-end", Ink, Ink, end, 10)
	s.block(kind+"moving", a-blockWide, moving)
	s.anchored(kind, b, fixed, from == "standing" || n > 2)
	s.balloon("moving-block", Point{a - blockWide/2, rows[n-1] - 66})
	if from == "moving" {
		s.balloon("haul", Point{fixedAt + 60, rows[0] + 40})
	} else {
		s.balloon("haul", Point{fixedAt - 80, line.Y + 40})
	}
	return line
}

// block draws the cheeks around the sheaves and ends at given heights.
func (s *sketch) block(part string, x float64, at []float64) {
	lo, hi := at[0], at[0]
	for _, y := range at {
		lo, hi = min(lo, y), max(hi, y)
	}
	s.add(Op{Kind: Polygon, Part: part, Pen: Ink, Stroke: 4, At: []Point{{x, lo - 20}, {x + blockWide, lo - 20}, {x + blockWide, hi + 20}, {x, hi + 20}}})
}

// anchored draws the standing block, its strop and its anchor.
func (s *sketch) anchored(kind string, x float64, at []float64, sheaves bool) {
	if len(at) == 0 {
		return
	}
	lo, hi := at[0], at[0]
	for _, y := range at {
		lo, hi = min(lo, y), max(hi, y)
	}
	mid := (lo + hi) / 2
	if sheaves {
		s.block(kind+"standing", x, at)
		x += blockWide
	}
	s.line("", Rope, 7, Point{x, mid}, Point{stakeAt - 30, mid})
	s.cross(kind+"anchor", Point{stakeAt, mid})
	s.balloon("standing-block", Point{fixedAt + blockWide/2, lo - 54})
	s.balloon("anchor", Point{fixedAt + 84, mid - 42})
	s.balloon("standing", Point{stakeAt + 4, mid - 66})
}

// cross draws an anchor from above: a ring with a cross.
func (s *sketch) cross(part string, at Point) {
	const r = 28.0
	s.disc(part, Ink, Page, at, r)
	s.line("", Ink, 4, at.plus(Point{-r * 0.7, -r * 0.7}), at.plus(Point{r * 0.7, r * 0.7}))
	s.line("", Ink, 4, at.plus(Point{-r * 0.7, r * 0.7}), at.plus(Point{r * 0.7, -r * 0.7}))
}

// compound draws the second tackle, that hauls the first one's haul line.
func (s *sketch) compound(line Point) Point {
	tag := Point{900, line.Y}
	s.line("", Rope, 5, line, Point{tag.X - 26, tag.Y})
	mark := func(at Point) {
		s.disc("", Ink, Page, at, 26)
		s.text("", Middle, SmallText, true, Point{at.X, at.Y + 12}, say("joins_second"))
	}
	mark(tag)
	s.y += 70
	s.shifted(say("second"))
	c := s.p.Tackle.Compound
	rows := s.rows(c.Parts)
	mid := (rows[0] + rows[len(rows)-1]) / 2
	start := Point{220, mid}
	s.line("", Rope, 7, Point{start.X + 26, mid}, Point{320, mid})
	mark(start)
	out := s.tackle("second-", 320, rows, "moving", nil)
	s.tension(c.Haul.High, 505, out.Y)
	return out
}

// lead draws the haul line over its lead blocks to the puller.
func (s *sketch) lead(line Point, right bool) {
	y := line.Y
	for range s.p.Tackle.LeadBlocks {
		x, sign := leadLeft, -1.0
		if right {
			x, sign = leadRight, 1
		}
		next := y + foldGap
		lo, hi := 90.0, 270.0
		if right {
			lo, hi = -90, 90
		}
		s.line("haul", Rope, 5, line, Point{x, y})
		s.add(Op{Kind: Arc, Part: "lead-block", Pen: Rope, Stroke: 5, At: []Point{{x, (y + next) / 2}}, Radius: foldGap / 2, From: lo, To: hi})
		hub := Point{x, (y + next) / 2}
		s.disc("", Ink, Page, hub, foldGap/2-8)
		s.line("", Rope, 7, hub, Point{x + sign*87, hub.Y})
		s.cross("lead-anchor", Point{x + sign*115, hub.Y})
		s.balloon("lead-block", hub)
		s.balloon("lead", Point{x + sign*115, hub.Y + 60})
		line, y, right = Point{x, next}, next, !right
	}
	s.y = max(s.y, y)
	if s.p.Tackle.LeadBlocks > 0 {
		s.tension(s.p.Tackle.Haul.High, 505, y)
	}
	s.pullerAbove(line, right)
}
