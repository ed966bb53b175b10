package calc

import (
	"cmp"
	"math"
	"slices"

	"linetender/calc/job"
	"linetender/calc/motion"
	"linetender/calc/unit"
)

// Cost is what some slack in the holding line would cost.
type Cost struct {
	Slack   Length
	Needed  bool      // the load may roll, so a line has to hold it
	Arrest  *Force    // the line's peak when the load has run up the slack; nil: not known
	Members []Carried // the line, its anchor and its tow point, most used first
	Within  Result    // pass: every member may carry the arrest
	Unknown []string  // fields that would tell what is not known
}

// Carried is one piece with what it may have to carry.
type Carried struct {
	Kind, Name, Use string
	Force           unit.Force
	Working         *unit.Force // nil: not known
	Ratio           *float64    // force over working limit; nil: not known, or it may carry nothing
	Within          Result
}

// HoldCost returns what the holding line of plan p, reckoned from case c,
// would carry if the load ran up slack before the line caught it. Each member
// is held against its working limit at the high end of the arrest. Nothing is
// known where p is for a professional; nothing has to be held where the load
// can't roll, and Needed is then false.
//
// The arrest is that of [motion.Arrest]: no rolling resistance and no slip
// round the post is credited, and the line is reckoned at its shortest.
// A slack that is not ordered or is negative is answered as not known.
func HoldCost(c job.Case, p Plan, slack Length) Cost {
	out := Cost{Slack: slack, Within: Unknown}
	if p.Decision == Refer || !(slack.Ordered() && slack.Low >= 0) {
		return out
	}
	s := newSearch(c, view{})
	if out.Needed = s.n.holds; !out.Needed {
		return out
	}
	o := s.run()[0]
	h := o.path.hold
	if !h.checked {
		out.Unknown = slices.Clone(h.missing)
		return out
	}
	ends := [3]Force{}
	for i, at := range []unit.Length{slack.Low, slack.Best, slack.High} {
		ends[i] = must(motion.Arrest(s.n.static, at, h.line))
	}
	out.Arrest = &Force{Low: ends[0].Low, Best: ends[1].Best, High: ends[2].High}
	s.carry(&out, o)
	return out
}

// carry holds each member of the holding line against the arrest.
func (s search) carry(out *Cost, o weighed) {
	for _, t := range o.path.seats {
		if !t.hold {
			continue
		}
		t.tension = out.Arrest.High
		out.Members = append(out.Members, t.carried())
		if _, known := t.ratio(); !known {
			out.Unknown = append(out.Unknown, t.path)
		}
	}
	for _, l := range o.path.missing {
		if l.what == named(place{use: "holding", hold: true}).what {
			out.Unknown = append(out.Unknown, l.field)
		}
	}
	slices.SortStableFunc(out.Members, func(a, b Carried) int { return cmp.Compare(b.strain(), a.strain()) })
	slices.Sort(out.Unknown)
	out.Unknown = slices.Compact(out.Unknown)
	switch {
	case slices.ContainsFunc(out.Members, func(m Carried) bool { return m.Within == Fail }):
		out.Within = Fail
	case len(out.Unknown) == 0:
		out.Within = Pass
	}
}

// carried is a seat as people outside see it.
func (s seat) carried() Carried {
	c := Carried{Kind: s.kind, Use: s.use, Force: s.tension, Working: s.working, Within: Unknown}
	switch {
	case s.piece != nil:
		c.Name = s.piece.g.Name
	case s.fixed != nil:
		c.Name = s.fixed.a.Name
	}
	if c.Kind == "" {
		c.Kind = s.use
	}
	c.rate()
	return c
}

// rate sets the use ratio and what it comes to.
func (c *Carried) rate() {
	c.Ratio, c.Within = nil, Unknown
	switch {
	case c.Working == nil:
	case *c.Working <= 0:
		c.Within = Fail
	default:
		r := float64(c.Force) / float64(*c.Working)
		c.Ratio = &r
		c.Within = Fail
		if r <= 1 {
			c.Within = Pass
		}
	}
}

// strain sorts what may carry nothing first, and what is not known as just full.
func (c Carried) strain() float64 {
	switch {
	case c.Ratio != nil:
		return *c.Ratio
	case c.Working != nil:
		return math.Inf(1)
	}
	return 1
}
