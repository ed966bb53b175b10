package calc

import (
	"fmt"
	"math"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

// remedy is one thing that people could change. set applies it, as far as k
// says: 0 is not at all and 1 as far as it goes. Remedies that have no more
// or less are the same for every k.
type remedy struct {
	do     func(c job.Case, k float64) string
	set    func(c *job.Case, k float64)
	scaled bool
	group  string // of remedies that are the same in kind: the first that does it is enough
}

func plain(do string, set func(c *job.Case)) remedy {
	return remedy{do: func(job.Case, float64) string { return do }, set: func(c *job.Case, _ float64) { set(c) }}
}

const (
	mostSingles = 6
	mostPairs   = 3
	steps       = 7 // halvings when the least of a scaled remedy is sought
)

// changes lists the least changes that would turn a no-go round: single ones,
// and pairs where no single one does. Each has been planned with. What reduces
// the force comes before what adds more. What would mend a rig that the puller is
// strong enough for is tried as well.
func changes(c job.Case, s *search, o weighed, near *weighed) []Change {
	rs := remedies(c, s, o)
	if near != nil {
		for _, t := range near.path.seats {
			own := slices.ContainsFunc(o.path.seats, func(u seat) bool { return u.path == t.path })
			if r, ok := replace(c, *near, t); ok && !own {
				rs = append(rs, r)
			}
		}
	}
	out := []Change{}
	found := map[string]bool{}
	for _, r := range rs {
		if len(out) == mostSingles || r.group != "" && found[r.group] {
			continue
		}
		if k, d := least(c, r, s.room); d != NoGo {
			out = append(out, Change{Do: r.do(c, k), Then: d})
			found[r.group] = true
		}
	}
	// A puller many times as strong would do alone, and nobody has one: sunk
	// wheels are dug free first, whatever else it then takes.
	if free := freed(rs); free >= 0 && !found["depth"] && len(out) > 0 {
		out = append(pairs(c, rs, free, s.room), out...)
		out = out[:min(len(out), mostSingles)]
	}
	for i := 0; i < len(rs) && len(out) == 0; i++ {
		out = append(out, pairs(c, rs, i, s.room)...)
	}
	return out
}

// freed returns which remedy digs the most, or -1.
func freed(rs []remedy) int {
	for i, r := range slices.Backward(rs) {
		if r.group == "depth" {
			return i
		}
	}
	return -1
}

// pairs tries remedy i with each later one; the first that work are enough.
func pairs(c job.Case, rs []remedy, i int, m *room) []Change {
	var out []Change
	for _, second := range rs[i+1:] {
		first := clone(c)
		rs[i].set(&first, 1)
		k, d := least(first, second, m)
		if d == NoGo {
			continue
		}
		k1 := 1.0
		if rs[i].scaled {
			both := remedy{set: func(c *job.Case, by float64) { rs[i].set(c, by); second.set(c, k) }, scaled: true}
			k1, d = least(c, both, m)
		}
		out = append(out, Change{Do: rs[i].do(c, k1) + " And: " + second.do(c, k), Then: d})
		if len(out) == mostPairs {
			break
		}
	}
	return out
}

// least returns the least extent of r that turns the no-go round, and what the
// plan then says; NoGo if it does not at all.
func least(c job.Case, r remedy, m *room) (float64, Decision) {
	try := func(k float64) Decision {
		t := clone(c)
		r.set(&t, k)
		t.Learnt = nil // what was seen is learnt from anew, as it will be once this is told
		d := decide(learnt(t), m)
		if d == Refer {
			return NoGo
		}
		return d
	}
	d := try(1)
	if d == NoGo || !r.scaled {
		return 1, d
	}
	lo, hi := 0.0, 1.0
	for range steps {
		mid := (lo + hi) / 2
		if t := try(mid); t != NoGo {
			hi, d = mid, t
		} else {
			lo = mid
		}
	}
	return hi, d
}

// clone copies what remedies write to.
func clone(c job.Case) job.Case {
	c.Gear, c.Anchors, c.Pullers = slices.Clone(c.Gear), slices.Clone(c.Anchors), slices.Clone(c.Pullers)
	return c
}

func remedies(c job.Case, s *search, o weighed) []remedy {
	var out []remedy
	out = append(out, reduce(c)...)
	out = append(out, people(c, o)...)
	out = append(out, instead(c, s, o)...)
	out = append(out, rerig(c, o)...)
	if slices.ContainsFunc(o.path.missing, func(l lack) bool { return l.what == holdingRope }) {
		out = append(out, secondLine(c))
	}
	for _, t := range o.path.seats {
		if r, ok := replace(c, o, t); ok {
			out = append(out, r)
		}
	}
	return append(out, stronger(c, o)...)
}

// reduce makes the job smaller: the cheapest force is the one not needed.
func reduce(c job.Case) []remedy {
	var out []remedy
	l := c.Load
	add := func(r remedy) { out = append(out, r) }
	zero := bound.Exactly(bound.Ratio(0))
	no := false
	switch {
	case l.Locked == nil:
		add(yield("See that all its wheels turn, the load held first", func(c *job.Case) { c.Load.Locked = &zero }))
	case l.Locked.High > 0:
		add(yield("Free the wheels, the load held first", func(c *job.Case) { c.Load.Locked = &zero }))
	}
	for i := slices.Index(job.Depths, l.Sunk) - 1; i > 0; i-- { // the least digging that does it
		to := job.Depths[i]
		dig := yield(dug[to], func(c *job.Case) { c.Load.Sunk = to })
		dig.group = "depth"
		add(dig)
	}
	if l.Sunk != "none" && l.Sunk != "" || l.Belly != nil && *l.Belly {
		free := yield("Dig it out till daylight shows under it, and put boards under the wheels", func(c *job.Case) { c.Load.Sunk, c.Load.Belly = "none", &no })
		free.group = "depth"
		add(free)
	}
	if l.Lip != nil && !l.Lip.None {
		add(yield("Ramp the step away with a spade", func(c *job.Case) { c.Load.Lip = &job.Lip{None: true} }))
	}
	add(remedy{scaled: true,
		set: func(c *job.Case, k float64) {
			c.Load.Mass = c.Load.Mass.Scale(1 - 0.6*k)
		},
		do: func(c job.Case, k float64) string {
			to, from := apart(light(c.Load.Mass.Scale(1-0.6*k).Best), light(c.Load.Mass.Best))
			return fmt.Sprintf("Unload it until it weighs %s at most, where %s was told.", to, from)
		}})
	if l.Pull == "uphill" && l.Slope.Best > unit.Degrees(1) {
		add(remedy{scaled: true,
			set: func(c *job.Case, k float64) {
				c.Load.Slope = flatter(c.Load.Slope, k)
			},
			do: func(c job.Case, k float64) string {
				to, from := apart(flat(flatter(c.Load.Slope, k).Best), flat(c.Load.Slope.Best))
				return fmt.Sprintf("Ramp it, or choose a flatter way: %s at most, where %s was told.", to, from)
			}})
	}
	if l.Pull == "uphill" && l.Slope.High > unit.Degrees(2) {
		add(yield("Haul it out downhill, with a holding line as the main line", func(c *job.Case) { c.Load.Pull = "downhill" }))
	}
	return out
}

// dug is what brings the wheels up to a depth.
var dug = map[string]string{
	"hub":    "Dig the wheels free until the mud reaches no higher than their hubs",
	"fender": "Dig the wheels free until the mud reaches no higher than their guards",
}

// flatter takes as much off a slope as k says of what was told. What nobody
// knows of it stays: a ramp is measured no better than the slope was.
func flatter(s bound.Of[unit.Angle], k float64) bound.Of[unit.Angle] {
	by := s.Best.Scale(0.95 * k)
	return bound.Of[unit.Angle]{Low: max(0, s.Low-by), Best: max(0, s.Best-by), High: s.High - by}
}

// yield is a plain remedy that says what the force falls to.
func yield(do string, set func(c *job.Case)) remedy {
	return remedy{
		set: func(c *job.Case, _ float64) { set(c) },
		do: func(c job.Case, _ float64) string {
			c = clone(c)
			set(&c)
			pull := reckonNeed(c, view{}).pullHigh()
			if pull == 0 {
				return do + ": it then runs with no pull at all."
			}
			return fmt.Sprintf("%s: the force falls to at most %s.", do, needed(pull))
		},
	}
}

// people puts right what is wrong with who is there and where.
func people(c job.Case, o weighed) []remedy {
	var out []remedy
	want, _, _ := handbook.CrewFor("holding line")
	if o.power != nil && o.power.p.Kind == "people" && o.power.p.People != nil {
		want += *o.power.p.People - 1 // the gang stands for the one who drives
	}
	if c.Crew != nil && *c.Crew < want {
		out = append(out, plain(fmt.Sprintf("Be at least %d people.", want), func(c *job.Case) { c.Crew = &want }))
	}
	yes, no := true, false
	if slices.ContainsFunc(o.fs.list, func(f finding) bool { return f.onSite && f.fails(string(Block)) }) {
		two := 2
		out = append(out, plain("Put right on the spot what failed: people out and clear, briefed and sober, signals tried, line free, chocks in, hold kept.", func(c *job.Case) {
			s := &c.Site
			s.Clear, s.Under, s.Between, s.Sober, s.Briefed, s.Signals, s.HandsOff, s.LineFree, s.HoldStays = &yes, &no, &no, &yes, &yes, &yes, &yes, &yes, &yes
			s.Chocks = &two
			for i := range c.Anchors {
				if c.Anchors[i].StrapHeld != nil {
					c.Anchors[i].StrapHeld = &yes
				}
			}
		}))
	}
	if slices.ContainsFunc(c.Anchors, func(a job.Anchor) bool { return isNot(a.Chocked) || isNot(a.Braked) || isNot(a.InLine) }) {
		out = append(out, plain("Turn the anchor vehicle to point along the pull, brakes on, and chock it on the side it is pulled to.", func(c *job.Case) {
			for i := range c.Anchors {
				if a := &c.Anchors[i]; a.Kind == "vehicle" {
					a.Chocked, a.Braked, a.InLine = &yes, &yes, &yes
				}
			}
		}))
	}
	if c.Site.RunningStart != nil && *c.Site.RunningStart {
		out = append(out, plain("Take no run: a steady pull from a tight line.", func(c *job.Case) { c.Site.RunningStart = &no }))
	}
	return out
}

// rerig ropes it another way with what is there.
func rerig(c job.Case, o weighed) []remedy {
	var out []remedy
	most, _ := handbook.PartsOfUse()
	for n := 1; n <= most; n++ {
		for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
			as := tackle.Reeving{Parts: n, From: from}
			if as == o.rig.first || n == 1 && from == tackle.Standing {
				continue
			}
			do := fmt.Sprintf("Rig %d parts, hauled from the %s block.", n, from)
			if as.Straight() {
				do = "Pull straight, with one line and no block."
			} else if !canRig(c, rig{first: as}) {
				do = fmt.Sprintf("Bring blocks for %d sheaves in all, and rig %d parts, hauled from the %s block.", as.Sheaves(), n, from)
			}
			r := plain(do, func(c *job.Case) { c.Tackle.Parts, c.Tackle.HaulFrom = n, from.String() })
			r.group = "parts"
			out = append(out, r)
		}
	}
	if most, ok := toAnchor(c, o.rig, o.power); ok && c.Distance != nil && !reaches(most, c.Distance.High) {
		far := bound.Exactly(c.Reach.Low + c.Distance.High - most)
		out = append(out, plain(fmt.Sprintf("Rig from an anchor at least %s ahead of the load.", long(far.Low)), func(c *job.Case) { c.Reach = &far }))
		near := bound.Exactly(most)
		out = append(out, plain(fmt.Sprintf("Go %s at most, hold and chock it, and rig anew from an anchor farther ahead.", short(most)), func(c *job.Case) { c.Distance = &near }))
	}
	zero := bound.Exactly(unit.Angle(0))
	if c.Load.OffLine != nil && c.Load.OffLine.High > 0 {
		out = append(out, plain("Bring the line in line with the way it will move, with a lead block.", func(c *job.Case) {
			c.Load.OffLine = &zero
			one := 1
			if c.Tackle.LeadBlocks == nil || *c.Tackle.LeadBlocks == 0 {
				c.Tackle.LeadBlocks = &one
			}
		}))
	}
	improvised := slices.ContainsFunc(c.Gear, func(g job.Gear) bool { return g.Improvised != nil && *g.Improvised && g.Use != "spare" })
	if improvised {
		out = append(out, plain("Lay the improvised piece aside and let made, marked pieces take its place.", func(c *job.Case) {
			for i := range c.Gear {
				if g := &c.Gear[i]; g.Improvised != nil && *g.Improvised {
					g.Use = "spare"
				}
			}
		}))
	}
	knotted := slices.ContainsFunc(c.Gear, func(g job.Gear) bool { return len(g.Knots) > 0 })
	if knotted {
		out = append(out, plain("Use the rope without a knot.", func(c *job.Case) {
			for i := range c.Gear {
				c.Gear[i].Knots = nil
			}
		}))
	}
	return out
}

