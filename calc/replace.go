package calc

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// secondLine brings what holds the load, where nothing is there to: at first what
// bears the settled multiple of what draws it down, and as much more as its own
// stiffness asks for when the load runs up its slack. It is as long as is said.
func secondLine(c job.Case) (remedy, bool) {
	over, _ := handbook.HoldingOverStatic()
	most, _ := handbook.StrongestGear()
	least := reckonNeed(c, view{}).static.High.Scale(float64(over))
	if !(0 < least && least < most) {
		return remedy{}, false
	}
	bears := func(k float64) unit.Force { return towards(least, most, k) }
	reach, known := holdingLength(c)
	if longest, _ := handbook.LongestRope(); known && reach > longest {
		return remedy{}, false
	}
	of := "a second rope"
	if known {
		of = "a second rope of at least " + long(reach).String()
	} else {
		reach, _ = handbook.LongestRope()
	}
	return remedy{scaled: true,
		set: func(c *job.Case, k float64) {
			rating := workingOf(bears(k))
			whole, no := bound.Exactly(reach), false
			second := job.Gear{Kind: "rope", Use: "holding", Count: 1, Sheaves: 1, Rating: rating, Material: "polyester", Length: &whole,
				KnotsTold: true, Condition: "good", Improvised: &no}
			thicken(&second, true)
			c.Gear = append(c.Gear, second)
			c.Anchors = slices.DeleteFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == "holding" })
			c.Anchors = append(c.Anchors, job.Anchor{Kind: "rated", Use: "holding", Rating: rating})
			c.Load.HoldingPoint = &job.TowPoint{Kind: "frame", Count: 1, Rating: rating, Condition: "good"}
		},
		do: func(_ job.Case, k float64) string {
			and := " of at least %s working"
			if known {
				and = " and %s working"
			}
			return fmt.Sprintf("Hold it with "+of+and+", on an anchor and a tow point of its own that bear as much.", needed(bears(k)))
		}}, true
}

// towards is the figure that lies so far on the way from one to another, which
// is longer: as far in multiples, since whoever brings more brings twice as much.
func towards[Q bound.Quantity](from, to Q, k float64) Q {
	return Q(float64(from) * math.Pow(float64(to)/float64(from), k))
}

// gearAt is the piece of a case at a path, nil for none there.
func gearAt(c *job.Case, path string) *job.Gear {
	for i := range c.Gear {
		if fmt.Sprintf("gear[%d]", i) == path {
			return &c.Gear[i]
		}
	}
	return nil
}

// anchorAt is the anchor of a case at a path, nil for none there.
func anchorAt(c *job.Case, path string) *job.Anchor {
	for i := range c.Anchors {
		if fmt.Sprintf("anchors[%d]", i) == path {
			return &c.Anchors[i]
		}
	}
	return nil
}

// bringAnchor puts one that is stamped in the place of an anchor, for its use.
func bringAnchor(c *job.Case, path string, rating job.Rating) {
	if a := anchorAt(c, path); a != nil {
		*a = job.Anchor{Kind: "rated", Use: a.Use, Rating: rating}
	}
}

// workingOf is a stamp that says how much a thing may carry.
func workingOf(f unit.Force) job.Rating {
	return job.Rating{Kind: "working", Force: new(bound.Exactly(f))}
}

// shortRope reports whether a rope is no whole haul line: one of several, of a
// length that nobody told, or known to be too short for this rig.
func (o weighed) shortRope(p *piece) bool {
	if len(o.path.ropes) > 1 || p.g.Length == nil || o.s.rope == nil {
		return true
	}
	return !reaches(p.g.Length.Low, o.s.rope.High+o.kept())
}

// fails reports whether what a seat carries, or would at the puller's most, is
// known to be too much for it.
func (s *seat) fails() bool {
	r, known := s.ratio()
	return known && r > 1 || !s.peakAllowed()
}

// wants is the working limit that what takes a seat must have.
func (s *seat) wants() unit.Force {
	over, _ := handbook.BreaksOverWorking()
	want := s.tension
	if s.peak != nil {
		want = max(want, s.peak.Scale(1/float64(over)))
	}
	hair, _ := handbook.HairOver()
	return asSaid(want.Scale(float64(hair)))
}

// asSaid is a limit that a thing must have as it is said: it is planned with no other.
func asSaid(f unit.Force) unit.Force {
	kn, err := strconv.ParseFloat(unit.Figures(f.Kilonewtons(), figures, math.Ceil), 64)
	if err != nil {
		return f
	}
	return unit.Kilonewtons(kn)
}

// laidStraight says how what is brought in a seat's place is laid so that all of its
// rating counts, where it lies otherwise now or nobody told.
func (t *seat) laidStraight() string {
	out := ""
	a := t.piece.g
	if a.SlingAngle != nil && a.SlingAngle.High > 0 {
		out += ", with its legs in line with the pull"
	}
	if t.choked || t.round && job.Slung(a.Kind) && a.SlingHitch != hitchBasket {
		out += ", put round as a basket"
	}
	if a.Kind == "shackle" && (a.SideAngle == nil || a.SideAngle.High > 0) {
		out += ", pulled in line from bow to pin"
	}
	return out
}

