package calc

import (
	_ "embed"
	"fmt"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/tackle"
	"linetender/calc/unit"
)

//go:embed note.csv
var noteTable []byte

// noted are the answers to the field's commonest mistakes, by key.
var noted = func() map[string]string {
	out := map[string]string{}
	for _, r := range table("note.csv", noteTable) {
		out[r[0]] = r[1]
	}
	return out
}()

// note writes one answer. A key that the table lacks is our own bug.
func note(key string, args ...any) string {
	t, ok := noted[key]
	if !ok {
		panic("calc: no note " + key)
	}
	return filled(t, written(args))
}

// notes answers the mistakes that a crew's own sum would make with this job,
// where the figures show that they could.
func (s *search) notes(o weighed) []string {
	out := []string{}
	add := func(key string, args ...any) { out = append(out, note(key, args...)) }
	pull := s.n.pullHigh()
	if n := o.rig.parts(); n > 1 && pull > 0 {
		// What is counted on is what the haul comes to, the manuals' rule and lead
		// blocks among it, so that the figures beside each other divide out.
		add("friction", fmt.Sprint(n), num(float64(pull)/float64(o.s.haul.High)), needed(pull.Scale(1/float64(n))), needed(o.s.haul.High), needed(pull))
		add("moving", needed(pull))
	}
	if o.rig.first.StandingSheaves() > 0 || o.rig.first.From == tackle.Standing {
		add("sum", needed(o.s.anchor.High), needed(o.s.tensions[0]))
	}
	if w := unit.Weight(s.n.load.Mass.High); pull > 0 && pull < w {
		add("weight", heavy(s.n.load.Mass.High), needed(pull))
	}
	for _, t := range o.path.seats {
		if t.piece == nil || t.working == nil || t.piece.nothing {
			continue
		}
		r := t.piece.g.Rating
		if r.Kind == "breaking" && r.Force.Low >= t.tension && t.tension > *t.working {
			add("breaking", t.label, allowed(r.Force.Low), allowed(*t.working))
		}
		if _, added, ok := t.piece.alone(); ok && added > *t.working && o.path.sideBySide(t.piece) {
			add("loops", t.label)
		}
	}
	if told := s.c.Load.SlopeTold; told != "" {
		by, _, _ := handbook.SlopeSpread("level") // less is within what either finds
		if other := otherForm(told, s.c.Load.Slope.Best); max(other, s.c.Load.Slope.Best)-min(other, s.c.Load.Slope.Best) > by {
			add("sine", degrees(s.c.Load.Slope.Best), degrees(other))
		}
	}
	if weight, f, ok := s.mixedRatings(); ok {
		add("system", weight, allowed(f))
	}
	return out
}

// sideBySide reports whether several of a piece lie in one place: of loops all
// that have no place of their own, of anything else what was set down for a use.
// Shackles that merely lie there are told together because they are alike.
func (p path) sideBySide(q *piece) bool {
	places := 0
	for _, t := range p.seats {
		if t.piece == q {
			places++
		}
	}
	loops := slices.Contains([]string{"sling", "strap", "chain", "rope"}, q.g.Kind)
	return places < q.g.Count && (loops || q.g.Use != "" && q.g.Use != "spare")
}

// otherForm is what a slope told by level would be if it had been told by
// board, and the other way round.
func otherForm(told string, a unit.Angle) unit.Angle {
	if told == "level" {
		other, err := unit.Incline(unit.Metres(min(1, a.Tan())), unit.Metres(1))
		if err != nil {
			return a
		}
		return other
	}
	return unit.Rise(unit.Metres(a.Sin()), unit.Metres(1))
}

// mixedRatings reports a rating told as a weight when another is told as a
// force: the figures then can't be compared as they stand.
func (s *search) mixedRatings() (weight string, f unit.Force, ok bool) {
	forces := false
	for _, g := range s.c.Gear {
		r := g.Rating
		switch {
		case r.Force == nil:
		case r.AsWeight && weight == "":
			weight, f = r.Told, r.Force.Low
		case !r.AsWeight:
			forces = true
		}
	}
	return weight, f, forces && weight != ""
}
