package picture

import (
	"math"
	"strings"

	"linetender/calc"
	"linetender/calc/job"
)

const (
	margin  = 40.0
	lineGap = 44.0 // from base line to base line of small text
)

// A sketch is a drawing in the making, from the top down.
type sketch struct {
	Drawing
	p       calc.Plan
	c       job.Case
	y       float64
	numbers map[string]int // of the places, by use
	weakest string         // the use of the most strained thing
}

// Rig draws how to lay the rig out: from the side with the true slope, from
// above with every part of line, where nobody stands and who stands where, and
// what each thing carries. The case must be the one that the plan was reckoned
// from. Empty where the plan gives no force.
func Rig(p calc.Plan, c job.Case) Drawing {
	s := &sketch{Drawing: Drawing{Name: "rig", Title: say("rig_title"), Width: Width}, p: p, c: c, numbers: map[string]int{}}
	if p.Force == nil || p.Tackle == nil || p.Decision == calc.Refer {
		return s.Drawing
	}
	s.number()
	s.head()
	s.side()
	s.pullerSide()
	s.above()
	s.table()
	s.Height = math.Ceil(s.y + margin)
	return s.Drawing
}

// Card draws the part of the rig picture that a plan card has room for: the load
// on its slope and the rig from above. The card itself lists the members under
// the numbers that [Numbers] gives. Empty where the plan gives no force.
func Card(p calc.Plan, c job.Case) Drawing {
	s := &sketch{Drawing: Drawing{Name: "card", Title: say("rig_title"), Width: Width}, p: p, c: c, numbers: map[string]int{}}
	if p.Force == nil || p.Tackle == nil || p.Decision == calc.Refer {
		return s.Drawing
	}
	s.number()
	s.first(say("alt_decision", verdict(p)))
	s.side()
	s.above()
	s.Height = math.Ceil(s.y + margin)
	return s.Drawing
}

// Numbers returns the number that each place has in the pictures of a plan, by
// the use of a piece of gear; anchors are under their own use, the holding
// line's under "holding-anchor".
func Numbers(p calc.Plan) map[string]int {
	s := &sketch{p: p, numbers: map[string]int{}}
	s.number()
	return s.numbers
}

// number gives each place of the rig its number and marks the weakest.
func (s *sketch) number() {
	see := func(use string) {
		if _, ok := s.numbers[use]; !ok {
			s.numbers[use] = len(s.numbers) + 1
		}
	}
	for _, g := range s.p.Gear {
		see(g.Use)
	}
	for _, a := range s.p.Anchors {
		see(anchorUse(a.Use))
	}
	if w, ok := s.p.Weakest(); ok {
		if s.weakest = w.Use; w.Anchor {
			s.weakest = anchorUse(w.Use)
		}
	}
}

func anchorUse(use string) string {
	if use == "holding" {
		return "holding-anchor"
	}
	return use
}

// verdict is the decision in words.
func verdict(p calc.Plan) string {
	if p.Conditional {
		return say("decision_conditional")
	}
	return say("decision_" + strings.ReplaceAll(string(p.Decision), "-", "_"))
}

func (s *sketch) say(text string) { s.alt = append(s.alt, text) }

// first says what is among the first things to know of the drawing.
func (s *sketch) first(text string) {
	s.say(text)
	s.gist = append(s.gist, text)
}

// para sets wrapped small text and goes below it.
func (s *sketch) para(heavy bool, text string) {
	for _, l := range wrap(text, SmallText, heavy, Width-2*margin) {
		s.y += lineGap
		s.text("", Start, SmallText, heavy, Point{margin, s.y}, l)
	}
}

// section sets a heading under a rule.
func (s *sketch) section(text string) {
	s.y += 34
	s.line("", Faint, 2, Point{margin, s.y}, Point{Width - margin, s.y})
	s.y += 50
	s.text("", Start, 38, true, Point{margin, s.y}, text)
}

// banner sets title and decision, the decision in a frame whose weight tells it
// apart without colour.
func (s *sketch) banner() {
	s.text("", Start, 48, true, Point{margin, 70}, s.Title)
	word, pen := verdict(s.p), Ink
	w := measure(word, 40, true) + 48
	frame := 4.0
	if s.p.Decision != calc.Go {
		pen, frame = Warn, 10
	}
	s.y = 96
	s.add(Op{Kind: Polygon, Part: "decision", Pen: pen, Stroke: frame, At: []Point{
		{margin, s.y}, {margin + w, s.y}, {margin + w, s.y + 68}, {margin, s.y + 68}}})
	s.text("", Start, 40, true, Point{margin + 24, s.y + 48}, word)
	s.y += 78
	s.first(say("alt_decision", word))
}

func (s *sketch) head() {
	s.banner()
	t := s.p.Tackle
	var lines []string
	switch {
	case t.Compound != nil:
		lines = append(lines, say("compound", t.Parts, t.Compound.Parts))
	case t.Parts == 1 && t.HaulFrom == "moving":
		lines = append(lines, say("straight"))
	default:
		lines = append(lines, say("parts", t.Parts, say("from_"+t.HaulFrom)))
	}
	switch {
	case t.LeadBlocks > 0 && s.c.Tackle.LeadAngle != nil:
		lines = append(lines, say("leads_angle", t.LeadBlocks, degrees(s.c.Tackle.LeadAngle.Best)))
	case t.LeadBlocks > 0:
		lines = append(lines, say("leads_untold", t.LeadBlocks))
	}
	if s.p.Force.High > 0 {
		lines = append(lines, say("along", figure(max(0, s.p.Force.Low.Kilonewtons()), math.Floor), both(s.p.Force.High, math.Ceil)))
	} else {
		lines = append(lines, say("none", both(-s.p.Force.Low, math.Ceil)))
	}
	haul := len(lines)
	lines = append(lines, say("haul", both(max(0, t.Haul.High), math.Ceil)))
	if s.p.Puller != nil && s.p.Puller.Available != nil {
		lines = append(lines, say("gives", both(s.p.Puller.Available.Low, math.Floor)))
	} else {
		lines = append(lines, say("gives_untold"))
	}
	if s.p.RunsAlone {
		lines = append(lines, say("runs"))
	}
	for i, l := range lines {
		s.para(i == 0, l)
		if i == 0 || i == haul {
			s.first(l + ".")
			continue
		}
		s.say(l + ".")
	}
}

// balloon sets the number of a place, ringed twice where it is the weakest.
func (s *sketch) balloon(use string, at Point) {
	n, ok := s.numbers[use]
	if !ok {
		return
	}
	if use == s.weakest {
		s.disc("", Warn, Page, at, 31)
	}
	s.disc("number", Ink, Page, at, 24)
	s.text("number", Middle, SmallText, true, Point{at.X, at.Y + 12}, figure(float64(n), math.Round))
}
