package calc

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// lesson draws from what the crew saw what it says of need and pull.
//
// Nothing of it is ever allowed to flatter. What says that a pull is harder
// than was told is believed at once; what says that it is easier is believed
// only inside what was told, only until the puller slips or the load sticks
// again, and never below the best figure unless a load cell says so. Where the
// two can't both be true a check fails.
type lesson struct {
	c      job.Case
	n      need // as it is now, as the powers
	powers []power
	then   []*moment // of each thing seen
	out    job.Learnt
	said   []Saw
	low    unit.Force // the least that the load needs, by what was seen
	best   unit.Force // what load cells read
	raised unit.Force // the most that it may need, where that is over what was told
	caps   []ceiling
}

// learn returns what the seen list of a case comes to and what each of it did.
func learn(c job.Case) (job.Learnt, []Saw) {
	c.Learnt = nil
	c = pinned(c)
	l := &lesson{c: c, n: reckonNeed(c, view{})}
	for i := range c.Pullers {
		l.powers = append(l.powers, reckonPower(c, i, view{}))
		l.out.Left, l.out.Grip = append(l.out.Left, 1), append(l.out.Grip, 1)
	}
	for _, s := range c.Seen {
		l.then = append(l.then, momentOf(c, s))
	}
	l.out.Told = l.n.force
	l.low, l.best, l.raised = l.n.force.Low, l.n.force.Best, l.n.force.High
	l.said = make([]Saw, len(c.Seen))
	for i, s := range c.Seen {
		l.said[i] = Saw{What: s.What, Parts: s.Parts, HaulFrom: s.HaulFrom}
	}
	for i, s := range c.Seen {
		if l.misread(i, s) {
			continue
		}
		switch s.What {
		case "slip":
			l.slipped(i, s)
		case "stuck":
			l.stuck(i, s)
		case "reading":
			l.read(i, s)
		case "move":
			if s.Force != nil { // a cell says more than the moving does
				l.read(i, s)
			}
		}
	}
	l.settle()
	return l.out, l.said
}

// misread takes marks that can't be, before all else that was seen with them:
// less rope came in than the load's way takes, or more than that and the rope's
// stretch. A load that ran ahead of its line, fewer parts than were told, a rope
// that slips or an anchor that comes make a cell's figure as worthless as the
// marks, so nothing is drawn from either and a check fails until it is cleared.
func (l *lesson) misread(i int, s job.Seen) bool {
	if s.What != "move" && s.What != "reading" || s.TookIn == nil || s.Moved == nil {
		return false
	}
	parts := s.Parts * max(1, s.HauledBy)
	switch advanced(parts, *s.TookIn, *s.Moved).Verdict {
	case AdvanceCannot:
		l.say(i, "marks", rigged(s))
		l.misfit(i, "tackle.parts")
		return true
	case AdvanceGives:
		over := taped(*s.TookIn).Low - taped(*s.Moved).High.Scale(float64(parts))
		if over <= l.stretches(i, s, parts) {
			return false
		}
		l.say(i, "gives", rigged(s), short(over))
		l.misfit(i, "anchors", "puller.hitch", "tackle.parts")
		return true
	}
	return false
}

// stretches is the most that the haul rope may have come in by its stretch: what it
// stretches at its working limit, a fifth of what breaks it, over all of it that is
// tight, in the share of that limit that the haul needs at most, or that a cell showed.
// What a puller could put on it beyond that was not needed to move the load, and an
// anchor that creeps must not pass for it (judgment: errs low). Where nobody told how
// long it is or what it bears, none is granted.
//
// Source: derived, a linear rope at its strain at break over its design factor.
func (l *lesson) stretches(i int, s job.Seen, parts int) unit.Length {
	c := l.c
	if c.Reach == nil || c.Lead == nil {
		return 0
	}
	haul := l.then[i].haul(s)
	factor, _, _ := handbook.DesignFactor("rope")
	strain := 0.0
	for _, g := range c.Gear {
		if g.Kind != "rope" || g.Use == "holding" || g.Rating.Force == nil || g.Rating.Kind == "unmarked" {
			continue
		}
		limit := g.Rating.Force.Low
		if g.Rating.Kind == "breaking" {
			limit = limit.Scale(1 / float64(factor))
		}
		if s, _, ok := handbook.StretchAtBreak(g.Material); ok && limit > 0 {
			strain = max(strain, float64(s.High/factor)*min(1, float64(haul/limit)))
		}
	}
	return (c.Reach.High.Scale(float64(parts)) + c.Lead.High).Scale(strain)
}

