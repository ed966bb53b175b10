package picture

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
)

// scale is a horizontal scale of figures.
type scale struct{ from, to, left, right float64 }

func (s scale) at(v float64) float64 {
	v = min(max(v, s.from), s.to)
	return s.left + (v-s.from)/(s.to-s.from)*(s.right-s.left)
}

// Force draws where the force comes from, cause by cause with the range of
// each, what is needed against what the puller gives, and what each unknown
// does to the decision. Empty where the plan gives no force.
func Force(p calc.Plan) Drawing {
	s := &sketch{Drawing: Drawing{Name: "force", Title: say("force_title"), Width: Width}, p: p}
	if p.Force == nil || p.Resistance == nil || p.Tackle == nil || p.Decision == calc.Refer {
		return s.Drawing
	}
	s.banner()
	s.causes()
	s.need()
	s.unknowns()
	s.Height = math.Ceil(s.y + margin)
	return s.Drawing
}

type cause struct {
	name string
	of   calc.Force
}

// causes stacks the causes: the best of each sets on where the one before ends.
func (s *sketch) causes() {
	r := s.p.Resistance
	grade := "cause_grade"
	if r.Grade.Best < 0 {
		grade = "cause_grade_helps"
	}
	all := []cause{{say(grade), r.Grade}, {say("cause_rolling"), r.Rolling}, {say("cause_drag"), r.Drag}, {say("cause_mire"), r.Mire}, {say("cause_lip"), r.Lip}}
	all = slices.DeleteFunc(all, func(c cause) bool { return c.of.Low == 0 && c.of.High == 0 })
	from, to, sum := min(0, r.Total.Low.Kilonewtons()), r.Total.High.Kilonewtons(), 0.0
	// Of rolling with drag and mire only the greater resists, so the stack
	// steps back before the mire where that is the lesser.
	mired := r.Mire.High > 0
	both := r.Rolling.Best + r.Drag.Best
	type laid struct {
		cause
		from  float64
		light bool
	}
	var rows []laid
	for _, c := range all {
		light := mired && (c.name == say("cause_mire") && r.Mire.Best <= both ||
			(c.name == say("cause_rolling") || c.name == say("cause_drag")) && r.Mire.Best > both)
		rows = append(rows, laid{c, sum, light})
		from, to = min(from, sum+c.of.Low.Kilonewtons(), sum), max(to, sum+c.of.High.Kilonewtons())
		if !light {
			sum += c.of.Best.Kilonewtons()
		}
	}
	rows = append(rows, laid{cause{say("cause_total"), r.Total}, 0, false})
	if s.p.Force.High > r.Total.High {
		// The sums say what is needed along the rope.
		rows = append(rows, laid{cause{say("cause_rope"), *s.p.Force}, 0, false})
		from, to = min(from, s.p.Force.Low.Kilonewtons()), max(to, s.p.Force.High.Kilonewtons())
	}
	k := scale{from, max(to, from+0.001), margin + 10, Width - margin - 10}
	s.para(false, say("causes_note"))
	if mired {
		s.para(false, say("mire_rule"))
	}
	for i, c := range rows {
		low, best, high := span(c.of)
		s.y += 56
		s.text("cause", Start, SmallText, i == len(rows)-1, Point{margin, s.y}, cut(say("cause_line", c.name, low, best, high), SmallText, true, Width-2*margin))
		s.y += 14
		fill := Ink
		if c.light {
			fill = Page
		}
		s.bar(k, c.from, c.from+c.of.Low.Kilonewtons(), c.from+c.of.Best.Kilonewtons(), c.from+c.of.High.Kilonewtons(), fill)
		s.y += 30
		line := say("alt_cause", c.name, low, high, best)
		if i == len(rows)-1 {
			s.first(line)
			continue
		}
		s.say(line)
	}
}

// bar draws a bar to the best figure and a whisker over the range.
func (s *sketch) bar(k scale, from, low, best, high float64, fill Pen) {
	a, b := k.at(min(from, best)), k.at(max(from, best))
	s.add(Op{Kind: Polygon, Part: "bar", Pen: Ink, Fill: fill, Stroke: 2, At: rect(a, s.y, max(2, b-a), 26)})
	mid := s.y + 13
	s.line("", Ink, 4, Point{k.at(0), s.y - 4}, Point{k.at(0), s.y + 30})
	s.line("range", Warn, 5, Point{k.at(low), mid}, Point{k.at(high), mid})
	for _, v := range []float64{low, high} {
		s.line("", Warn, 5, Point{k.at(v), s.y - 1}, Point{k.at(v), s.y + 27})
	}
}

