package calc

import (
	"fmt"
	"math"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// ceiling is a figure that the need is not over, where it was seen.
type ceiling struct {
	at   int // its place in the seen list
	most unit.Force
	sum  string // that gives it
	cell bool   // a load cell says so
	odd  bool   // it does not fit, so it may lower the puller but not the need
	here bool   // it holds where it was seen and nowhere else: likewise
}

// hereOnly reports whether something seen says nothing of the way that is left.
// Nobody sees from a load cell what lies ahead, so that the rest of the way is
// alike must have been said, and what was told of a step speaks against it.
func (l *lesson) hereOnly(s job.Seen) bool {
	step := l.c.Load.Lip
	return !s.Alike || step != nil && !step.None
}

// read takes what a load cell showed while the load moved. Inside what was told
// it narrows the need from both sides; outside it only ever raises it. What
// keeps a load moving is less than what starts it, so the high end is what
// starting may take.
func (l *lesson) read(i int, s job.Seen) {
	g := l.gain(s)
	told, r := l.out.Told, onLoad(s, g)
	over, _ := handbook.StartOverMoving()
	start := r.High.Scale(float64(over))
	sum := inNewtons(s.Force.High)
	if s.At == AtHaul {
		sum += " × " + in(float64(g.High))
	}
	sum += " × " + in(float64(over))
	at := map[string]string{AtHaul: "the haul line with " + rigged(s), AtLoad: "the load"}[s.At]
	did := "read"
	last := start
	switch {
	case r.Low > told.High:
		did = "read-over"
		l.say(i, did, at, needed(r.Low), allowed(max(0, told.High)), needed(start))
		l.misfit(i, loadFields...)
		l.low, l.best = max(l.low, r.Low), max(l.best, r.Best)
		l.raise(start, sum)
		l.said[i].AtLeast, l.said[i].AtMost = &r.Low, &start
		return
	case r.Best > told.High:
		did, last = "read-above", max(start, told.High)
		l.raise(start, sum)
		l.low, l.best = max(l.low, r.Low), max(l.best, r.Best)
	case r.High < told.Low:
		did, last = "read-under", told.Low
		l.misfit(i, loadFields...)
	case r.Best < told.Low:
		did = "read-edge"
	default:
		l.low, l.best = max(l.low, r.Low), max(l.best, r.Best)
		l.caps = append(l.caps, ceiling{at: i, most: min(start, told.High), sum: sum, cell: true, here: l.hereOnly(s)})
		switch {
		case start >= told.High:
			did = "read-fits"
		case l.hereOnly(s):
			did = "read-here"
		}
		l.said[i].AtLeast, l.said[i].AtMost = &r.Low, &start
	}
	l.say(i, did, at, needed(r.Low), needed(r.High), needed(last))
}

// moved takes a load that moved: it needed no more than the most that the
// puller can have given.
func (l *lesson) moved(i int, s job.Seen) {
	told, g := l.out.Told, l.gain(s)
	top, all := unit.Force(0), len(l.powers) > 0
	for _, at := range l.pullers(s) {
		f, ok := l.powers[at].could()
		top, all = max(top, f), all && ok
	}
	most := top.Scale(float64(g.High))
	switch {
	case !all:
		l.say(i, "moved-unknown", rigged(s))
	case most < told.Low || most < l.low:
		l.say(i, "moved-over", rigged(s), needed(most), allowed(max(told.Low, l.low)))
		l.misfit(i, l.pullFields()...)
		if most >= told.Low {
			l.caps = append(l.caps, ceiling{at: i, most: max(most, told.Best), odd: true})
		}
	case most >= told.High:
		l.say(i, "moved-fits", rigged(s))
		l.said[i].AtMost = &most
	default:
		sum := fmt.Sprintf("max(%s × %s, %s)", inNewtons(top), in(float64(g.High)), inNewtons(told.Best))
		most = max(most, told.Best)
		did := "moved"
		if l.hereOnly(s) {
			did = "moved-here"
		}
		l.say(i, did, rigged(s), needed(most))
		l.said[i].AtMost = &most
		l.caps = append(l.caps, ceiling{at: i, most: most, sum: sum, here: l.hereOnly(s)})
	}
}

// settle brings the need to what all that was seen leaves of it, and then the
// pullers. A ceiling that was seen before the puller slipped or the load stuck
// again counts for the puller, whose pull it lowers, but no longer for the load.
func (l *lesson) settle() {
	for i, s := range l.c.Seen {
		if s.What == "move" && s.Force == nil && !l.said[i].Misfit {
			l.moved(i, s)
		}
	}
	stood := -1
	for i, s := range l.c.Seen {
		if s.What == "slip" || s.What == "stuck" {
			stood = i
		}
	}
	told := l.out.Told
	high := l.under(stood)
	if l.raised > told.High {
		high = l.raised
	} else if high < told.High {
		l.out.Sum = l.caps[slices.IndexFunc(l.caps, func(c ceiling) bool { return c.at > stood && !c.odd && !c.here && c.most == high })].sum
	}
	low := min(l.low, high)
	l.out.Need = Force{Low: low, Best: min(max(told.Best, l.best, low), high), High: high}
	for _, c := range l.caps {
		if c.at < stood && c.most < told.High && !c.here {
			l.say(c.at, "later", l.said[c.at].Text)
		}
	}
	everything := l.underAll()
	for i, s := range l.c.Seen {
		if s.What == "slip" {
			l.slip(i, s, everything)
		}
	}
}

// under is the least of what was told and of the ceilings that were seen after
// a place in the list. Several readings may have been taken on unlike ground,
// so of those the highest counts; and none counts that lies under what the
// load is known to need.
func (l *lesson) under(after int) unit.Force {
	high, cell := l.out.Told.High, unit.Force(math.Inf(-1))
	for _, c := range l.caps {
		switch {
		case c.at <= after || c.odd || c.here:
		case c.cell:
			cell = max(cell, c.most)
		case c.most >= l.low:
			high = min(high, c.most)
		}
	}
	if cell >= l.low {
		high = min(high, cell)
	}
	return high
}

// underAll is the least of what was told and of every ceiling, for the pullers:
// whatever the load needed so little of, they gave less where they slipped.
func (l *lesson) underAll() unit.Force {
	high := l.out.Told.High
	for _, c := range l.caps {
		high = min(high, c.most)
	}
	return high
}

// slip lowers the pullers that may have slipped: what they gave did not move
// the load, so over the tackle it was less than the load needs at most.
func (l *lesson) slip(i int, s job.Seen, most unit.Force) {
	g := l.gain(s)
	f, _, known := l.least(s, g)
	if known {
		most = max(most, f)
	}
	gave := most.Scale(1 / float64(g.Low))
	if s.Force != nil { // it slipped at what the cell showed
		shown := s.Force.High
		if s.At == AtLoad {
			shown = shown.Scale(1 / float64(g.Low))
		}
		gave = min(gave, shown)
	}
	left, least, found := bound.Ratio(1), unit.Force(0), false
	for _, at := range l.pullers(s) {
		bare, ok := l.powers[at].bare()
		if !ok || gave <= 0 {
			continue
		}
		k := bound.Ratio(1)
		if bare.High > gave {
			k = bound.Ratio(gave / bare.High)
		}
		l.out.Left[at] = min(l.out.Left[at], k)
		if !found || k < left {
			left, least = k, bare.Low
		}
		found = true
	}
	switch {
	case !found:
		l.say(i, "slip-unknown", rigged(s))
		return
	case left == 1:
		l.say(i, "slip-fits", rigged(s))
	case known && f > l.out.Told.High:
		l.say(i, "raises", rigged(s), allowed(least), needed(f), percent(1-float64(left)))
	default:
		l.say(i, "lowers", rigged(s), needed(gave), percent(1-float64(left)))
	}
	l.said[i].Pull = &gave
}