// haul is the most that was on the haul line while the load moved: what a cell
// showed, else what the load needed at most by what was told.
func (m *moment) haul(s job.Seen) unit.Force {
	g := m.gain(s)
	switch {
	case s.Force == nil:
		return max(0, m.n.force.High).Scale(1 / float64(g.Low))
	case s.At == AtHaul:
		return s.Force.High
	}
	return s.Force.High.Scale(1 / float64(g.Low))
}

func (l *lesson) say(i int, did string, args ...any) {
	t, ok := seenWords[did]
	if !ok {
		panic("calc: nothing to say of " + did)
	}
	l.said[i].Did, l.said[i].Text = did, filled(t, written(args))
}

func (l *lesson) misfit(i int, fields ...string) {
	l.said[i].Misfit = true
	l.out.Misfits = append(l.out.Misfits, job.Misfit{Seen: i, Fields: fields})
}

// The fields that say what the load needs, and what else bears on whether a
// puller moves it.
var loadFields = []string{"load.mass", "load.slope", "load.ground", "load.locked", "load.sunk", "load.belly", "load.lip"}

func (l *lesson) pullFields() []string {
	out := slices.Clone(loadFields)
	for _, w := range l.powers {
		out = append(out, w.path+".mass", w.path+".ground")
	}
	return out
}

// gain is what one unit of haul at the puller put on the load.
func (m *moment) gain(s job.Seen) Ratio {
	from := tackle.Moving
	if s.HaulFrom == tackle.Standing.String() {
		from = tackle.Standing
	}
	r := rig{first: tackle.Reeving{Parts: s.Parts, From: from}, leads: m.leads}
	if s.HauledBy > 0 {
		r.second = tackle.Reeving{Parts: s.HauledBy, From: tackle.Moving}
	}
	return r.gain(m.eta)
}

// gain is the force on the load for each unit of haul at the puller.
func (r rig) gain(eta Ratio) Ratio {
	g := must(tackle.Advantage(r.first, eta))
	if r.compound() {
		over := must(tackle.Advantage(r.second, eta))
		g = Ratio{Low: g.Low * over.Low, Best: g.Best * over.Best, High: g.High * over.High}
	}
	for range r.leads {
		g = Ratio{Low: g.Low * eta.Low, Best: g.Best * eta.Best, High: g.High * eta.High}
	}
	return g
}

// slipped takes what one slip says of the need: at least what the puller gave
// at its least, over the tackle. Where that is over all that was told of the need,
// one of the two was told wrong and nobody knows which: then the load may need as
// much as the puller can have given (judgment: errs high). Where nobody told what
// it gives at least, it may have been as much.
func (l *lesson) slipped(i int, s job.Seen) {
	g := l.then[i].gain(s)
	l.stood(i, s)
	f, sum, ok := l.least(i, s, g)
	if ok {
		l.atLeast(i, f, sum)
	}
	if !ok || f > l.then[i].n.force.High {
		l.mayNeed(i, s)
	}
}

// mayNeed raises the need to the most that may have been on the load while it
// stood, for no less than that can be ruled out. Where nobody told what the puller
// gives, nobody knows how much that was, and it has to be told before any go.
func (l *lesson) mayNeed(i int, s job.Seen) {
	f, sum, ok := l.mostOn(i, s)
	if !ok {
		l.out.Untold = append(l.out.Untold, l.untold(i)...)
		return
	}
	now := l.then[i].against(f, l.out.Told)
	l.raise(now, carried(sum, f, now))
}

