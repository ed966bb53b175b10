package picture

import (
	"strings"

	"linetender/calc/unit"
)

// Where things lie in the view from above, left to right.
const (
	bodyLong  = 130.0
	joinLong  = 130.0 // from tow point to moving block
	blockWide = 40.0
	fixedAt   = 650.0 // standing block
	stakeAt   = 790.0 // standing anchor
	leadRight = 900.0
	leadLeft  = 190.0
	rowGap    = 54.0
	foldGap   = 130.0 // from a line to the one beyond a lead block
)

// above draws the rig from above: every part of line with its tension, the
// blocks, the anchors, the zone where nobody stands and everyone's place.
func (s *sketch) above() {
	s.section(say("above"))
	s.para(false, say("tension_note"))
	s.postsAbove()
	s.y += 24
	zone := len(s.Ops)
	top := s.y
	s.add(Op{Kind: Polygon, Part: "zone", Pen: Warn, Fill: Zone, Stroke: 5, Dashed: true, At: make([]Point, 4)})
	s.para(true, say("nobody"))
	keep := say("stand_clear")
	if s.p.Energy != nil && s.p.Energy.Clear > 0 {
		keep = say("clear", metres(s.p.Energy.Clear))
		if s.p.Energy.Least {
			keep = say("clear_least", metres(s.p.Energy.Clear))
		}
	}
	s.shifted(keep)
	s.say(say("alt_zone"))
	s.first(keep + ".")
	s.reeve()
	s.y += 30
	// The zone is filled in once it is known how far down the rig goes.
	s.Ops[zone].At = []Point{{20, top}, {Width - 20, top}, {Width - 20, s.y}, {20, s.y}}
	s.postsBelow()
}

// shifted is para for a line inside the zone.
func (s *sketch) shifted(text string) {
	for _, l := range wrap(text, SmallText, false, Width-2*margin) {
		s.y += lineGap
		s.text("", Start, SmallText, false, Point{margin, s.y}, l)
	}
}

// tension writes a figure over a line.
func (s *sketch) tension(f unit.Force, x, y float64) {
	s.text("tension", Middle, SmallText, false, Point{x, y - 10}, load(f))
}

// reeve draws load, tackle, lead blocks, puller and holding line.
func (s *sketch) reeve() {
	t := s.p.Tackle
	hold := s.holding()
	back := hold && s.c.Load.Pull != "uphill"
	left := 60.0
	if back {
		left = 190
	}
	s.y += 40
	held := s.y + 70
	if hold {
		s.y = held + 40
	}
	rows := s.rows(t.Parts)
	body := rows[len(rows)-1] // the part nearest the holding line
	mid := (rows[0] + body) / 2
	top := min(body-30, mid-50)
	if hold {
		top = held - 30
	}
	s.box("load", Ink, Page, left, top, bodyLong, max(mid+50, rows[0]+24)-top)
	s.text("", Middle, SmallText, true, Point{left + bodyLong/2, (top+max(mid+50, rows[0]+24))/2 + 12}, say("load_box"))
	if hold {
		s.holdLine(left, held, back)
	}
	from := left + bodyLong
	straight := t.Parts == 1 && t.HaulFrom == "moving"
	s.line("", Rope, 7, Point{from, mid}, Point{from + joinLong, mid})
	s.balloon("tow-point", Point{from + 32, mid - 44})
	s.balloon("load", Point{from + 96, mid - 44})
	var line Point // where the haul line is, going right or left
	right := t.HaulFrom == "moving"
	switch {
	case straight:
		line = Point{from + joinLong, mid}
		s.part("part", line, Point{fixedAt, mid}, t.Tensions, 0)
		line.X = fixedAt
		s.balloon("haul", Point{fixedAt - 110, mid + 38})
	default:
		line = s.tackle("", from+joinLong, rows, t.HaulFrom, t.Tensions)
	}
	if t.Compound != nil {
		line = s.compound(line)
	}
	s.lead(line, right)
}