// catches is the working limit of a holding rope that bears what catching the load
// puts on it, from one that does not: what bears more is stiffer and catches harder.
// Where that has no end it is over all that is brought.
func catches(c job.Case, rope piece, want unit.Force) unit.Force {
	most, _ := handbook.StrongestGear()
	hair, _ := handbook.HairOver()
	n := reckonNeed(c, view{})
	for want <= most {
		rope.g.Rating = workingOf(want)
		thicken(&rope.g, true)
		needs := asSaid(reckonHolding(c, n, &rope).check.Scale(float64(hair)))
		if needs <= want {
			break
		}
		want = needs
	}
	return want
}

// replace puts something good enough in a failing seat's place.
func replace(c job.Case, o weighed, t seat) (remedy, bool) {
	r, known := t.ratio()
	breaks := !t.peakAllowed()
	short := t.piece != nil && t.use == "haul" && o.shortRope(t.piece)
	if known && r <= 1 && !breaks && !short {
		return remedy{}, false
	}
	if !known {
		return remedy{}, false
	}
	want, places := t.wants(), 1
	if t.piece != nil { // copies of one lot are told apart by nobody: as many as fail, alike
		places = 0
		for _, u := range o.path.seats {
			if u.piece == t.piece && u.fails() {
				want, places = max(want, u.wants()), places+1
			}
		}
		places = max(1, min(places, t.piece.copies()))
	}
	if t.hold && t.piece != nil && t.kind == "rope" {
		want = catches(c, *t.piece, want)
	}
	most, _ := handbook.StrongestGear()
	if t.fixed != nil {
		most, _ = handbook.StrongestAnchor()
	}
	if want > most {
		return remedy{}, false
	}
	if longest, _ := handbook.LongestRope(); short && o.s.rope != nil && o.s.rope.High+o.kept() > longest {
		return remedy{}, false
	}
	rating := workingOf(want)
	no := false
	switch {
	case t.piece != nil:
		p := t.piece
		laid := t.laidStraight() + notThicker(t, rating)
		do := fmt.Sprintf("Put a good %s with a working limit of at least %s in place of the %s%s.", p.g.Kind, needed(want), p.label, laid)
		if places > 1 {
			do = fmt.Sprintf("Put %d good %ss, each with a working limit of at least %s, in place of the %s%s.", places, p.g.Kind, needed(want), p.label, strings.Replace(laid, "its legs", "their legs", 1))
		}
		switch {
		case short && (r > 1 || breaks):
			whole := "long enough in one piece"
			if o.s.rope != nil {
				whole = fmt.Sprintf("at least %s long in one piece", long(o.s.rope.High+o.kept()))
			}
			do = fmt.Sprintf("Put a good %s, %s, with a working limit of at least %s in place of the %s.", p.g.Kind, whole, needed(want), p.label)
		case short:
			do = fmt.Sprintf("Bring one whole rope long enough, of at least %s working.", needed(want))
			if o.s.rope != nil {
				do = fmt.Sprintf("Bring one whole rope of at least %s, with a working limit of at least %s.", long(o.s.rope.High+o.kept()), needed(want))
			}
		}
		return plain(do, func(c *job.Case) {
			if g := gearAt(c, p.path); g != nil && g.Use == "" && g.Count > places { // the others of its lot stay
				more := *g
				more.Count -= places
				c.Gear = append(c.Gear, more)
			}
			g := gearAt(c, p.path)
			if g == nil {
				return
			}
			g.Rating, g.Condition, g.Improvised, g.Count, g.Knots = rating, "good", &no, places, nil
			straight(g)
			thicken(g, t.hold)
			if short {
				longest, _ := handbook.LongestRope()
				whole := bound.Exactly(longest)
				if o.s.rope != nil { // as much as is said, and no more
					whole = bound.Exactly(o.s.rope.High + o.kept())
				}
				g.Length = &whole
			}
		}), true
	case t.fixed != nil:
		f := t.fixed
		return plain(fmt.Sprintf("Use an anchor in place of the %s that may be counted for at least %s.", f.label, needed(want)), func(c *job.Case) { bringAnchor(c, f.path, rating) }), true
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
				p.Hitch, p.HitchRating = "drawbar", rating
				if p.AxleHeight != nil && t.kind != "drawbar" { // another place on it, of which the height alone is said
					p.HitchHeight = p.AxleHeight
				}
			}
		}), true
	}
	return remedy{}, false
}

