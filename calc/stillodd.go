package calc

import (
	"slices"
	"strconv"
	"strings"

	"linetender/calc/job"
)

// stillOdd are the doubtful figures of a case that a change leaves: as they are, or in
// their place another that is hardly so either. What is brought in the place of a thing
// has a figure of its own, and of that nobody has to be sure. Places in a list may move,
// so as long as the figure stands anywhere in it it is doubted still.
func stillOdd(before, after job.Case) []job.Odd {
	var out []job.Odd
	for _, o := range before.Odd {
		was, is := figuresAt(before, o.Field), figuresAt(after, o.Field)
		at := placeOf(o.Field)
		if at >= len(was) || was[at] == "" || slices.Contains(is, was[at]) {
			out = append(out, o)
			continue
		}
		for _, now := range is {
			if again, odd := job.Unlikely(o.Field, now); odd && !slices.Contains(was, now) {
				out = append(out, again)
			}
		}
	}
	return out
}

// placeOf is the place in a list that a field names, 0 for none.
func placeOf(field string) int {
	_, rest, _ := strings.Cut(field, "[")
	at, _, _ := strings.Cut(rest, "]")
	n, err := strconv.Atoi(at)
	if err != nil {
		return 0
	}
	return n
}

// figuresAt is what a field's figure is in each place of its list, at its best and in
// words that can be read again; one figure for what is in no list, and "" for none.
func figuresAt(c job.Case, field string) []string {
	name := field[strings.LastIndex(field, ".")+1:]
	of := func(figure string) []string { return []string{figure} }
	switch {
	case strings.HasPrefix(field, "gear["):
		return each(c.Gear, func(g job.Gear) string {
			return map[string]string{"rating": stamped(g.Rating), "diameter": measured(g.Diameter), "length": measured(g.Length)}[name]
		})
	case strings.HasPrefix(field, "anchors["):
		return each(c.Anchors, func(a job.Anchor) string {
			return map[string]string{"rating": stamped(a.Rating), "diameter": measured(a.Diameter), "mass": weighs(a.Mass)}[name]
		})
	case strings.HasPrefix(field, "puller"):
		return each(c.Pullers, func(p job.Puller) string {
			return map[string]string{"mass": weighs(p.Mass), "rating": stamped(p.Rating), "hitch_rating": stamped(p.HitchRating), "run": measured(p.Run), "drum": measured(p.Drum),
				"wheelbase": measured(p.Wheelbase), "hitch_height": measured(p.HitchHeight), "axle_height": measured(p.AxleHeight), "cg_height": measured(p.CGHeight)}[name]
		})
	case strings.HasPrefix(field, "load.lip."):
		if l := c.Load.Lip; l != nil && !l.None {
			return of(map[string]string{"height": measured(&l.Height), "wheel_radius": measured(&l.Radius)}[name])
		}
		return of("")
	}
	point := func(p *job.TowPoint) string {
		if p == nil {
			return ""
		}
		return stamped(p.Rating)
	}
	return of(map[string]string{
		"load.mass": weighs(&c.Load.Mass), "load.wheel_radius": measured(c.Load.WheelRadius),
		"load.tow_point.rating": point(c.Load.TowPoint), "load.holding_point.rating": point(c.Load.HoldingPoint),
		"distance": measured(c.Distance), "reach": measured(c.Reach), "holding_reach": measured(c.HoldReach), "lead": measured(c.Lead),
	}[field])
}

func each[T any](list []T, figure func(T) string) []string {
	out := make([]string, 0, len(list))
	for _, v := range list {
		out = append(out, figure(v))
	}
	return out
}

func inUnit(v float64, unit string) string { return strconv.FormatFloat(v, 'f', -1, 64) + " " + unit }

func weighs(m *job.Mass) string {
	if m == nil {
		return ""
	}
	return inUnit(m.Best.Kilograms(), "kg")
}

func measured(l *job.Length) string {
	if l == nil {
		return ""
	}
	return inUnit(l.Best.Metres(), "m")
}

func stamped(r job.Rating) string {
	if r.Force == nil {
		return ""
	}
	return inUnit(r.Force.Best.Newtons(), "N")
}
