package picture

import (
	"slices"
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

// posts lists who is there besides the driver, by the number of people, as the
// conversation gives the parts out.
var posts = map[int][]string{
	2: {"leader_all"},
	3: {"leader_signal", "rigger_watch"},
	4: {"leader_signal", "rigger_watch", "holder"},
	5: {"leader_signal", "rigger", "holder", "chocks"},
	6: {"leader_signal", "rigger", "holder", "chocks", "lookout"},
	7: {"leader", "rigger", "holder", "chocks", "signal", "lookout"},
	8: {"leader", "rigger", "holder", "chocks", "signal", "lookout", "recorder"},
}

// mostPosts is the largest crew that has a place for everyone.
const mostPosts = 8

// placed are the places above the zone as drawn, from the load to the anchor;
// the rest stand below it, by the puller.
var placed = []string{"chocks", "leader", "leader_signal", "leader_all", "holder", "rigger", "rigger_watch"}

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

func (s *sketch) crew() []string {
	if s.c.Crew == nil {
		return nil
	}
	return posts[min(*s.c.Crew, mostPosts)]
}

func (s *sketch) person(post string, x float64) {
	at := Point{x + 18, s.y - 12}
	s.shape("post", Ink, Ink, Point{at.X, at.Y - 18}, Point{at.X + 16, at.Y + 14}, Point{at.X - 16, at.Y + 14})
	s.text("post", Start, SmallText, false, Point{x + 44, s.y}, say("post_"+post))
}

func (s *sketch) postsAbove() {
	s.y += 10
	var told []string
	for _, p := range s.crew() {
		told = append(told, say("post_"+p))
	}
	if len(told) == 0 {
		key := "crew_untold"
		if s.c.Crew != nil {
			key = "alone"
		}
		s.para(true, say(key))
		s.say(say(key) + ".")
		return
	}
	s.say(say("alt_posts", strings.Join(told, ", ")))
	n := 0
	for _, p := range placed {
		if !slices.Contains(s.crew(), p) {
			continue
		}
		if n%3 == 0 {
			s.y += lineGap
		}
		s.person(p, margin+float64(n%3)*345)
		n++
	}
}

func (s *sketch) postsBelow() {
	x := margin
	for _, p := range s.crew() {
		if slices.Contains(placed, p) {
			continue
		}
		if x == margin {
			s.y += lineGap + 14
		}
		s.person(p, x)
		x += 345
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

func (s *sketch) holdLine(left, y float64, back bool) {
	// Its worst is the arrest after the slack it is tended to, where that is known.
	worst := unit.Force(0)
	if s.p.Holding != nil {
		worst = s.p.Holding.Static.High
	}
	for _, g := range s.p.Gear {
		if g.Use == "holding" || g.Use == "holding-point" {
			worst = max(worst, g.Tension)
		}
	}
	f := say("holding_line_untold")
	if worst > 0 {
		f = say("holding_line", load(worst))
	}
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
