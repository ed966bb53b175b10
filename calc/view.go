package calc

import (
	"linetender/calc/bound"
	"linetender/calc/job"
)

// view is how ranges are looked at. The zero view sees them whole. A best view
// sees every range as its best figure, but the one named in only at one of its
// ends, which tells what not knowing that one does.
type view struct {
	best  bool
	only  string
	high  bool
	asked map[string]bool // when not nil, takes the names of the ranges that were looked at
}

// see returns v as the view has it.
func see[Q bound.Quantity](w view, name string, v bound.Of[Q]) bound.Of[Q] {
	if w.asked != nil && v.Low != v.High {
		w.asked[name] = true
	}
	switch {
	case !w.best:
		return v
	case name != w.only:
		return bound.Exactly(v.Best)
	case w.high:
		return bound.Exactly(v.High)
	}
	return bound.Exactly(v.Low)
}

func (w view) ratio(name string, v Ratio) Ratio { return see(w, name, v) }

// against is ratio for what grows as the named quantity shrinks.
func (w view) against(name string, v Ratio) Ratio {
	w.high = !w.high
	return see(w, name, v)
}

// of returns the case as the view has it. The figures of the tables are seen
// where they are read.
func (w view) of(c job.Case) job.Case {
	if !w.best {
		return c
	}
	l := &c.Load
	l.Mass = see(w, "load.mass", l.Mass)
	l.Slope = see(w, "load.slope", l.Slope)
	l.Locked = seen(w, "load.locked", l.Locked)
	l.OffLine = seen(w, "load.off_line", l.OffLine)
	l.SideSlope = seen(w, "load.side_slope", l.SideSlope)
	if l.Locked == nil {
		s := see(w, "load.locked", bound.Between[bound.Ratio](0, 1))
		l.Locked = &s
	}
	if l.Lip != nil && !l.Lip.None {
		lip := *l.Lip
		lip.Height = see(w, "load.lip.height", lip.Height)
		lip.Radius = see(w, "load.lip.wheel_radius", lip.Radius)
		l.Lip = &lip
	}
	c.Distance = seen(w, "distance", c.Distance)
	c.Reach = seen(w, "reach", c.Reach)
	c.HoldReach = seen(w, "holding_reach", c.HoldReach)
	c.Lead = seen(w, "lead", c.Lead)
	pullers := append([]job.Puller(nil), c.Pullers...)
	for i := range pullers {
		p, path := &pullers[i], pullerPath(c, i)
		p.Mass = seen(w, path+".mass", p.Mass)
		p.Slope = seen(w, path+".slope", p.Slope)
		p.Run = seen(w, path+".run", p.Run)
		p.HitchHeight = seen(w, path+".hitch_height", p.HitchHeight)
		p.AxleHeight = seen(w, path+".axle_height", p.AxleHeight)
		p.Wheelbase = seen(w, path+".wheelbase", p.Wheelbase)
		p.CGHeight = seen(w, path+".cg_height", p.CGHeight)
	}
	c.Pullers = pullers
	return c
}

func seen[Q bound.Quantity](w view, name string, v *bound.Of[Q]) *bound.Of[Q] {
	if v == nil {
		return nil
	}
	s := see(w, name, *v)
	return &s
}
