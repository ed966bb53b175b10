package picture

import (
	"math"

	"linetender/calc"
	"linetender/calc/unit"
)

// table lists every member and anchor, weakest first as the plan has them, with
// a bar of what is used: full width is the limit.
func (s *sketch) table() {
	s.section(say("table"))
	for _, g := range s.p.Gear {
		name := g.Name
		if name == "" {
			name = named("kind", g.Kind)
		}
		if g.Choked {
			name = say("choked", name)
		}
		s.row(g.Use, name, g.Tension, g.Working, g.Peak, g.Ratio, g.Passes || g.Asked)
	}
	for _, a := range s.p.Anchors {
		s.row(anchorUse(a.Use), nameOf(a), a.Force, a.Capacity, a.Peak, a.Ratio, a.Passes || a.Asked)
	}
	if len(s.p.Gear)+len(s.p.Anchors) == 0 {
		s.para(false, say("not_shown"))
	}
	s.y += 20
	s.para(true, say("stop"))
}

func nameOf(a calc.Held) string {
	if a.Name != "" {
		return a.Name
	}
	return named("kind", a.Kind)
}

// row sets one member over two lines: number and name, then what it carries of
// what it may carry and the bar.
func (s *sketch) row(use, name string, f unit.Force, most *unit.Force, peak *unit.Force, ratio *float64, passes bool) {
	const left, barAt, barLong = margin + 76.0, 760.0, 230.0
	s.y += 58
	s.balloon(use, Point{margin + 28, s.y + 8})
	title := named("use", use)
	if name != "" && name != title && name != use {
		title = name + ", " + title
	}
	mark := ""
	switch {
	case ratio == nil && most == nil:
	case !passes:
		mark = say("fails")
	case use == s.weakest:
		mark = say("weakest")
	}
	room := Width - margin - left
	if mark != "" {
		room -= measure(mark, SmallText, true) + 24
		s.text("mark", End, SmallText, true, Point{Width - margin, s.y}, mark)
	}
	s.text("member", Start, SmallText, true, Point{left, s.y}, cut(title, SmallText, true, room))
	s.y += lineGap
	told := say("unknown_limit", both(f, math.Ceil))
	switch {
	case most != nil && (ratio == nil || *most <= 0):
		told = say("nothing_limit", both(f, math.Ceil))
	case most != nil:
		told = say("of", load(f)+" kN", rating(*most)+" kN") + ", " + percent(*ratio)
		s.add(Op{Kind: Polygon, Part: "bar", Pen: Faint, Stroke: 2, At: rect(barAt, s.y-24, barLong, 24)})
		pen := Ink
		if *ratio > 1 {
			pen = Warn
		}
		s.shape("", pen, pen, rect(barAt, s.y-24, max(1, min(1, *ratio)*barLong), 24)...)
	}
	s.text("", Start, SmallText, false, Point{left, s.y}, cut(told, SmallText, false, room))
	if mark != "" {
		told += ", " + mark
	}
	if peak != nil && !passes && ratio != nil && *ratio <= 1 {
		s.y += lineGap
		more := say("at_most", both(*peak, math.Ceil))
		s.text("", Start, SmallText, false, Point{left, s.y}, cut(more, SmallText, false, Width-margin-left))
		told += ", " + more
	}
	line := say("alt_member", s.numbers[use], title, told)
	if mark != "" {
		s.first(line)
		return
	}
	s.say(line)
}

func rect(x, y, w, h float64) []Point {
	return []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}
