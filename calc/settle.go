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
	at   int        // its place in the seen list
	most unit.Force // of the load that is there now
	then unit.Force // of the one that was there
	sum  string     // that gives it
	cell bool       // a load cell says so
	odd  bool       // it does not fit, so it may lower the puller but not the need
	here bool       // it holds where it was seen and nowhere else: likewise
}

// hereOnly reports whether something seen says nothing of the way that is left.
// Nobody sees from a load cell what lies ahead, so that the rest of the way is
// alike must have been said, and what was told of a step speaks against it, as
// does a load that lies otherwise since: steeper, softer, deeper; or that was told
// to weigh otherwise.
func (l *lesson) hereOnly(i int) bool {
	return !l.c.Seen[i].Alike || !l.then[i].still(l.c.Load) || stepped(l.c.Load)
}

// place says why it is so: of the load, or of the way.
func (l *lesson) place(i int) string {
	if l.then[i].other(l.c.Load) {
		return "-other"
	}
	return "-here"
}

// cap takes that a load needed no more than f, and returns whether it says
// something of the way that is left.
func (l *lesson) cap(i int, f unit.Force, sum string, cell bool) (here bool) {
	most := f
	if !cell { // only a cell says that it is under the best figure
		most = max(most, l.out.Told.Best)
	}
	here = l.hereOnly(i)
	l.caps = append(l.caps, ceiling{at: i, most: min(most, l.out.Told.High), then: f, sum: sum, cell: cell, here: here})
	return here
}

// read takes what a load cell showed while the load moved. Inside what was told
// it narrows the need from both sides; outside it only ever raises it. What
// keeps a load moving is less than what starts it, so the high end is what
// starting may take. Of a reading alone nobody said that the load moved under
// it: one that stood there proves what it needs at least and nothing else.
func (l *lesson) read(i int, s job.Seen) {
	m := l.then[i]
	g := m.gain(s)
	told, r := m.n.force, onLoad(s, g)
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
	up := func(f unit.Force) unit.Force { return m.against(f, l.out.Told) }
	switch {
	case r.Low > told.High:
		did = "read-over"
		l.say(i, did, at, needed(r.Low), allowed(max(0, told.High)), needed(start))
		if up(r.Low) > l.out.Told.High { // what is told since may explain it
			l.misfit(i, loadFields...)
		}
		l.low, l.best = max(l.low, up(r.Low)), max(l.best, up(r.Best))
		l.raise(up(start), carried(sum, start, up(start)))
		l.said[i].AtLeast, l.said[i].AtMost = &r.Low, &start
		return
	case r.Best > told.High:
		did, last = "read-above", max(start, told.High)
		l.raise(up(start), carried(sum, start, up(start)))
		l.low, l.best = max(l.low, up(r.Low)), max(l.best, up(r.Best))
	case s.What != "move" && s.Moved == nil:
		did = "read-stood"
		l.low = max(l.low, up(r.Low))
		l.said[i].AtLeast = &r.Low
	case start < told.Low: // what keeps it moving may be so much under what was told, and no more
		did, last = "read-under", told.Low
		if start < l.out.Told.Low {
			l.misfit(i, loadFields...)
		}
	case r.Best < told.Low:
		did = "read-edge"
	default:
		l.low, l.best = max(l.low, up(r.Low)), max(l.best, up(r.Best))
		here := l.cap(i, start, sum, true)
		switch {
		case start >= told.High:
			did = "read-fits"
		case here:
			did = "read" + l.place(i)
		}
		l.said[i].AtLeast, l.said[i].AtMost = &r.Low, &start
	}
	l.say(i, did, at, needed(r.Low), needed(r.High), needed(last))
}

