package calc

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
)

// Reckon plans a recovery: it weighs every way to rope the job with the gear
// that is there, takes the best, and says what decides it, what would be worth
// measuring and what would turn a no-go round.
//
// The case must come from [job.Sheet.Case], which keeps it inside what the
// topics are valid for. Equal cases give equal plans.
func Reckon(c job.Case) Plan {
	var said []Saw
	if len(c.Seen) > 0 {
		c = pinned(c)
		var l job.Learnt
		l, said = learn(c)
		c.Learnt = &l
	}
	s := newSearch(c, view{})
	all := s.run()
	p := s.plan(all)
	if p.Decision == Refer {
		return p
	}
	p.Seen = said
	p.Measure = remeasure(all[0], s.measures(all[0]))
	if p.Decision == NoGo && (c.Learnt == nil || len(c.Learnt.Misfits) == 0) {
		p.Changes = changes(c, &s, all[0], s.almost(all))
		if len(p.Changes) == 0 {
			p.Notes = append(p.Notes, note("unmended", fmt.Sprint(p.failed())))
		}
	}
	return p
}

// failed counts the checks of a plan that fail.
func (p Plan) failed() int {
	n := 0
	for _, k := range p.Checks {
		if k.Result == Fail {
			n++
		}
	}
	return n
}

// would says that a rig is too weak and another is not, and what keeps that one
// from being pulled.
func (s *search) would(o, near weighed) string {
	weak, puller := "With "+rigged(job.Seen{Parts: o.rig.parts()}), "the puller"
	if o.rig.straight() {
		weak = "Straight"
	}
	if name := near.power.p.Name; name != "" && len(s.powers) > 1 {
		puller = "the " + name
	}
	return fmt.Sprintf("%s it won't; with %s %s would do, but: %s", weak, rigged(job.Seen{Parts: near.rig.first.Parts}), puller, s.reason(near, false))
}

func (s *search) plan(all []weighed) Plan {
	o := all[0]
	p := Plan{
		Decision: o.v.decision,
		SignOffs: []string{},
		Checks:   []Check{},
		Assumed:  s.assumed(o),
		Cautions: cautions(s, o),
	}
	p.Why = why(o)
	if o.v.decision == Refer {
		s.refer(&p, o)
		return p
	}
	if near := s.almost(all); near != nil { // what is nearest to a go comes first
		p.Why = slices.DeleteFunc(p.Why, func(w string) bool { return w == s.reason(*near, false) })
		p.Why = slices.Insert(p.Why, 0, s.would(o, *near))
		p.Why = p.Why[:min(3, len(p.Why))]
	}
	for _, f := range o.fs.list {
		p.Checks = append(p.Checks, f.check())
	}
	if len(o.v.unsigned) > 0 {
		p.SignOffs = o.v.unsigned
		p.Conditional = o.v.decision == Go
	}
	sum, force, side := s.n.sum, s.n.force, s.n.side
	p.Resistance = &Resistance{Grade: sum.Grade, Rolling: sum.Rolling, Drag: sum.Drag, Mire: sum.Mire, Lip: sum.Lip, Total: sum.Total}
	p.Force, p.SideLoad, p.RunsAlone = &force, &side, s.n.runs
	p.Tackle = o.rove()
	if o.power != nil {
		p.Puller = &Pull{Name: o.power.p.Name, Place: s.place(o.power), Available: o.power.available, Most: o.power.most, Limit: o.power.limit}
	}
	h := o.path.hold.Holding
	if !s.n.holds {
		h = Holding{Static: s.n.static}
	}
	p.Holding = &h
	p.Travel = s.travel(o, &p) // of which the bites go by whether it may roll
	p.Ends = s.endsOf(o, false)
	p.Gear, p.Anchors = s.members(o)
	p.Changes, p.Measure = []Change{}, []Measure{}
	p.Options = s.options(all)
	p.Energy = s.energy(o)
	p.Notes = s.notes(o)
	p.Working = s.working(o, p)
	return p
}

func (o weighed) rove() *Rove {
	r := &Rove{
		Parts: o.rig.first.Parts, HaulFrom: o.rig.first.From.String(), Sheaves: o.rig.first.Sheaves(), LeadBlocks: o.rig.leads,
		Efficiency: o.s.eta, Advantage: o.s.advantage, Tensions: o.s.tensions, Haul: o.s.haul,
		LeadAnchor: o.s.lead, HandbookHaul: o.s.manual, Compound: o.s.compound,
	}
	if !o.rig.first.Straight() {
		r.StandingAnchor = o.s.anchor
	}
	return r
}