// secondLine brings what holds the load, where nothing is there to: at first what
// bears the settled multiple of what draws it down, and as much more as its own
// stiffness asks for when the load runs up its slack.
func secondLine(c job.Case) remedy {
	over, _ := handbook.HoldingOverStatic()
	least := reckonNeed(c, view{}).static.High.Scale(float64(over))
	bears := func(k float64) unit.Force { return least.Scale(math.Pow(20, k)) }
	return remedy{scaled: true,
		set: func(c *job.Case, k float64) {
			rating := job.Rating{Kind: "working", Force: new(bound.Exactly(bears(k)))}
			long, no := bound.Exactly(unit.Metres(1e4)), false
			c.Gear = append(c.Gear, job.Gear{Kind: "rope", Use: "holding", Count: 1, Sheaves: 1, Rating: rating, Material: "polyester", Length: &long,
				KnotsTold: true, Condition: "good", Improvised: &no})
			c.Anchors = slices.DeleteFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == "holding" })
			c.Anchors = append(c.Anchors, job.Anchor{Kind: "rated", Use: "holding", Rating: rating})
			c.Load.HoldingPoint = &job.TowPoint{Kind: "frame", Count: 1, Rating: rating, Condition: "good"}
		},
		do: func(_ job.Case, k float64) string {
			return fmt.Sprintf("Hold it with a second rope of at least %s working, on an anchor and a tow point of its own that bear as much.", needed(bears(k)))
		}}
}

