package calc

import (
	"cmp"
	"math"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// What can end a bite.
const (
	ByRun      = "run"      // the puller's free way, less what it needs to stop
	ByChock    = "chock"    // chocks follow each half turn of the wheel
	ByBlocks   = "blocks"   // the blocks of the tackle would meet
	ByDistance = "distance" // the load is there
)

// wheelField is where the radius of the load's wheels is told.
const wheelField = "load.wheel_radius"

// BiteLength is the longest next bite: how far the load may go before it is
// held again.
type BiteLength struct {
	Load    *unit.Length // nil: something that could end it sooner is not known
	Haul    *unit.Length // the rope that comes in with it
	By      string       // what ends it; "" with Load nil
	Count   *int         // bites of that length to the end; nil: not known
	Limits  []BiteLimit  // all that are known, shortest first
	Unknown []string     // fields that would tell the others
}

// BiteLimit is one thing that ends a bite.
type BiteLimit struct {
	By   string
	Load unit.Length // how far the load gets
}

// Bite returns the longest next bite of plan p, reckoned from case c: the
// least of the puller's straight run less its stopping distance, over the
// parts; half a turn of the load's wheels where the slope may reach 5 degrees, or
// the load may roll by itself on less, since chocks follow it then; the way until
// the tackle's blocks would meet; and the distance left. Lengths
// are taken at their low end. Distance and reach are what is left of them:
// once the load has moved, ask with [Moved].
//
// A winch takes in its own rope and needs no run. While anything that could
// end the bite is not known, Load is nil and Unknown names it. With a plan for
// a professional there is no bite.
//
// Source: common practice.
func Bite(c job.Case, p Plan) BiteLength {
	var b BiteLength
	if p.Decision == Refer || p.Tackle == nil {
		return b
	}
	n := float64(parts(p))
	limit := func(by string, load unit.Length) { b.Limits = append(b.Limits, BiteLimit{By: by, Load: max(0, load)}) }
	if field, run := runOf(c, p); field != "" {
		stop, _ := handbook.StopDistance()
		if run == nil {
			b.Unknown = append(b.Unknown, field)
		} else {
			limit(ByRun, (run.Low - stop).Scale(1/n))
		}
	}
	if steep, _ := handbook.ChockSlope(); c.Load.Slope.High >= steep || rolls(p) {
		turn, _ := handbook.ChockTurn()
		if r := wheel(c.Load); r == nil {
			b.Unknown = append(b.Unknown, wheelField)
		} else {
			limit(ByChock, r.Low.Scale(2*math.Pi*float64(turn)))
		}
	}
	if n > 1 {
		apart, _ := handbook.BlocksApart()
		if c.Reach == nil {
			b.Unknown = append(b.Unknown, "reach")
		} else {
			limit(ByBlocks, c.Reach.Low-apart)
		}
	}
	if c.Distance == nil {
		b.Unknown = append(b.Unknown, "distance")
	} else {
		// To be there is to have gone the most that it may be.
		limit(ByDistance, c.Distance.High)
	}
	slices.SortStableFunc(b.Limits, func(x, y BiteLimit) int { return cmp.Compare(x.Load, y.Load) })
	if len(b.Unknown) > 0 || len(b.Limits) == 0 {
		return b
	}
	load := b.Limits[0].Load
	haul := load.Scale(n)
	b.Load, b.Haul, b.By = &load, &haul, b.Limits[0].By
	if count, err := motion.Bites(c.Distance.High, load); err == nil {
		b.Count = &count
	} else if c.Distance.High == 0 {
		b.Count = new(int)
	}
	return b
}

// rolls reports whether the load may roll by itself, or nobody knows that it can't.
func rolls(p Plan) bool { return p.Holding == nil || p.Holding.Needed }

// Moved returns the case with the load further along by so much: distance and
// reach are what is left, and so is the way to the holding line's anchor uphill;
// any other way the load moves away from that. What is not known stays so.
func Moved(c job.Case, by Length) job.Case {
	less := func(l *Length) *Length {
		if l == nil {
			return nil
		}
		return &Length{Low: max(0, l.Low-by.High), Best: max(0, l.Best-by.Best), High: max(0, l.High-by.Low)}
	}
	c.Distance, c.Reach = less(c.Distance), less(c.Reach)
	switch at := c.HoldReach; {
	case at == nil:
	case c.Load.Pull == "uphill":
		c.HoldReach = &Length{Low: shortened(at.Low, by.High), Best: shortened(at.Best, by.Best), High: shortened(at.High, by.Low)}
	default:
		c.HoldReach = &Length{Low: at.Low + by.Low, Best: at.Best + by.Best, High: at.High + by.High}
	}
	return c
}

// parts is how much rope comes in for each length the load moves.
func parts(p Plan) int {
	if p.Tackle.Compound != nil {
		return p.Tackle.Parts * p.Tackle.Compound.Parts
	}
	return p.Tackle.Parts
}

// runOf is the straight way that the plan's puller has, and the field that
// tells it; "" where it needs none.
func runOf(c job.Case, p Plan) (field string, run *Length) {
	i := pullerOf(c, p)
	if i < 0 {
		return "puller.run", nil
	}
	if k := c.Pullers[i].Kind; k == "winch" || k == "hand-winch" {
		return "", nil
	}
	return pullerPath(c, i) + ".run", c.Pullers[i].Run
}

// wheel is the radius of the load's wheels, told for itself or with a step.
func wheel(l job.Load) *Length {
	if l.WheelRadius != nil {
		return l.WheelRadius
	}
	if l.Lip != nil && !l.Lip.None {
		return &l.Lip.Radius
	}
	return nil
}

// pullerOf is the place of the plan's puller in its case, -1 when it has none.
func pullerOf(c job.Case, p Plan) int {
	if p.Puller == nil || p.Puller.Place >= len(c.Pullers) {
		return -1
	}
	return p.Puller.Place
}