// travel says how far rope and puller go. The bites are those that the pull is
// held to: the plan has no other count of them. Where chocks follow wheels that
// nobody measured, it is the count of the smallest, and that is told as assumed.
func (s *search) travel(o weighed, p *Plan) *Travel {
	t := &Travel{Haul: o.s.travel, Rope: o.s.rope}
	if kept := o.kept(); t.Rope != nil && kept > 0 {
		t.Rope = &Length{Low: t.Rope.Low + kept, Best: t.Rope.Best + kept, High: t.Rope.High + kept}
	}
	b := Bite(s.c, *p)
	if slices.Equal(b.Unknown, []string{wheelField}) {
		wheel, _ := handbook.WheelUnasked()
		c := s.c
		c.Load.WheelRadius = new(bound.Exactly(wheel))
		if b = Bite(c, *p); b.Count == nil {
			return t
		}
		p.Assumed = append(p.Assumed, Assumed{wheelField, num(wheel.Metres()) + " m", "nobody measured a wheel, and chocks follow each half turn: the smallest makes the most bites"})
	}
	t.Bites, t.bite = b.Count, b.Load
	return t
}

func (s *search) members(o weighed) (gear []Member, anchors []Held) {
	gear, anchors = []Member{}, []Held{}
	asked := s.anchorDecides(o)
	seats := slices.Clone(o.path.seats)
	slices.SortStableFunc(seats, func(a, b seat) int { return cmp.Compare(weight(b), weight(a)) })
	for _, t := range seats {
		var ratio *float64
		r, known := t.ratio()
		if known && !math.IsInf(r, 1) {
			ratio = &r
		}
		name := ""
		if t.piece != nil {
			name = t.piece.g.Name
		} else if t.fixed != nil {
			name = t.fixed.a.Name
		}
		passes := known && r <= 1 && (t.bent == nil || !t.bent.open) && t.peakAllowed()
		fails := t.fails() && !(r > 1 && t.hold && asked && t.peakAllowed())
		if t.anchor {
			passes = passes && len(t.fixed.missing) == 0
			anchors = append(anchors, Held{Kind: t.kind, Name: name, Use: t.use, Force: t.tension, Peak: t.peak, Capacity: t.working, Ratio: ratio,
				Passes: passes, Asked: !passes && !fails})
			continue
		}
		kind := t.kind
		if kind == "" || t.use == "tow-point" || t.use == "hitch" || t.use == "holding-point" {
			kind = t.use
		}
		passes = passes && !t.hitchOpen && (t.piece == nil || !t.piece.untold())
		gear = append(gear, Member{Kind: kind, Name: name, Use: t.use, Tension: t.tension, Working: t.working, Ratio: ratio, Peak: t.peak,
			Passes: passes, Asked: !passes && !fails, Choked: t.choked})
	}
	return gear, anchors
}

// weight sorts the weakest first: what counts nothing, then by use ratio, and
// what is not known before what passes.
func weight(t seat) float64 {
	r, known := t.ratio()
	if !known {
		return 1
	}
	return r
}

// why gives the one to three findings that decide a plan, most decisive first
// and one of a check, so that one cause does not crowd out the next.
func why(o weighed) []string {
	var out []string
	taken := map[string]bool{}
	say := finding.text
	take := func(want func(f finding) bool) {
		for _, f := range o.fs.list {
			k := key(f.rule.id, f.rule.variant)
			if len(out) < 3 && want(f) && !taken[k] && !slices.Contains(out, say(f)) {
				taken[k] = true
				out = append(out, say(f))
			}
		}
	}
	switch o.v.decision {
	case Refer:
		say = finding.words
		// How many signatures there would be is no cause: it comes last, and where
		// nothing else refers it there is room left for it.
		many := func(f finding) bool { return f.rule.id == "X5" && f.fails(severityRefer) }
		take(func(f finding) bool { return f.fails(severityRefer) && !many(f) })
		most := 3
		if len(out) == 0 {
			most = 2
		}
		for _, s := range []Severity{Block, SignOff} {
			take(func(f finding) bool { return len(out) < most && f.fails(string(s)) })
		}
		take(many)
	case NoGo:
		take(func(f finding) bool { return f.fails(string(Block)) })
		take(func(f finding) bool { return f.rule.id == "R15" && f.result == Fail })
	case Open:
		take(func(f finding) bool { return f.opens() && !f.follows() })
	default:
		take(func(f finding) bool { return f.fails(string(SignOff)) })
		take(func(f finding) bool {
			return f.result == Pass && (f.rule.id == "U1" || f.rule.id == "R3" || f.rule.id == "A1" && f.rule.variant == "")
		})
	}
	return out
}

