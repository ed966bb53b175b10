package calc

import (
	"linetender/calc/bound"
	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/resistance"
	"linetender/calc/unit"
)

// need is what the load asks for.
type need struct {
	load    resistance.Load
	sum     resistance.Sum
	off     bound.Of[unit.Angle]
	force   Force // along the line, may be negative
	told    Force // the same before what was seen, when something was
	learnt  bool
	side    Force
	tooHigh bool // a step that no wheel can climb, left out of the sum
	jams    bool // a wheel that does not turn jams at the step, or nearly: left out of the sum
	edge    resistance.Edge
	static  Force // what would roll: the grade with no credit
	holds   bool  // the grade may win over rolling, so a line must hold it
	runs    bool  // it may move with no pull at all
	assumed []Assumed
	rows    map[string]handbook.Row
}

// pullHigh is the force at its high end, nothing when the load runs by itself.
func (n need) pullHigh() unit.Force { return max(0, n.force.High) }

// pull is the force with its negative ends, which need no pull, taken as zero.
func (n need) pull() Force {
	return Force{Low: max(0, n.force.Low), Best: max(0, n.force.Best), High: n.pullHigh()}
}

// way turns a slope and the direction of a pull into the slope along the way,
// positive where it climbs. A level way may climb or fall by all that is not
// known of it; so does one whose direction nobody told.
func way(slope bound.Of[unit.Angle], pull string) bound.Of[unit.Angle] {
	switch pull {
	case "uphill":
		return slope
	case "downhill":
		return slope.Scale(-1)
	}
	steepest := max(slope.High, -slope.Low)
	return bound.Of[unit.Angle]{Low: -steepest, High: steepest}
}

// loadWay is the way the load goes. Pulled level it goes across its slope or
// off it, so the way climbs or falls only by what is not known of the slope;
// the slope itself then counts as side slope, and in full for the line that
// holds.
func loadWay(l job.Load) bound.Of[unit.Angle] {
	if l.Pull == "level" {
		doubt := max(l.Slope.High-l.Slope.Best, l.Slope.Best-l.Slope.Low)
		return bound.Of[unit.Angle]{Low: -doubt, High: doubt}
	}
	return way(l.Slope, l.Pull)
}

func reckonNeed(c job.Case, see view) need {
	n := need{rows: map[string]handbook.Row{}}
	l := c.Load
	ratio := func(name string, v bound.Of[bound.Ratio], r handbook.Row, ok bool) bound.Of[bound.Ratio] {
		if !ok {
			panic("calc: no figure for a word that the case took: " + name)
		}
		n.rows[name] = r
		return see.ratio(map[string]string{"rolling": "load.ground", "sliding": "load.ground", "mire": "load.sunk", "belly": "load.belly"}[name], v)
	}
	n.load = resistance.Load{Mass: l.Mass, Way: loadWay(l)}
	v, r, ok := handbook.Rolling(l.Ground)
	n.load.Rolling = ratio("rolling", v, r, ok)
	v, r, ok = handbook.Sliding(l.Ground)
	n.load.Sliding = ratio("sliding", v, r, ok)

	if l.Locked != nil {
		n.load.Locked = *l.Locked
	} else {
		n.load.Locked = bound.Between[bound.Ratio](0, 1)
		n.assume("load.locked", "0 to 1", "nobody said whether its wheels turn")
	}
	if l.Sunk != "" {
		v, r, ok = handbook.Mire(l.Sunk)
		n.load.Mire = ratio("mire", v, r, ok)
	}
	if l.Belly != nil && *l.Belly {
		v, r = handbook.BellyDrag()
		n.load.Belly = ratio("belly", v, r, true)
	}
	n.step(l)
	if l.OffLine != nil {
		n.off = *l.OffLine
	} else {
		free, _ := handbook.OffLineFree()
		n.off = bound.Between(0, free)
		n.assume("load.off_line", "0 to "+degrees(free).String(), "nobody said how far the line leads off the way it will move")
	}
	n.sum = must(resistance.Of(n.load))
	var err error
	n.force, n.side, err = resistance.AlongLine(n.sum.Total, n.off)
	if err != nil {
		panic("calc: " + err.Error())
	}
	steep := bound.Of[unit.Angle]{Low: max(0, l.Slope.Low), Best: max(0, l.Slope.Best), High: max(0, l.Slope.High)}
	n.static = Force{
		Low:  unit.Weight(l.Mass.Low).Scale(steep.Low.Sin()),
		Best: unit.Weight(l.Mass.Best).Scale(steep.Best.Sin()),
		High: unit.Weight(l.Mass.High).Scale(steep.High.Sin()),
	}
	n.holds = n.static.High > n.sum.Rolling.Low
	n.runs = n.sum.Total.Low <= 0
	n.learn(c.Learnt, see)
	return n
}