// need draws the haul that is needed over what the puller gives, on one scale.
func (s *sketch) need() {
	s.section(say("need_title"))
	if s.p.Puller == nil || s.p.Puller.Available == nil {
		s.para(false, say("gives_untold"))
		s.first(say("gives_untold") + ".")
		return
	}
	h, a := s.p.Tackle.Haul, *s.p.Puller.Available
	s.para(false, say("need_note"))
	k := scale{0, max(h.High.Kilonewtons(), a.High.Kilonewtons(), 0.001), margin + 10, Width - margin - 10}
	top := s.y
	for i, r := range []cause{{say("need_haul"), h}, {say("need_gives"), a}} {
		low, best, high := span(r.of)
		if i == 1 {
			low, best, high = spanGiven(r.of)
		}
		s.y += 56
		s.text("cause", Start, SmallText, false, Point{margin, s.y}, say("cause_line", r.name, low, best, high))
		s.y += 14
		s.bar(k, 0, r.of.Low.Kilonewtons(), r.of.Best.Kilonewtons(), r.of.High.Kilonewtons(), Ink)
		s.y += 30
	}
	x := k.at(a.Low.Kilonewtons())
	for _, y := range [][2]float64{{top + 68, top + 100}, {top + 168, top + 200}} {
		s.add(Op{Kind: Line, Part: "limit", Pen: Warn, Stroke: 4, Dashed: true, At: []Point{{x, y[0]}, {x, y[1]}}})
	}
	from, _, to := span(h)
	least, _, most := span(a)
	s.first(say("alt_need", from, to, least, most))
}

const mostBars = 8

// unknowns draws, for each unknown, how far the most strained thing goes with it
// at either end, and the line that parts go from no-go.
func (s *sketch) unknowns() {
	s.section(say("bars_title"))
	var bars []calc.Measure
	var told []string
	for _, m := range s.p.Measure {
		if w := m.Swing; w != nil {
			if !m.CouldFlip && max(w.Low, w.Best, w.High)-min(w.Low, w.Best, w.High) < 0.01 {
				continue // no bar to see
			}
			bars = append(bars, m)
			continue
		}
		told = append(told, field(m.Field))
	}
	bars = bars[:min(len(bars), mostBars)]
	if len(bars) == 0 {
		s.para(false, say("no_bars"))
		s.say(say("no_bars"))
	} else {
		s.para(false, say("bars_note"))
		to := 1.2
		for _, m := range bars {
			to = max(to, m.Swing.Low*1.05, m.Swing.High*1.05)
		}
		k := scale{0, min(to, 3), margin + 10, Width - margin - 10}
		s.y += 50
		x := k.at(1)
		side := Middle
		if x > Width-180 {
			side = End
		}
		s.text("", side, SmallText, true, Point{x, s.y}, say("line_label"))
		var idle []string
		for _, m := range bars {
			if name := s.swing(k, m); !m.CouldFlip {
				idle = append(idle, name)
			}
		}
		if len(idle) > 0 {
			s.say(say("alt_idle", strings.Join(idle, ", ")))
		}
	}
	if len(told) > 0 {
		s.y += 16
		more := ""
		if len(told) > 6 {
			more = ", " + say("more_flips", len(told)-6)
			told = told[:6]
		}
		line := say("more_unknown", strings.Join(told, ", ")+more)
		s.para(false, line)
		s.say(line + ".")
	}
}

// field words the name of a field, "gear[2].rating" being the rating of gear 3.
func field(name string) string {
	if w, ok := words["field_"+strings.ReplaceAll(name, ".", "_")]; ok {
		return w
	}
	steps := strings.Split(name, ".")
	for i, step := range steps {
		list, rest, ok := strings.Cut(step, "[")
		if n, err := strconv.Atoi(strings.TrimSuffix(rest, "]")); ok && err == nil {
			step = fmt.Sprintf("%s %d", strings.TrimSuffix(list, "s"), n+1)
		}
		steps[i] = strings.ReplaceAll(step, "_", " ")
	}
	return strings.Join(steps, " ")
}

// swing draws one unknown and returns its name with its ends.
func (s *sketch) swing(k scale, m calc.Measure) string {
	w := m.Swing
	s.y += 56
	name := field(m.Field)
	// Another rig may suit one end, so the best need not lie between them.
	least, most := min(w.Low, w.Best, w.High), max(w.Low, w.Best, w.High)
	var ends []string
	if percent(least) != percent(most) { // two ends that read alike say nothing
		ends = append(ends, say("bar_ends", percent(least), percent(most)))
	}
	if m.CouldFlip {
		ends = append(ends, say("flips"))
	}
	title := strings.TrimSuffix(name+": "+strings.Join(ends, ", "), ": ")
	s.text("unknown", Start, SmallText, m.CouldFlip, Point{margin, s.y}, cut(title, SmallText, m.CouldFlip, Width-2*margin))
	s.y += 14
	a, b := k.at(least), k.at(most)
	s.add(Op{Kind: Polygon, Part: "swing", Pen: Ink, Fill: Faint, Stroke: 2, At: rect(a, s.y, max(3, b-a), 26)})
	s.line("", Ink, 6, Point{k.at(w.Best), s.y - 4}, Point{k.at(w.Best), s.y + 30})
	s.add(Op{Kind: Line, Part: "limit", Pen: Warn, Stroke: 5, Dashed: true, At: []Point{{k.at(1), s.y - 6}, {k.at(1), s.y + 32}}})
	s.y += 34
	if m.CouldFlip {
		then := func(d calc.Decision) string { return say("then_" + strings.ReplaceAll(string(d), "-", "_")) }
		s.first(say("alt_bar", name, percent(w.Low), then(w.AtLow), percent(w.High), then(w.AtHigh)))
	}
	return name + " " + say("bar_ends", percent(least), percent(most))
}