// refer leaves only what a hand-over needs: a number would invite a pull.
func (s *search) refer(p *Plan, o weighed) {
	for _, f := range o.fs.list {
		c := f.check()
		if len(f.args) > 0 {
			c.Text = f.words()
		}
		p.Checks = append(p.Checks, c)
	}
	p.Handover = s.handover(o)
}

func (s *search) handover(o weighed) []string {
	l := s.c.Load
	say := []string{
		fmt.Sprintf("What: a vehicle of %s to %s.", heavy(l.Mass.Low), heavy(l.Mass.High)),
		fmt.Sprintf("How it lies: on %s, slope %s to %s along the pull, to go %s.", l.Ground, degrees(max(0, l.Slope.Low)), degrees(l.Slope.High), l.Pull),
	}
	if l.Sunk != "" {
		say = append(say, fmt.Sprintf("Sunk: %s.", l.Sunk))
	}
	if l.SideSlope != nil {
		say = append(say, fmt.Sprintf("Side slope: up to %s.", degrees(l.SideSlope.High)))
	}
	if len(s.c.Hazards) > 0 {
		var said []string
		for _, h := range s.c.Hazards {
			said = append(said, spokenHazard[h])
		}
		say = append(say, fmt.Sprintf("Hazards: %s.", strings.Join(said, ", ")))
	} else if !s.c.Asked {
		say = append(say, "Hazards: not asked yet. Ask about people, wires, traffic, water, fuel, cargo and edges.")
	}
	if s.c.Crew != nil {
		say = append(say, fmt.Sprintf("On site: %d people.", *s.c.Crew))
	}
	tries, n := triesFailed(s.c), s.c.Site.Tries // those that failed while it was pulled here among them
	switch {
	case tries > 1:
		say = append(say, fmt.Sprintf("Tried already: %d times.", tries))
	case tries == 1:
		say = append(say, "Tried already: once.")
	case len(s.c.Seen) > 0:
		say = append(say, "It was pulled here already, and has moved.")
	case n != nil:
		say = append(say, "Nobody has tried to pull it out yet.")
	}
	return append(say, "Still to tell: where exactly, access width and ground for a heavy truck, photos, who to call back.")
}

// spokenHazard is a hazard as a hand-over says it.
var spokenHazard = map[string]string{
	"overhead-line": "overhead wires", "traffic": "open road traffic", "water": "water over the hubs or moving", "fuel": "a leak, or a smell of fuel or gas",
	"battery": "a traction battery that was hit or flooded", "people-inside": "people inside or hurt", "overturned": "it lies overturned",
	"hazmat": "hazardous cargo", "edge": "an edge it could go over", "surge": "a tank, loose bulk or animals aboard",
	"hollow": "a bridge, culvert, wall or buried services under it", "broken": "a bent frame, a wheel off or its suspension down",
}