// untold are the fields of what pulled that say how much it gives and that nobody
// told: of the case's puller where it was that, else of the thing seen.
func (l *lesson) untold(i int) []string {
	m := l.then[i]
	out := []string{}
	for k, w := range m.powers {
		if _, ok := w.could(); ok {
			continue
		}
		own := m.places[k] >= 0 && m.places[k] < len(l.c.Pullers) && l.c.Pullers[m.places[k]] == m.by[k]
		for _, f := range w.missing {
			if !own {
				f = fmt.Sprintf("seen[%d].by", i) + strings.TrimPrefix(f, w.path)
			}
			out = append(out, f)
		}
	}
	if len(out) == 0 {
		out = append(out, "puller.kind")
	}
	return out
}

// mostOn is the most that may have been on the load while it stood: what a load
// cell showed, else what the puller can have given at its most by what was told of
// it then, over the tackle; and the sum that gives it. Which of several it was may
// not be known, so the strongest counts.
func (l *lesson) mostOn(i int, s job.Seen) (unit.Force, string, bool) {
	m := l.then[i]
	g := m.gain(s)
	if s.Force != nil {
		sum := inNewtons(s.Force.High)
		if s.At == AtHaul {
			sum += " × " + in(float64(g.High))
		}
		return onLoad(s, g).High, sum, true
	}
	most := unit.Force(0)
	for _, w := range m.powers {
		f, ok := w.could()
		if !ok {
			return 0, "", false
		}
		most = max(most, f)
	}
	return most.Scale(float64(g.High)), fmt.Sprintf("%s × %s", inNewtons(most), in(float64(g.High))), len(m.powers) > 0
}

// atLeast takes a load that stood under force f. The low end goes up to what
// is told at most; over that either the load needs more or less was on it.
func (l *lesson) atLeast(i int, f unit.Force, sum string) {
	l.said[i].AtLeast = &f
	now := l.then[i].against(f, l.out.Told)
	l.low = max(l.low, min(now, l.out.Told.High))
	l.raise(now, carried(sum, f, now))
}

// carried is the sum of a force that was carried over to what is there now.
func carried(sum string, f, now unit.Force) string {
	if now == f || f == 0 {
		return sum
	}
	return sum + " × " + in(float64(now/f))
}

func (l *lesson) raise(f unit.Force, sum string) {
	if f > l.raised {
		l.raised, l.out.Sum = f, sum
	}
}

// least is the least that was on the load while it stood: what a load cell
// showed, else what the puller gives at its least; and the sum that gives it.
func (l *lesson) least(i int, s job.Seen, g Ratio) (unit.Force, string, bool) {
	if s.Force != nil {
		sum := inNewtons(s.Force.Low)
		if s.At == AtHaul {
			sum += " × " + in(float64(g.Low))
		}
		return onLoad(s, g).Low, sum, true
	}
	m := l.then[i]
	if s.What == "stuck" {
		effort, _ := handbook.EffortStop()
		best := m.n.force.Best
		f := best.Scale(float64(effort) * float64(g.Low/g.Best))
		return f, fmt.Sprintf("%s × %s × %s ÷ %s", inNewtons(best), in(float64(effort)), in(float64(g.Low)), in(float64(g.Best))), f > 0
	}
	var least unit.Force
	for k, w := range m.powers {
		grip, ok := w.bare()
		if !ok {
			return 0, "", false
		}
		if k == 0 || grip.Low < least {
			least = grip.Low
		}
	}
	return least.Scale(float64(g.Low)), fmt.Sprintf("%s × %s", inNewtons(least), in(float64(g.Low))), len(m.powers) > 0
}

// onLoad is what a load cell says is on the load, from where it hung.
func onLoad(s job.Seen, g Ratio) Force {
	f := *s.Force
	if s.At == AtLoad {
		return f
	}
	return Force{Low: f.Low.Scale(float64(g.Low)), Best: f.Best.Scale(float64(g.Best)), High: f.High.Scale(float64(g.High))}
}

func (l *lesson) stood(i int, s job.Seen) {
	m := l.then[i]
	stood := job.Stood{Parts: s.Parts, HaulFrom: s.HaulFrom, Gain: m.gain(s).Best * m.again(l.out.Told)}
	for j := range l.powers {
		stood.Pullers = append(stood.Pullers, m.noBetter(j, l.powers))
	}
	l.out.Stood = append(l.out.Stood, stood)
}