// replace puts something good enough in a failing seat's place.
func replace(c job.Case, o weighed, t seat) (remedy, bool) {
	r, known := t.ratio()
	breaks := t.peak != nil && t.breaks != nil && *t.peak > *t.breaks
	short := t.piece != nil && t.use == "haul"
	if known && r <= 1 && !breaks && !short {
		return remedy{}, false
	}
	if !known {
		return remedy{}, false
	}
	over, _ := handbook.BreaksOverWorking()
	want := t.tension
	if t.peak != nil {
		want = max(want, t.peak.Scale(1/float64(over)))
	}
	want = want.Scale(1.001)
	rating := job.Rating{Kind: "working", Force: &Force{Low: want, Best: want, High: want}}
	no := false
	switch {
	case t.piece != nil:
		p := t.piece
		do := fmt.Sprintf("Put a good %s with a working limit of at least %s in place of the %s.", p.g.Kind, needed(want), p.label)
		if short && r <= 1 && !breaks {
			do = fmt.Sprintf("Bring one whole rope long enough, of at least %s working.", needed(want))
			if o.s.rope != nil {
				do = fmt.Sprintf("Bring one whole rope of at least %s, with a working limit of at least %s.", long(o.s.rope.High+o.kept()), needed(want))
			}
		}
		return plain(do, func(c *job.Case) {
			for i := range c.Gear {
				if fmt.Sprintf("gear[%d]", i) != p.path {
					continue
				}
				g := &c.Gear[i]
				g.Rating, g.Condition, g.Improvised, g.Count, g.Knots = rating, "good", &no, 1, nil
				if g.SlingAngle != nil {
					zero := bound.Exactly(unit.Angle(0))
					g.SlingAngle = &zero
				}
				if short {
					long := bound.Exactly(unit.Metres(1e4))
					g.Length = &long
				}
			}
		}), true
	case t.fixed != nil:
		f := t.fixed
		return plain(fmt.Sprintf("Use an anchor in place of the %s that may be counted for at least %s.", f.label, needed(want)), func(c *job.Case) {
			for i := range c.Anchors {
				if fmt.Sprintf("anchors[%d]", i) == f.path {
					c.Anchors[i] = job.Anchor{Kind: "rated", Use: c.Anchors[i].Use, Rating: rating}
				}
			}
		}), true
	case t.use == "tow-point":
		return plain(fmt.Sprintf("Make fast to a rated point on the frame of at least %s working.", needed(want)), func(c *job.Case) {
			c.Load.TowPoint = &job.TowPoint{Kind: "frame", Rating: rating, Condition: "good"}
		}), true
	case t.use == "holding-point":
		return plain(fmt.Sprintf("Give the holding line a rated point of its own of at least %s working.", needed(want)), func(c *job.Case) {
			c.Load.HoldingPoint = &job.TowPoint{Kind: "frame", Rating: rating, Condition: "good"}
		}), true
	case t.use == "hitch":
		do := fmt.Sprintf("Hitch to the drawbar, at or below the axle, rated at least %s.", needed(want))
		if o.power != nil && !o.power.machine() {
			do = fmt.Sprintf("Make the winch fast to a rated point on the frame of its vehicle, of at least %s working.", needed(want))
		} else if t.kind == "drawbar" {
			do = fmt.Sprintf("Use a puller with a drawbar rated at least %s.", needed(want))
		}
		return plain(do, func(c *job.Case) {
			for i := range c.Pullers {
				p := &c.Pullers[i]
				p.Hitch, p.HitchRating = "drawbar", rating.Force
				if p.AxleHeight != nil {
					p.HitchHeight = p.AxleHeight
				}
			}
		}), true
	}
	return remedy{}, false
}

