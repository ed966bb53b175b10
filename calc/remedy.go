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

// remedy is one thing that people could change. set applies it, as far as k
// says: 0 is not at all and 1 as far as it goes. Remedies that have no more
// or less are the same for every k.
type remedy struct {
	do     func(c job.Case, k float64) string
	set    func(c *job.Case, k float64)
	scaled bool
	mends  bool   // it puts right one thing that fails, and nothing else
	group  string // of remedies that are the same in kind: the first that does it is enough
}

func plain(do string, set func(c *job.Case)) remedy {
	return remedy{do: func(job.Case, float64) string { return do }, set: func(c *job.Case, _ float64) { set(c) }}
}

func remedies(c job.Case, s *search, o weighed) []remedy {
	var out []remedy
	out = append(out, reduce(c)...)
	mend := func(rs ...remedy) {
		for _, r := range rs {
			r.mends = true
			out = append(out, r)
		}
	}
	mend(people(c, o)...)
	mend(putRight(c, o)...)
	mend(instead(c, s, o)...)
	out = append(out, rerig(c, o)...)
	if slices.ContainsFunc(o.path.missing, func(l lack) bool { return l.what == holdingRope }) {
		if r, ok := secondLine(c); ok {
			mend(r)
		}
	}
	mend(s.setHold(o)...)
	for _, t := range o.path.seats {
		if r, ok := replace(c, o, t); ok {
			mend(r)
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
	off, _ := handbook.UnloadedMost(l.Mass.Best)
	add(remedy{scaled: true,
		set: func(c *job.Case, k float64) {
			c.Load.Mass = c.Load.Mass.Scale(1 - float64(off)*k)
		},
		do: func(c job.Case, k float64) string {
			to, from := apart(light(c.Load.Mass.Scale(1-float64(off)*k).Best), light(c.Load.Mass.Best))
			return fmt.Sprintf("Unload it until it weighs %s at most, where %s is most likely by what was told: if it carries so much, %s must come off.", to, from, heavy(c.Load.Mass.Best.Scale(float64(off)*k)))
		}})
	if worth, _ := handbook.RampedFrom(); l.Pull == "uphill" && l.Slope.Best > worth {
		add(remedy{scaled: true,
			set: func(c *job.Case, k float64) {
				c.Load.Slope = flatter(c.Load.Slope, k)
			},
			do: func(c job.Case, k float64) string {
				to, from := apart(flat(flatter(c.Load.Slope, k).Best), flat(c.Load.Slope.Best))
				return fmt.Sprintf("Ramp it, or choose a flatter way: %s at most, where %s is most likely by what was told.", to, from)
			}})
	}
	if worth, _ := handbook.TurnedFrom(); l.Pull == "uphill" && l.Slope.High > worth {
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
// knows of it stays: a ramp is measured no better than the slope was, and one that is
// nearly level may fall the other way.
func flatter(s bound.Of[unit.Angle], k float64) bound.Of[unit.Angle] {
	most, _ := handbook.RampedMost()
	by := s.Best.Scale(float64(most) * k)
	return bound.Of[unit.Angle]{Low: s.Low - by, Best: max(0, s.Best-by), High: s.High - by}
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
		least, _ := handbook.ChocksLeast()
		out = append(out, plain("Put right on the spot what failed: people out and clear, briefed and sober, signals tried, line free, ends joined by what is stamped for it, chocks in, hold kept.", func(c *job.Case) {
			s := &c.Site
			s.Clear, s.Under, s.Between, s.Sober, s.Briefed, s.Signals, s.HandsOff, s.LineFree, s.EndsJoined, s.HoldStays = &yes, &no, &no, &yes, &yes, &yes, &yes, &yes, &yes, &yes
			s.Chocks = &least
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

// rigAs ropes it in a tackle, with blocks that are brought where it takes more.
func rigAs(c job.Case, as tackle.Reeving) remedy {
	do := fmt.Sprintf("Rig %d parts, hauled from the %s block.", as.Parts, as.From)
	switch have, _ := wheels(c); {
	case as.Straight():
		do = "Pull straight, with one line and no block."
	case !canRig(c, rig{first: as}) && as.Sheaves() == 1 && have == 0:
		do = fmt.Sprintf("Bring a block, and rig %d parts, hauled from the %s block.", as.Parts, as.From)
	case !canRig(c, rig{first: as}):
		do = fmt.Sprintf("Bring blocks for %d sheaves in all, and rig %d parts, hauled from the %s block.", as.Sheaves(), as.Parts, as.From)
	}
	r := plain(do, func(c *job.Case) { c.Tackle.Parts, c.Tackle.HaulFrom = as.Parts, as.From.String() })
	r.group = "parts"
	return r
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
			out = append(out, rigAs(c, as))
		}
	}
	if most, ok := toAnchor(c, o.rig, o.power); ok && c.Distance != nil && !reaches(most, c.Distance.High) {
		far := bound.Exactly(c.Reach.Low + c.Distance.High - most)
		if longest, _ := handbook.LongestRope(); far.Low <= longest { // no rope that is brought reaches farther
			out = append(out, plain(fmt.Sprintf("Rig from an anchor at least %s ahead of the load.", long(far.Low)), func(c *job.Case) { c.Reach = &far }))
		}
		near := bound.Exactly(most)
		if least, _ := handbook.FirstMove(); most >= least { // to go nowhere is no way out
			out = append(out, plain(fmt.Sprintf("Go %s at most, hold and chock it, and rig anew from an anchor farther ahead.", short(most)), func(c *job.Case) { c.Distance = &near }))
		}
	}
	off, _, _ := handbook.OffLineSpread("measured") // as near as anybody finds it to be in line
	if c.Load.OffLine != nil && c.Load.OffLine.High > off {
		out = append(out, plain("Bring the line in line with the way it will move, with a lead block.", func(c *job.Case) {
			c.Load.OffLine = &job.Angle{High: off}
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
	var knotted []string
	for _, g := range c.Gear {
		if len(g.Knots) > 0 && !slices.Contains(knotted, g.Kind) {
			knotted = append(knotted, g.Kind)
		}
	}
	slices.Sort(knotted)
	if len(knotted) > 0 {
		out = append(out, plain("Use the "+strings.Join(knotted, " and the ")+" without a knot.", func(c *job.Case) {
			for i := range c.Gear {
				c.Gear[i].Knots = nil
			}
		}))
	}
	return out
}