func (s *sketch) holdLine(left, y float64, back bool) {
	f := s.heldBy()
	if back {
		s.cross("holding-anchor", Point{70, y})
		s.dashed("holding", Hold, 6, Point{left, y}, Point{98, y})
		s.text("", Start, SmallText, false, Point{left + bodyLong + 20, y}, f)
		s.balloon("holding-anchor", Point{70, y + 64})
		s.balloon("holding", Point{140, y + 42})
		s.balloon("holding-point", Point{160, y - 42})
		return
	}
	from := left + bodyLong
	s.dashed("holding", Hold, 6, Point{from, y}, Point{962, y})
	s.cross("holding-anchor", Point{990, y})
	s.balloon("holding-point", Point{from + 36, y - 40})
	s.balloon("holding", Point{from + 110, y - 40})
	s.text("", Start, SmallText, false, Point{from + 150, y - 16}, f)
	s.balloon("holding-anchor", Point{925, y - 40})
}

// heldBy labels the holding line with the figure that the table has for it: what
// its rope carries, or its anchor or the point that it is on while no rope is
// named. A point that the haul line is on as well carries more than the line. With
// none of them it is what it holds at rest, which is another figure and says so.
func (s *sketch) heldBy() string {
	for _, g := range s.p.Gear {
		if g.Use == "holding" && g.Tension > 0 {
			return say("holding_line", load(g.Tension))
		}
	}
	for _, a := range s.p.Anchors {
		if a.Use == "holding" && a.Force > 0 {
			return say("holding_line", load(a.Force))
		}
	}
	shared := s.c.Load.HoldingPoint != nil && s.c.Load.HoldingPoint.Shared
	for _, g := range s.p.Gear {
		if g.Use == "holding-point" && g.Tension > 0 && !shared {
			return say("holding_line", load(g.Tension))
		}
	}
	if s.p.Holding != nil && s.p.Holding.Static.High > 0 {
		return say("holding_line_at_rest", load(s.p.Holding.Static.High))
	}
	return say("holding_line_untold")
}

// pullerAbove draws the puller at the end of the haul line, and which way it goes.
func (s *sketch) pullerAbove(line Point, right bool) {
	sign, box, hitch := 1.0, 850.0, 850.0
	if !right {
		sign, box, hitch = -1, 60, 200
	}
	s.line("haul", Rope, 5, line, Point{hitch, line.Y})
	wide := 140.0
	s.box("puller", Ink, Page, box, line.Y-46, wide, 92)
	s.text("", Middle, SmallText, true, Point{box + wide/2, line.Y + 12}, say("puller_box"))
	s.balloon("hitch", Point{hitch - sign*44, line.Y + 40})
	if _, ok := s.numbers["puller"]; ok {
		far := hitch + sign*(wide+50)
		if !right {
			far = 25 + 20
		}
		s.balloon("puller", Point{far, line.Y - 76})
	}
	s.y = max(s.y, line.Y) + 64
	s.shifted(say("seat"))
	t, told := s.p.Travel, say("travel_untold")
	if t != nil && t.Haul != nil {
		told = say("travel", metres(t.Haul.High))
		p, _ := s.puller()
		switch {
		case p.Kind == "winch" || p.Kind == "hand-winch":
			told = say("travel_winch", metres(t.Haul.High))
		case t.Bites != nil && *t.Bites == 1:
			told = say("travel_bite", metres(t.Haul.High))
		case t.Bites != nil:
			told = say("travel_bites", metres(t.Haul.High), *t.Bites)
		}
	}
	s.y += lineGap
	told = cut(told, SmallText, false, 800)
	s.text("travel", Start, SmallText, false, Point{margin, s.y}, told)
	s.say(told + ".")
	a := margin + measure(told, SmallText, false) + 30
	from, to := Point{a, s.y - 12}, Point{a + 110, s.y - 12}
	if !right {
		from, to = to, from
	}
	s.arrow("travel", Ink, 5, from, to)
	var all []string
	for _, f := range s.p.Tackle.Tensions {
		all = append(all, load(f))
	}
	s.say(say("alt_tensions", strings.Join(all, ", ")))
}
