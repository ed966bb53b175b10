package bound

import (
	"math"
	"slices"

	"linetender/calc/unit"
)

// phrase is a whole text, read: SI figures and how they came.
type phrase struct {
	low, best, high      float64
	bareLow, bareHigh    float64 // the figure alone: a range's middle, a spread's figure
	name                 string
	system               unit.System
	vague, ranged, rough bool
	ends                 bool // both ends were told
	mixed                bool // a sum of which not every part came as a range
}

// read reads tokens as one quantity, a range of two, or one with a spread.
//
// A dash joins a range, a fraction and a number in words alike, and "and" stands
// in numbers too. So every place where the text might divide is tried, and it
// counts as read only if all readings that make sense agree.
func (d *dimension) read(tokens []token) (phrase, *fault) {
	if len(tokens) == 0 {
		return phrase{}, &fault{rank: rankValue, problem: "is empty"}
	}
	for _, t := range tokens {
		if slices.ContainsFunc(oneSided, t.is) {
			return phrase{}, &fault{rank: rankSpread, problem: "leaves one end open", wants: "both ends", example: d.ranges}
		}
	}
	if i := slices.IndexFunc(tokens, func(t token) bool { return t.is("±") }); i >= 0 {
		return d.spread(tokens[:i], tokens[i+1:])
	}
	if i := d.plus(tokens); i > 0 {
		return d.sum(tokens[:i], tokens[i+1:])
	}
	var found []phrase
	var refused *fault
	keep := func(p phrase, f *fault) {
		if f != nil {
			refused = worse(refused, f)
		} else if !slices.Contains(found, p) {
			found = append(found, p)
		}
	}
	divide, opened := []string{"to", "-", "or", "til", "till", "until"}, false
	switch {
	case tokens[0].is("between"):
		divide, tokens, opened = []string{"and", "to", "-"}, tokens[1:], true
	case tokens[0].is("from"):
		divide, tokens, opened = []string{"to", "-", "til", "till", "until"}, tokens[1:], true
	default:
		// Whole before divided: in "twenty-four hundred" the dash joins no range.
		p, f := d.single(tokens)
		if f == nil {
			return p, nil
		}
		refused = f
	}
	for i, t := range tokens {
		if i > 0 && i < len(tokens)-1 && slices.ContainsFunc(divide, t.is) {
			keep(d.between(tokens[:i], tokens[i+1:]))
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		return phrase{}, &fault{rank: rankValue, problem: "may be read in two ways", wants: "both ends with their unit", example: d.ranges}
	case refused == nil && opened:
		return phrase{}, &fault{rank: rankSpread, problem: "leaves one end open", wants: "both ends", example: d.ranges}
	}
	return phrase{}, refused
}

// plus returns where a sum divides: at its last plus, with something on either
// side. Only weights come in parts.
func (d *dimension) plus(tokens []token) int {
	for i := len(tokens) - 2; i > 0 && d.sums; i-- {
		if tokens[i].is("+") || tokens[i].is("plus") {
			return i
		}
	}
	return 0
}

// sum reads a quantity in parts. What is not sure of one part is not sure of
// the sum, so ends are added to ends.
func (d *dimension) sum(left, right []token) (phrase, *fault) {
	a, f := d.read(left)
	if f != nil {
		return phrase{}, f
	}
	b, f := d.read(right)
	if f != nil {
		return phrase{}, f
	}
	p := phrase{low: a.low + b.low, best: a.best + b.best, high: a.high + b.high, name: a.name, system: max(a.system, b.system),
		bareLow: a.bareLow + b.bareLow, bareHigh: a.bareHigh + b.bareHigh,
		vague: a.vague || b.vague, ranged: a.ranged || b.ranged, ends: a.ends && b.ends, rough: a.rough || b.rough, mixed: a.mixed || b.mixed || a.ranged != b.ranged}
	if p.mixed { // what is not sure of the other part is not in the range of the one
		p.bareLow, p.bareHigh = p.low, p.high
	}
	return d.checked(p)
}

// whole reads tokens as one amount with nothing left over.
func (d *dimension) whole(tokens []token) (amount, *fault) {
	s := &scan{tokens: tokens}
	a, f := s.amount(d)
	switch {
	case f != nil:
		return amount{}, f
	case s.done():
		return a, nil
	case a.scale == nil && s.peek(0).kind == word && !s.peek(0).is("in"):
		return amount{}, &fault{rank: rankUnit, problem: "has no unit of " + d.noun}
	case a.scale == nil:
		return amount{}, &fault{rank: rankOther, problem: "is no " + d.noun}
	}
	return amount{}, &fault{rank: rankExtra, problem: "says more than one " + d.noun, wants: "only " + d.wants}
}

func (d *dimension) single(tokens []token) (phrase, *fault) {
	a, f := d.whole(tokens)
	if f != nil {
		return phrase{}, f
	}
	if a.scale == nil {
		if d.bare == nil {
			return phrase{}, noUnit()
		}
		a = a.in(d.bare)
	}
	low, high := a.si()
	return d.checked(phrase{low: low, best: middle(low, high), high: high, bareLow: low, bareHigh: high, name: a.scale.name, system: a.system, vague: a.vague, rough: a.rough})
}

func noUnit() *fault { return &fault{rank: rankUnit, problem: "has no unit"} }

// between reads a range. The first end may leave its unit to the second, with
// its thousands: "2.2 to 2.6 t", "five to six hundred kilos".
func (d *dimension) between(left, right []token) (phrase, *fault) {
	a, f := d.whole(left)
	if f != nil {
		return phrase{}, f
	}
	b, f := d.whole(right)
	if f != nil {
		return phrase{}, f
	}
	switch {
	case b.scale == nil && a.scale != nil:
		return phrase{}, &fault{rank: rankSpread, problem: "has no unit with the second figure", wants: "both ends with their unit", example: d.ranges}
	case b.scale == nil && d.bare == nil:
		return phrase{}, &fault{rank: rankSpread, problem: "has no unit", example: d.ranges}
	case b.scale == nil:
		b = b.in(d.bare)
	}
	if a.scale == nil {
		if b.compound {
			return phrase{}, &fault{rank: rankSpread, problem: "has no unit with the first figure", wants: "both ends with their unit", example: d.ranges}
		}
		if f := inDoubt(a.figure, b.scale); f != nil {
			return phrase{}, f
		}
		a = d.sharing(a, b)
	}
	aLow, aHigh := a.si()
	bLow, bHigh := b.si()
	if a.scale == oneInScale && b.scale == oneInScale && bLow < aLow {
		// 1 in 4 to 1 in 5 goes up in its own figures.
		aLow, aHigh, bLow, bHigh = bLow, bHigh, aLow, aHigh
	}
	// 2.6 t to 2600 kg are equal but for the last bit, which may fall either way.
	const rounding = 1e-12
	if aLow > bLow*(1+rounding) || aHigh > bHigh*(1+rounding) {
		return phrase{}, &fault{rank: rankSpread, problem: "is upside down", wants: "the smaller figure first", example: d.ranges}
	}
	low, high := min(aLow, bLow), max(aHigh, bHigh)
	mid := middle(low, high)
	return d.checked(phrase{low: low, best: mid, high: high, bareLow: mid, bareHigh: mid, name: b.scale.name, system: max(a.system, b.system),
		vague: a.vague || b.vague, ranged: true, ends: true, rough: a.rough || b.rough})
}

// sharing returns a in the unit of b, and multiplied as b was if that keeps it below b.
func (d *dimension) sharing(a, b amount) amount {
	if k := b.figure.many; k != 0 && a.figure.many == 0 && a.figure.value*k <= b.figure.value {
		a.figure.value *= k
	}
	return a.in(b.scale)
}

// spread reads a quantity give or take a share or an amount.
func (d *dimension) spread(left, right []token) (phrase, *fault) {
	if n := len(left); n > 0 && left[n-1].is(",") {
		left = left[:n-1]
	}
	if n := len(left); n > 0 && left[n-1].is("(") && len(right) > 0 && right[len(right)-1].is(")") {
		left, right = left[:n-1], right[:len(right)-1]
	}
	twice := &fault{rank: rankSpread, problem: "has more than one range or spread", wants: "only one", example: d.other}
	if slices.ContainsFunc(right, func(t token) bool { return t.is("±") }) {
		return phrase{}, twice
	}
	a, f := d.whole(left)
	if f != nil {
		if _, g := d.read(left); g == nil && d.plus(left) == 0 {
			f = twice
		}
		return phrase{}, f
	}
	share, isShare := percent(right)
	by, f := d.whole(right)
	switch {
	case !isShare && f != nil:
		return phrase{}, f
	case !isShare && by.scale == nil && d.bare != nil && (a.scale == nil || a.scale == d.bare):
		by = by.in(d.bare)
		a = a.in(d.bare)
	case !isShare && by.scale == nil:
		return phrase{}, &fault{rank: rankUnit, problem: "has a spread without a unit", wants: "the spread in per cent or with its unit", example: d.other}
	case a.scale == nil && d.bare != nil && isShare:
		a, by = a.in(d.bare), amount{}
	case a.scale == nil && (by.scale == nil || by.compound):
		return phrase{}, noUnit()
	case a.scale == nil:
		if f := inDoubt(a.figure, by.scale); f != nil {
			return phrase{}, f
		}
		a = a.in(by.scale)
	}
	if isShare && !(share <= 1) {
		return phrase{}, &fault{rank: rankSpread, problem: "has a spread over 100 %", wants: "a smaller spread, or both ends", example: d.ranges}
	}
	p := phrase{name: a.scale.name, system: a.system, vague: a.vague || by.vague, ranged: true, rough: a.rough || by.rough}
	low, high := a.si()
	p.best, p.bareLow, p.bareHigh = middle(low, high), low, high
	p.low, p.high = math.Inf(1), math.Inf(-1)
	widen := func(low, high float64) { p.low, p.high = min(p.low, low), max(p.high, high) }
	if isShare {
		widen(a.scale.si(a.low*(1-share)), a.scale.si(a.high*(1+share)))
	}
	// Of a grade in per cent, a spread in per cent may be a share or points: hold both.
	if f == nil && by.scale != nil && (!isShare || by.scale == a.scale) {
		if (by.scale.bend == nil) == (a.scale.bend == nil) {
			widen(a.scale.si(a.low-by.high), a.scale.si(a.high+by.high))
		} else {
			_, d := by.si()
			widen(low-d, high+d)
		}
	}
	if p.low < 0 {
		return phrase{}, &fault{rank: rankSpread, problem: "spreads below zero", wants: "both ends", example: d.ranges}
	}
	return d.checked(p)
}

// percent reads tokens as a share in per cent.
func percent(tokens []token) (share float64, ok bool) {
	s := &scan{tokens: tokens}
	n, ok := s.number()
	if !ok || n.form == formComma3 {
		return 0, false
	}
	ok = s.take("%", "percent", "pct") || s.take("per") && s.take("cent")
	return n.value / 100, ok && s.done()
}

// checked returns p if it may be calculated with. The longest text holds no figure
// that could overflow; this keeps the promise should that change.
func (d *dimension) checked(p phrase) (phrase, *fault) {
	if !(0 <= p.low && p.low <= p.best && p.best <= p.high && p.high <= math.MaxFloat64) {
		return phrase{}, &fault{rank: rankValue, problem: "is too large"}
	}
	return p, nil
}
