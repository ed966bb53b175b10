package bound

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/unit"
)

// amount is one written quantity on its scale's own line.
type amount struct {
	low, high float64
	scale     *scale // nil if no unit was written
	figure    figure // the number, where one number is all there was
	system    unit.System
	vague     bool
	rough     bool
	compound  bool
}

func (a amount) si() (low, high float64) { return a.scale.si(a.low), a.scale.si(a.high) }

// in returns a, written without a unit, as taken in the given scale.
func (a amount) in(c *scale) amount {
	low, high := a.figure.value*c.low, a.figure.value*c.high
	return amount{low: low, high: high, scale: c, figure: a.figure, system: c.system, vague: low != high, rough: a.rough}
}

// rough words tell that a figure is not exact, without saying by how much.
var rough = []string{"about", "around", "approximately", "approx", "roughly", "circa", "ca", "bout", "say", "some", "~"}

// oneSided words leave one end of a range unsaid.
var oneSided = []string{"over", "under", "above", "below", "least", "most", "more", "less", "max", "maximum", "min",
	"minimum", "upto", "exceeding", "<", ">", "≤", "≥"}

// amount consumes one quantity, with its unit if it has one.
func (s *scan) amount(d *dimension) (a amount, f *fault) {
	loose := false
	for s.take(rough...) {
		loose = true
	}
	s.take("+")
	defer func() { a.rough = loose }()
	if s.peek(0).is("-") || s.peek(0).is("minus") {
		return amount{}, &fault{rank: rankValue, problem: "is below zero"}
	}
	if d.special != nil {
		if a, ok := d.special(s); ok {
			return a, nil
		}
	}
	n, ok := s.number()
	switch {
	case !ok && s.refusedFraction():
		return amount{}, &fault{rank: rankValue, problem: "has a fraction of one or more", wants: "it as a whole and a part", example: "1 1/2"}
	case !ok:
		// "a ton", "ton and a half"; a unit alone is no figure.
		article := s.take("a", "an")
		if !s.ahead(d) {
			return amount{}, d.none()
		}
		if !article && !s.halfAfter(d) {
			return amount{}, &fault{rank: rankUnit, problem: "has no number"}
		}
		n = figure{value: 1}
	case n.part:
		s.of(d)
	case n.pair:
		loose = true
		s.try(func() bool { return s.take("of") && s.ahead(d) })
	}
	s.try(func() bool { return s.take("-") && s.ahead(d) }) // a two-inch rope
	c := s.scale(d)
	if c == nil {
		return amount{low: n.value, high: n.value, figure: n}, nil
	}
	if f := inDoubt(n, c); f != nil {
		return amount{}, f
	}
	a = amount{figure: n}.in(c)
	a = s.smaller(d, a)
	for s.take("~") {
		loose = true
	}
	return a, nil
}

// of consumes what stands between a fraction and its unit: three quarters of a ton.
func (s *scan) of(d *dimension) {
	s.try(func() bool { s.take("of"); s.take("a", "an"); return s.ahead(d) })
}

// ahead reports whether a unit comes next.
func (s *scan) ahead(d *dimension) bool {
	ahead := *s
	return ahead.scale(d) != nil
}

// halfAfter reports whether a unit and "and a half" come next.
func (s *scan) halfAfter(d *dimension) bool {
	ahead := *s
	if ahead.scale(d) == nil {
		return false
	}
	_, ok := ahead.andPart()
	return ok
}

// scale consumes the name of a unit, the longest that fits.
func (s *scan) scale(d *dimension) *scale {
	var name []string
	var found *scale
	ahead := *s
	for len(name) < 3 {
		if len(name) > 0 {
			ahead.take("-") // pound-force
		}
		if ahead.done() || ahead.peek(0).kind == numeral {
			break
		}
		name = append(name, ahead.peek(0).text)
		ahead.at++
		if c := d.scales[strings.Join(name, " ")]; c != nil {
			found, s.at = c, ahead.at
		}
	}
	return found
}

// smaller consumes what may follow a quantity to be added to it: a smaller unit,
// as in 3 ft 6 in, or "and a half".
func (s *scan) smaller(d *dimension, a amount) amount {
	last := a
	for last.figure.value == math.Trunc(last.figure.value) {
		var next amount
		if !s.try(func() bool {
			joined := s.take("and")
			if last.scale.name == "ft" {
				s.take("-") // 3'-6"
			}
			n, ok := s.number()
			if !ok || n.many != 0 {
				return false
			}
			if n.part {
				s.of(d)
			}
			c := s.scale(d)
			switch {
			case c == nil && last.scale.then != "" && s.done() && !joined && !n.part:
				c = d.scales[last.scale.then] // 3 ft 6, 5'6, 11 stone 6
			case c == nil || !slices.Contains(last.scale.finer, c.name) || inDoubt(n, c) != nil:
				return false
			}
			next = amount{figure: n}.in(c)
			return next.high < last.scale.low
		}) {
			break
		}
		a = amount{low: a.low + next.low, high: a.high + next.high, scale: a.scale,
			system: max(a.system, next.system), vague: a.vague || next.vague, compound: true}
		last = next
	}
	if !a.compound && a.figure.many == 0 && a.figure.value == math.Trunc(a.figure.value) {
		if v, ok := s.andPart(); ok {
			a = amount{figure: figure{value: a.figure.value + v}}.in(a.scale)
		}
	}
	return a
}

// inDoubt refuses a mark that may be meant the other way.
func inDoubt(n figure, c *scale) *fault {
	if !(n.form == formComma3 && c.doubt&doubtComma != 0 || n.form == formPoint3 && c.doubt&doubtPoint != 0) {
		return nil
	}
	large, small := n.value, n.value/1000
	if n.form == formPoint3 {
		large, small = n.value*1000, n.value
	}
	return &fault{rank: rankValue, problem: "may mean two things, a thousand times apart",
		wants: "the one that is meant", example: fmt.Sprintf("%.0f %s or %g %s", large, c.name, small, c.name)}
}

func (d *dimension) none() *fault { return &fault{rank: rankNone, problem: "is no " + d.noun} }

// oneIn consumes a slope as rise in level run: 1 in 4, one in four, 3:12.
func oneIn(s *scan) (a amount, ok bool) {
	ok = s.try(func() bool {
		rise, ok := s.number()
		if !ok {
			return false
		}
		colon := s.take(":")
		if !colon && !s.take("in") {
			return false
		}
		run, ok := s.number()
		// With a colon some put the run first; a rise above the run is theirs.
		if !ok || !(run.value > 0) || colon && rise.value > run.value {
			return false
		}
		t := rise.value / run.value
		a = amount{low: t, high: t, scale: oneInScale, compound: true}
		return true
	})
	return a, ok
}