func (s *search) assumed(o weighed) []Assumed {
	out := []Assumed{}
	for _, a := range s.c.Supplied {
		out = append(out, Assumed{a.Field, a.Value, a.Why})
	}
	out = append(out, s.n.assumed...)
	for _, w := range s.powers {
		if o.power != nil && w.path == o.power.path {
			out = append(out, w.assumed...)
		}
	}
	for _, t := range o.path.seats {
		for _, field := range o.path.unmeasured(t) {
			a := Assumed{field, fmt.Sprintf("%s of its strength left to the %s", percent(float64(t.bent.share)), t.label), "nobody measured how tightly it bends; the tightest is the worst"}
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	for _, t := range o.path.seats {
		if t.legs != nil && t.fixed.a.SlingAngle == nil {
			out = append(out, Assumed{t.path + ".sling_angle", degrees(t.legs.angle).String(), "nobody said how far the leg to the " + t.label + " leans from the line of pull; there each carries all"})
		}
		if t.piece == nil {
			continue
		}
		if t.choked && t.piece.g.SlingHitch == "" {
			a := Assumed{t.piece.path + ".sling_hitch", hitchChoked, "nobody said how the " + t.label + " is put on; choked, through its own eye, it keeps least"}
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
		if _, told := t.piece.pulledAside(); !told {
			a := Assumed{t.piece.path + ".side_angle", "0 deg", "nobody said how far the pull on the " + t.label + " is out of its line, from bow to pin"}
			if !slices.Contains(out, a) {
				out = append(out, a)
			}
		}
	}
	if o.path.hold.checked && s.c.HoldReach == nil {
		l := o.path.hold.line.Length
		out = append(out, Assumed{holdReachField, fmt.Sprintf("%s where it catches, %s for its rope", inMetres(l.Low), inMetres(l.High)), "nobody said how far the anchor of the holding line is from the load; a short line catches hardest, a long one takes the most rope"})
	}
	if s.c.Tackle.Sheave == "" && !o.rig.straight() {
		out = append(out, Assumed{"tackle.sheave", "plain or roller", "nobody said what the sheaves run on"})
	}
	if o.rig.leads > 0 && s.c.Tackle.LeadAngle == nil {
		out = append(out, Assumed{"tackle.lead_angle", "0 deg", "nobody said how far a lead block turns the rope; doubled back is the worst"})
	}
	for _, r := range s.tableRows(o) {
		if r.Assumed() && (o.v.decision != Refer || !r.IsForce()) {
			out = append(out, Assumed{"handbook " + r.String(), r.Span(), r.Cite()})
		}
	}
	return out
}

// tableRows are the rows that the force and the pull rest on, in a fixed order.
func (s *search) tableRows(o weighed) []handbook.Row {
	var out []handbook.Row
	add := func(r handbook.Row) {
		if r.Table != "" && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, name := range []string{"rolling", "sliding", "mire", "belly", "lip"} {
		r := s.n.rows[name]
		if name == "sliding" && s.n.sum.Drag.High == 0 {
			continue
		}
		add(r)
	}
	if !o.rig.straight() {
		_, r := sheaves(s.c.Tackle, s.see)
		add(r)
	}
	if o.power != nil {
		for _, l := range o.power.limits {
			add(l.row)
		}
	}
	for _, t := range o.path.seats {
		if t.fixed != nil {
			add(t.fixed.row)
		}
	}
	for _, w := range s.c.Seen {
		switch {
		case w.What == "stuck" && w.Force == nil:
			_, r := handbook.EffortStop()
			add(r)
		case w.What != "slip" && w.Force != nil:
			_, r := handbook.StartOverMoving()
			add(r)
		}
	}
	return out
}

func cautions(s *search, o weighed) []string {
	out := []string{
		"Local codes and licensed practice come first. This passes checks on what you told it, no more.",
		"Nobody in line with the rope, in its bight, downhill of the load or between the vehicles. Anyone may call stop, and stop is obeyed.",
	}
	if o.v.decision == Refer {
		return append(out, "Hook nothing up. Keep everyone clear until the professional is there.")
	}
	out = append(out, "Gloves off the block, hands 2 m from drum and post; unhook only slack line.",
		"After the rig is tight by a tenth to a fifth of the need, hold a minute and look it over from outside; touch it only slack.")
	for _, f := range o.fs.list {
		if f.rule.id == "R15" && f.result == Fail {
			out = append(out, f.text())
		}
	}
	if s.n.runs {
		out = append(out, "The load may run by itself: the holding line is the main line, and the puller only starts it.")
	} else if s.n.holds {
		out = append(out, "It can run back: holding line tended close and chocks at every stop, before any slack.")
	}
	if s.n.holds && s.c.Load.Pull != "uphill" {
		turns, _ := handbook.SnubTurns()
		out = append(out, fmt.Sprintf("The holding line is paid out round its anchor or a post that holds as much, with %d round turns from the start, by one who stands well back on the tail and holds it by friction: %s at rest is more than hands hold. Prove on the first hand's width that it checks the load.", int(turns.High), needed(s.n.static.High)))
	}
	if s.n.force.High < s.n.before().High {
		out = append(out, "The need was lessened by what was seen at one place: where the way gets steeper, softer or blocked it no longer holds, so stop there and reckon again.")
	}
	if o.power != nil && o.power.machine() {
		out = append(out, "Lowest gear, creep, no run. Front wheels lightening means stop.")
		if way := o.power.p.Pull; way == "downhill" {
			out = append(out, "The puller heads downhill: when the line parts or the load comes free it runs. Prove its brake there, keep the way below empty, stop before the slope ends.")
		}
	}
	return out
}