// stronger brings more force, where nothing smaller does it.
func stronger(c job.Case, o weighed) []remedy {
	if o.power == nil {
		return nil
	}
	var out []remedy
	i := slices.IndexFunc(c.Pullers, func(p job.Puller) bool { return p == o.power.p })
	if i < 0 {
		return nil
	}
	p := c.Pullers[i]
	if o.power.machine() && p.AxleHeight != nil && p.HitchHeight != nil && p.HitchHeight.High > p.AxleHeight.Low {
		out = append(out, plain("Hitch at or below the axle: use the drawbar.", func(c *job.Case) {
			q := &c.Pullers[i]
			low := bound.Exactly(q.AxleHeight.Low)
			q.Hitch, q.HitchHeight = "drawbar", &low
		}))
	}
	if p.Ground != "" && p.Ground != "gravel" && p.Ground != "firm soil" && o.power.machine() {
		out = append(out, plain("Stand the puller on firm gravel.", func(c *job.Case) { c.Pullers[i].Ground = "gravel" }))
	}
	grow := func(k float64) float64 { return math.Pow(20, k) }
	switch {
	case p.Mass != nil && o.power.machine():
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) { m := c.Pullers[i].Mass.Scale(grow(k)); c.Pullers[i].Mass = &m },
			do: func(c job.Case, k float64) string {
				return fmt.Sprintf("Bring a puller of the same kind of at least %s.", heavy(c.Pullers[i].Mass.Best.Scale(grow(k))))
			}})
	case p.Rating.Force != nil:
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) {
				f := c.Pullers[i].Rating.Force.Scale(grow(k))
				c.Pullers[i].Rating.Force = &f
			},
			do: func(c job.Case, k float64) string {
				return fmt.Sprintf("Bring a winch rated at least %s.", needed(c.Pullers[i].Rating.Force.Best.Scale(grow(k))))
			}})
	}
	return out
}
