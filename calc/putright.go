package calc

import (
	"fmt"
	"slices"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// fails reports whether a check of the table fails, by its key there.
func (o weighed) fails(check string) bool {
	return slices.ContainsFunc(o.fs.list, func(f finding) bool { return f.result == Fail && f.rule == rules[check] })
}

// putRight lists what mends the one thing that a failing check is about: where
// the puller stands, how long a rope is, which anchor is there twice. It makes
// no force and needs none.
func putRight(c job.Case, o weighed) []remedy {
	out := append(stand(c, o), lean(c, o)...)
	out = append(out, baskets(o)...)
	out = append(out, holdLonger(c, o)...)
	out = append(out, nearer(c, o)...)
	return append(out, ownAnchor(c, o)...)
}

// stand changes where the puller stands.
func stand(c job.Case, o weighed) []remedy {
	var out []remedy
	i := pullerIn(c, o)
	if i < 0 {
		return nil
	}
	if o.fails("U4") {
		room := bound.Exactly(leastRun(c, o.rig))
		out = append(out, plain(fmt.Sprintf("Clear the puller's way, or stand it where it has at least %s of straight free ground to move in.", long(room.Low)),
			func(c *job.Case) { c.Pullers[i].Run = &room }))
	}
	if o.fails("U8/block") {
		out = append(out, plain("Stand the puller where the ground is level across its pull.", func(c *job.Case) { c.Pullers[i].SideSlope = levelGround() }))
	}
	if o.fails("U5/feet") {
		out = append(out, plain("Let those who pull stand on level ground, and lead the line to them over a lead block.", func(c *job.Case) {
			c.Pullers[i].Slope, c.Pullers[i].Pull = levelGround(), "level"
			leadTo(c)
		}))
	}
	if o.fails("U9") {
		if r, ok := winchAnchor(o); ok {
			out = append(out, r)
		}
	}
	if o.fails("T5/below") || o.fails("T5/turned") {
		clear, _ := handbook.ClearLeast()
		square, aside := bound.Exactly(unit.Degrees(90)), bound.Exactly(clear)
		if c.Lead != nil && c.Lead.Low > clear {
			aside = *c.Lead
		}
		one := 1
		out = append(out, plain(fmt.Sprintf("Turn the line square over one lead block, and stand the puller at least %s aside of the load's way.", long(clear)),
			func(c *job.Case) { c.Tackle.LeadBlocks, c.Tackle.LeadAngle, c.Lead = &one, &square, &aside }))
	}
	return out
}

// leadTo leads the line over one lead block, where there is none.
func leadTo(c *job.Case) {
	if one := 1; c.Tackle.LeadBlocks == nil || *c.Tackle.LeadBlocks == 0 {
		c.Tackle.LeadBlocks = &one
	}
}

// pullerIn is which of the case's pullers hauls, -1 for none.
func pullerIn(c job.Case, o weighed) int {
	if o.power == nil {
		return -1
	}
	return slices.IndexFunc(c.Pullers, func(p job.Puller) bool { return p == o.power.p })
}

// winchAnchor gives a winch an anchor of its own, so that what it sits on need
// not hold it. Nothing slides then before the winch stalls.
func winchAnchor(o weighed) (remedy, bool) {
	hair, _ := handbook.HairOver()
	want := o.s.haul.High
	if r := o.power.p.Rating.Force; r != nil {
		stall, _ := handbook.StallOverRating()
		breaks, _ := handbook.BreaksOverWorking()
		want = max(want, r.High.Scale(float64(stall)/float64(breaks)))
	}
	want = want.Scale(float64(hair))
	if most, _ := handbook.StrongestAnchor(); want > most {
		return remedy{}, false
	}
	return plain(fmt.Sprintf("Give the winch an anchor of its own that may be counted for at least %s.", needed(want)), func(c *job.Case) {
		c.Anchors = append(c.Anchors, job.Anchor{Kind: "rated", Use: "puller", Rating: workingOf(want)})
	}), true
}

// lean chooses a way on which the load leans less to the side, by what a level must
// show there so that nobody has to sign for it. It is never dug under, which is what
// tips it.
func lean(c job.Case, o weighed) []remedy {
	if !o.fails("L3/block") {
		return nil
	}
	var out []remedy
	free, _ := handbook.SideSlopeFree()
	off, _, _ := handbook.SlopeSpread("level") // what a level shows may be as much more
	shown := free - off
	within := bound.Of[unit.Angle]{Best: shown, High: free}
	if c.Load.Pull == "level" {
		for _, way := range []string{"uphill", "downhill"} {
			out = append(out, plain(fmt.Sprintf("Haul it straight %s, not across the slope, on a way where it leans at most %s to the side by a level.", way, flat(shown)),
				func(c *job.Case) { c.Load.Pull, c.Load.SideSlope = way, &within }))
		}
		return out
	}
	return append(out, plain(fmt.Sprintf("Choose a way on which it leans at most %s to the side by a level; never dig under its wheels to set it straight.", flat(shown)),
		func(c *job.Case) { c.Load.SideSlope = &within }))
}

// holdLonger brings a longer holding rope.
func holdLonger(c job.Case, o weighed) []remedy {
	if !o.fails("T3/holding") {
		return nil
	}
	need, ok := holdingNeeds(c, o.path)
	if most, _ := handbook.LongestRope(); !ok || need > most {
		return nil
	}
	for _, t := range o.path.seats {
		if !t.hold || t.piece == nil || t.kind != "rope" {
			continue
		}
		whole := bound.Exactly(need)
		return []remedy{plain(fmt.Sprintf("Hold it with a rope as strong as the %s, and at least %s long.", t.label, long(need)), func(c *job.Case) {
			if g := gearAt(c, t.piece.path); g != nil {
				g.Length = &whole
			}
		})}
	}
	return nil
}

// nearer brings puller or anchor nearer, where the rope is too short.
func nearer(c job.Case, o weighed) []remedy {
	if !o.fails("T3") || c.Reach == nil || c.Lead == nil {
		return nil
	}
	var out []remedy
	near, _ := handbook.NearestPuller()
	if from := c.Lead.High; from > near {
		to := func(k float64) unit.Length { return from - (from - near).Scale(k) }
		what := "to its block"
		if o.rig.straight() {
			what = "to the load"
		}
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) { c.Lead = new(bound.Exactly(to(k))) },
			do: func(_ job.Case, k float64) string {
				return fmt.Sprintf("Stand the puller nearer %s, by at least %s.", what, long(from-to(k)))
			}})
	}
	if c.Distance == nil || o.rig.straight() {
		return out
	}
	apart, _ := handbook.BlocksApart()
	if from, least := c.Reach.High, c.Distance.High+apart; from > least {
		to := func(k float64) unit.Length { return from - (from - least).Scale(k) }
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) { c.Reach = new(bound.Exactly(to(k))) },
			do: func(c job.Case, k float64) string {
				return fmt.Sprintf("Rig from an anchor nearer to the load: from %s to %s ahead of it.", long(least), short(to(k)))
			}})
	}
	return out
}

// ownAnchor brings another anchor for what hangs on one that something else
// needs as well.
func ownAnchor(c job.Case, o weighed) []remedy {
	var out []remedy
	most, _ := handbook.StrongestAnchor()
	hair, _ := handbook.HairOver()
	bring := func(do, path string, want unit.Force) {
		if want > most {
			return
		}
		out = append(out, plain(fmt.Sprintf(do, needed(want)), func(c *job.Case) { bringAnchor(c, path, workingOf(want)) }))
	}
	held := unit.Force(0) // what the line that holds puts on its anchor alone
	for _, t := range o.path.seats {
		if t.hold && !t.anchor {
			held = max(held, t.tension)
		}
	}
	for _, t := range o.path.seats {
		switch {
		case !t.anchor:
		case o.power != nil && isPuller(t.fixed.a, o.power.p):
			bring("Take another anchor than the machine that pulls, one that may be counted for at least %s.", t.path, t.wants())
		case t.hold && o.fails("T1/own"):
			bring("Give the holding line an anchor of its own that may be counted for at least %s.", t.path, held.Scale(float64(hair)))
		}
	}
	return out
}