// step adds what a step before the wheels asks for. One that a wheel can't
// climb is left out of the sum: there is no such force, and the check blocks. So is
// what a locked wheel takes there where it jams or nearly does.
//
// Both axles go over it while the load goes its way, so the one that carries more counts,
// whichever was told: nobody says that the way ends before the other meets it. That errs
// high where it does.
func (n *need) step(l job.Load) {
	lip := l.Lip
	if lip == nil || lip.None {
		return
	}
	blocked, _ := handbook.LipBlocked()
	if lip.Height.High >= lip.Radius.Low.Scale(float64(blocked)) {
		n.tooHigh = true
		return
	}
	share, row := handbook.AxleShareUnasked()
	axle := bound.Of[bound.Ratio]{Low: share, Best: share, High: 1}
	if told := lip.AxleShare; told != nil {
		axle = bound.Of[bound.Ratio]{Low: told.Low, Best: max(told.Best, 1-told.Best), High: max(told.High, 1-told.Low)}
	} else {
		n.assume("load.lip.axle_share", row.Figure()+" to 1", "nobody said how much of the weight the axle that meets the step carries")
		n.rows["lip"] = row
	}
	n.edge = resistance.Edge{Height: lip.Height, Radius: lip.Radius, Axle: axle}
	if n.load.Locked.High > 0 {
		most, _ := handbook.LipSlides()
		n.jams = must(resistance.Leans(lip.Height.High, lip.Radius.Low, n.load.Sliding.High)) >= most
	}
	if !n.jams {
		n.edge.Locked, n.edge.Sliding = n.load.Locked, n.load.Sliding
	}
	n.load.Step = must(resistance.Step(n.edge))
}

// tugged reports whether the puller pulls against the line that holds: that
// stands behind the load, and what the holder does not pay out lies in it.
func (n need) tugged(pull string) bool { return n.holds && (n.runs || pull == "downhill") }

func (n *need) assume(field, value, why string) {
	n.assumed = append(n.assumed, Assumed{Field: field, Value: value, Why: why})
}

// must passes on a topic's answer. The case has been read inside the topics'
// domains, so an error here is our own bug.
func must[T any](v T, err error) T {
	if err != nil {
		panic("calc: " + err.Error())
	}
	return v
}

// holding is what the line that keeps the load carries, reckoned with the
// rope that holds it when one is there.
type holding struct {
	Holding
	rope    *piece // that is the line, when one is there
	line    motion.Line
	slack   unit.Length // that the load may run up
	caught  unit.Force  // what catching the load puts on it
	check   unit.Force  // what the line, its anchor and tow point are held against
	checked bool        // check could be reckoned
	missing []string
}

func reckonHolding(c job.Case, n need, rope *piece) holding {
	h := holding{Holding: Holding{Static: n.static, Needed: n.holds, Main: n.runs && n.holds}}
	over, _ := handbook.HoldingOverStatic()
	h.check = n.static.High.Scale(float64(over))
	if rope == nil {
		h.missing = append(h.missing, "gear")
		return h
	}
	stiff, ok := rope.stiffness()
	if !ok {
		h.missing = append(h.missing, rope.path+".material", rope.path+".rating")
		return h
	}
	if c.Reach == nil && c.HoldReach == nil || c.Distance == nil {
		if c.Reach == nil && c.HoldReach == nil {
			h.missing = append(h.missing, "reach")
		}
		if c.Distance == nil {
			h.missing = append(h.missing, "distance")
		}
		return h
	}
	h.rope = rope
	h.line = motion.Line{Stiffness: stiff, Length: holdingSpan(c)}
	for _, s := range handbook.Slacks() {
		h.Arrest = append(h.Arrest, Arrest{Slack: s, Force: must(motion.Arrest(n.static, s, h.line))})
	}
	// No slack told as none is kept to the millimetre, so it is at least what a line is
	// tended to, and none counts for less than the settled multiple of what draws the load
	// down: of a soft line that covers some slack, of a short stiff one hardly any.
	slack, _ := handbook.SlackChecked()
	if c.Site.Slack != nil {
		least, _ := handbook.SlackLeast()
		slack = max(least, c.Site.Slack.High)
	}
	h.slack = slack
	h.caught = must(motion.Arrest(n.static, slack, h.line)).High
	h.check = max(h.check, h.caught)
	h.checked = true
	return h
}