// moved takes a load that moved: it needed no more than the most that the
// puller can have given.
func (l *lesson) moved(i int, s job.Seen) {
	m := l.then[i]
	told, g := m.n.force, m.gain(s)
	top, all := m.top(l.powers, l.then[i+1:])
	most := top.Scale(float64(g.High))
	least := min(told.Low, l.out.Told.Low) // what is told since may explain it
	over := m.still(l.c.Load) && most < l.low
	if over {
		least = max(least, l.low)
	}
	switch {
	case !all:
		l.say(i, "moved-unknown", rigged(s))
	case most < least || over:
		l.say(i, "moved-over", rigged(s), needed(most), allowed(least))
		l.misfit(i, l.pullFields()...)
		if most >= told.Low {
			l.caps = append(l.caps, ceiling{at: i, most: max(most, told.Best), then: max(most, told.Best), odd: true})
		}
	case most >= told.High:
		l.say(i, "moved-fits", rigged(s))
		l.said[i].AtMost = &most
	default:
		sum := fmt.Sprintf("max(%s × %s, %s)", inNewtons(top), in(float64(g.High)), inNewtons(told.Best))
		most = max(most, told.Best)
		did := "moved"
		if l.cap(i, most, sum, false) {
			did = "moved" + l.place(i)
		}
		l.say(i, did, rigged(s), needed(most))
		l.said[i].AtMost = &most
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
	for i, s := range l.c.Seen {
		if s.What == "slip" {
			l.slip(i, s, l.underAll(l.then[i]))
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

// underAll is the least of what was told and of every ceiling of such a load, for
// the pullers: whatever it needed so little of, they gave less where they slipped.
func (l *lesson) underAll(m *moment) unit.Force {
	high := m.n.force.High
	for _, c := range l.caps {
		if m.same(l.then[c.at]) {
			high = min(high, c.then)
		}
	}
	return high
}

// slip lowers the pullers that may have slipped: what they gave did not move
// the load, so over the tackle it was less than the load needs at most. Where the
// slip belies what was told, that holds of the need as it was told: which of the
// two was wrong nobody knows, so each is taken at its worst end.
func (l *lesson) slip(i int, s job.Seen, most unit.Force) {
	m := l.then[i]
	g := m.gain(s)
	f, _, known := l.least(i, s, g)
	belied := known && f > m.n.force.High
	if most <= 0 { // by what was told it runs by itself
		most = f
	}
	gave := most.Scale(1 / float64(g.Low))
	if s.Force != nil { // it slipped at what the cell showed
		shown := s.Force.High
		if s.At == AtLoad {
			shown = shown.Scale(1 / float64(g.Low))
		}
		gave = min(gave, shown)
	}
	left, least, found, here := bound.Ratio(1), unit.Force(0), false, false
	for k := range m.powers {
		bare, ok := m.powers[k].bare()
		if !ok || gave <= 0 {
			continue
		}
		share := bound.Ratio(1)
		if bare.High > gave {
			share = bound.Ratio(gave / bare.High)
		}
		here = l.lower(m, k, share, belied) || here
		if !found || share < left {
			left, least = share, bare.Low
		}
		found = true
	}
	switch {
	case !found:
		l.say(i, "slip-unknown", rigged(s))
		return
	case belied:
		need := f
		if may, _, ok := l.mostOn(i, s); ok {
			need = may
		}
		did := "raises"
		if !here {
			did = "raises-other"
		}
		l.say(i, did, rigged(s), allowed(least), needed(need), percent(1-float64(left)))
	case left == 1:
		l.say(i, "slip-fits", rigged(s))
	case !here:
		l.say(i, "slip-other", rigged(s), needed(gave))
	default:
		l.say(i, "lowers", rigged(s), needed(gave), percent(1-float64(left)))
	}
	l.said[i].Pull = &gave
}

// lower lowers what the puller at place k of a moment gives, where it is still
// there, and what the ground holds of every other on such ground: grip is the
// ground's as much as the machine's, whatever the machine is called, and on wheels
// or on tracks (judgment: errs low). It reports whether it is there. A slip
// that belies all that was told goes with the machine to other ground as well: what
// was wrong may be its weight or its tyres (judgment: errs low).
func (l *lesson) lower(m *moment, k int, share bound.Ratio, belied bool) (here bool) {
	for j, now := range l.c.Pullers {
		switch p := m.by[k]; {
		case m.places[k] == j && (m.is(j, l.c.Pullers) || belied && m.elsewhere(k, now)):
			l.out.Left[j] = min(l.out.Left[j], share)
			here = true
		case m.powers[k].machine() && p.Ground == now.Ground:
			l.out.Grip[j] = min(l.out.Grip[j], share)
		}
	}
	return here
}