// stuck raises the need to what was on the load without moving it: the planned
// effort and what is put on top of it before a pull stops, unless a load cell
// tells. What is over all that is told has a cause that nobody has told. Without a
// cell nobody knows what was on it, so it may need as much as the puller can have
// given (judgment: errs high).
func (l *lesson) stuck(i int, s job.Seen) {
	m := l.then[i]
	l.stood(i, s)
	f, sum, ok := l.least(i, s, m.gain(s))
	switch told := m.n.force.High; {
	case !ok:
		l.say(i, "stuck-unknown", rigged(s))
		l.mayNeed(i, s)
		return
	case f > told && m.against(f, l.out.Told) > l.out.Told.High: // what is told since may explain it
		l.say(i, "stuck-over", rigged(s), needed(f), needed(max(0, told)))
		l.misfit(i, loadFields...)
	default:
		l.say(i, "stuck", rigged(s), needed(f))
		if most, _, ok := l.mostOn(i, s); ok && m.against(most, l.out.Told) > l.out.Told.High {
			l.say(i, "stuck-raises", rigged(s), needed(f), allowed(most))
		}
	}
	l.atLeast(i, f, sum)
	l.mayNeed(i, s)
}

// rigged names the rig that something was seen on.
func rigged(s job.Seen) string {
	if s.HauledBy > 0 {
		return fmt.Sprintf("%d parts hauled by %d parts", s.Parts, s.HauledBy)
	}
	if s.Parts == 1 {
		return "one part"
	}
	return fmt.Sprintf("%d parts", s.Parts)
}

var bareLimits = []string{"traction", "rating", "people"}

// bare is what the puller itself gives, with no thought of hitch or tipping:
// a machine slips by its grip, and people and winches by theirs.
func (w power) bare() (Force, bool) {
	var out Force
	found := false
	for _, l := range w.limits {
		if !slices.Contains(bareLimits, l.name) {
			continue
		}
		if !found {
			out, found = l.f, true
			continue
		}
		out = Force{Low: min(out.Low, l.f.Low), Best: min(out.Best, l.f.Best), High: min(out.High, l.f.High)}
	}
	return out, found && len(w.missing) == 0
}

// could is the most that the puller can have given while the load moved. A
// machine gives no more than its grip at its high end; a winch may give over
// its rating and people over what they can keep up, so of those it is the most
// that nothing stops.
func (w power) could() (unit.Force, bool) {
	if grip, ok := w.bare(); ok && w.machine() {
		return grip.High, true
	}
	if w.most == nil {
		return 0, false
	}
	return *w.most, true
}

// lower lowers what a puller may give to the share of it that is left after a
// slip. The whole range comes down with its high end: what made that end too
// high, a ground that grips less or a machine that weighs less, makes the low
// end too high as well (judgment: errs low). What another slipped with on such
// ground lowers what the ground holds of this one by as much, and nothing else of it.
func (w *power) lower(left, grip bound.Ratio) {
	w.left, w.grip = left, grip
	bare, ok := w.bare()
	if !ok {
		return
	}
	told := w.limits
	if left < 1 {
		name := ""
		for _, l := range told {
			if name == "" && slices.Contains(bareLimits, l.name) || l.f.Low == bare.Low {
				name = l.name
			}
		}
		w.limits = append(w.limits, limit{name: name, f: bare.Scale(float64(left)), rule: "what it gives by what was told × the share left by its slip",
			in: func() string { return fmt.Sprintf("%s × %s", inNewtons(bare.Low), in(float64(left))) }})
	}
	if i := slices.IndexFunc(told, func(l limit) bool { return l.name == "traction" }); i >= 0 && grip < 1 {
		holds := told[i].f
		w.limits = append(w.limits, limit{name: "traction", f: holds.Scale(float64(grip)), rule: "what the ground holds by what was told × the share left by another's slip on such ground",
			in: func() string { return fmt.Sprintf("%s × %s", inNewtons(holds.Low), in(float64(grip))) }})
	}
}