// straight lays a piece so that all of its rating counts, which is what is said
// of one that is to be brought.
func straight(g *job.Gear) {
	zero := bound.Exactly(unit.Angle(0))
	if g.SlingAngle != nil {
		g.SlingAngle = &zero
	}
	if g.Kind == "shackle" {
		g.SideAngle = &zero
	}
	if job.Slung(g.Kind) {
		g.SlingHitch = hitchBasket
	}
}

// notThicker is how thick a rope that holds may be: a thicker one stretches less and
// catches harder than was reckoned.
func notThicker(t seat, rating job.Rating) string {
	if !t.hold || t.kind != "rope" {
		return ""
	}
	g := t.piece.g
	g.Rating = rating
	thicken(&g, true)
	if g.Diameter == nil {
		return ""
	}
	most := g.Diameter.High
	return fmt.Sprintf(", no thicker than %.0f mm (%s inch)", math.Floor(most.Millimetres()), figure(most.Inches(), figures, math.Floor))
}

// thicken gives a rope or a chain that is to be brought the thickness that its
// stamp takes, where its own leaves less or nobody told it. A rope that holds is as
// thick as leaves it as stiff as one with its stamp may be: what is brought may be that thick.
func thicken(g *job.Gear, holds bool) {
	stamp := g.Rating.Force.High
	if factor, _, ok := handbook.DesignFactor(g.Kind); ok && holds && g.Kind == "rope" {
		most, _ := handbook.BreaksOverWorkingAtMost()
		stamp = stamp.Scale(float64(most / factor))
	}
	least, ok := thickEnough(g.Kind, g.Material, stamp)
	if holds {
		least = unit.Millimetres(math.Ceil(least.Millimetres()))
	}
	if ok && (g.Diameter == nil || g.Diameter.High < least) {
		g.Diameter = new(bound.Exactly(least))
	}
}

// levelGround is ground that is found level: as near as a level shows.
func levelGround() *job.Angle {
	off, _, _ := handbook.SlopeSpread("level")
	return &job.Angle{High: off}
}

// standsLevel reports whether it was told that a puller stands level: nobody levels the
// ground for it any further.
func standsLevel(p job.Puller) bool {
	worth, _ := handbook.RampedFrom()
	return p.Slope != nil && p.Pull == "level" && p.Slope.Best <= worth
}

// stronger brings more force, where nothing smaller does it.
func stronger(c job.Case, o weighed) []remedy {
	var out []remedy
	i := pullerIn(c, o)
	if i < 0 {
		return nil
	}
	p := c.Pullers[i]
	worth, _ := handbook.RampedFrom()
	if o.power.machine() && p.AxleHeight != nil && p.HitchHeight != nil && p.HitchHeight.High > p.AxleHeight.Low {
		out = append(out, plain("Hitch at or below the axle: use the drawbar.", func(c *job.Case) {
			q := &c.Pullers[i]
			low := bound.Exactly(q.AxleHeight.Low)
			q.Hitch, q.HitchHeight = "drawbar", &low
		}))
	}
	if o.power.machine() && (p.Mass != nil && (p.Slope == nil || p.Slope.High > worth) && !standsLevel(p) || o.fails("U5/block")) {
		do := "Stand the puller on level ground."
		if p.Slope == nil {
			do = "Stand the puller on level ground, and tell so: what slope it stands on was not told."
		}
		out = append(out, plain(do, func(c *job.Case) { c.Pullers[i].Slope, c.Pullers[i].Pull = levelGround(), "level" }))
	}
	if p.Ground != "" && p.Ground != "gravel" && p.Ground != "firm soil" && o.power.machine() {
		out = append(out, plain("Stand the puller on firm gravel.", func(c *job.Case) { c.Pullers[i].Ground = "gravel" }))
	}
	heaviest, _ := handbook.HeaviestPuller()
	strongest, _ := handbook.StrongestWinch(p.Kind == "hand-winch")
	switch {
	case p.Mass != nil && o.power.machine() && p.Mass.Best < heaviest:
		to := func(k float64) unit.Mass { return towards(p.Mass.Best, heaviest, k) }
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) {
				m := p.Mass.Scale(float64(to(k)) / float64(p.Mass.Best))
				c.Pullers[i].Mass = &m
			},
			do: func(_ job.Case, k float64) string {
				return fmt.Sprintf("Bring a puller of the same kind of at least %s.", heavy(to(k)))
			}})
	case p.Rating.Force != nil && p.Rating.Force.Best < strongest:
		to := func(k float64) unit.Force { return towards(p.Rating.Force.Best, strongest, k) }
		out = append(out, remedy{scaled: true,
			set: func(c *job.Case, k float64) {
				f := p.Rating.Force.Scale(float64(to(k)) / float64(p.Rating.Force.Best))
				c.Pullers[i].Rating.Force = &f
			},
			do: func(_ job.Case, k float64) string {
				return fmt.Sprintf("Bring a %s rated at least %s.", strings.ReplaceAll(p.Kind, "-", " "), needed(to(k)))
			}})
	}
	return out
}
