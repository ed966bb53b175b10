package calc

import (
	"fmt"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/unit"
)

// A piece that counts nothing is passed over where nobody set it down for a use.
// Whoever brought it meant to use it, so the plan says that it was left out and
// why; and where the plan is a no-go, whether a good one in its place would do.

// leftOut is one piece or anchor that the plan passes over for what is wrong
// with it.
type leftOut struct {
	label, why string
	path       string
}

func (s *search) leftOut(o weighed) []leftOut {
	var out []leftOut
	for i := range s.shelf.pieces {
		p := &s.shelf.pieces[i]
		if !p.nothing || p.g.Use != "" || slices.ContainsFunc(o.path.seats, func(t seat) bool { return t.piece == p }) {
			continue
		}
		if why := p.why(); why != "" {
			out = append(out, leftOut{p.label, why, p.path})
		}
	}
	for i := range s.shelf.anchors {
		f := &s.shelf.anchors[i]
		if !f.nothing || f.a.Use != "" || slices.ContainsFunc(o.path.seats, func(t seat) bool { return t.fixed == f }) {
			continue
		}
		if why := f.why(); why != "" {
			out = append(out, leftOut{f.label, why, f.path})
		}
	}
	slices.SortFunc(out, func(a, b leftOut) int { return strings.Compare(a.label+a.why+a.path, b.label+b.why+b.path) })
	return out
}

// why says what makes a piece count nothing. An improvised one has a check of
// its own wherever it lies.
func (p *piece) why() string {
	switch {
	case p.g.Condition == "damaged":
		return "damaged"
	case p.g.Rating.Kind == "unmarked":
		return "no legible marking"
	case p.badJoin != "":
		return "joined with a " + p.badJoin + " knot"
	case p.knotted:
		return "knotted"
	case p.steep:
		return "its legs lean too far"
	}
	return ""
}

func (f *fixed) why() string {
	switch a := f.a; {
	case isNot(a.Alive):
		return "dead or rotten"
	case a.Lean != nil && *a.Lean:
		return "leans or its roots lift"
	case f.thin:
		return "too thin"
	case f.shallow:
		return "buried too shallow"
	case isNot(a.Chocked):
		return "not chocked"
	case isNot(a.Braked):
		return "brakes off"
	case isNot(a.InLine):
		return "across the pull"
	case a.Rating.Kind == "unmarked":
		return "no legible marking"
	}
	return ""
}

func (s *search) judgeLeftOut(fs *findings, o weighed) {
	out := s.leftOut(o)
	if len(out) == 0 {
		fs.add("R15", Pass)
		return
	}
	if fs.brief {
		fs.add("R15", Fail)
		return
	}
	var said []string
	for _, l := range out {
		said = append(said, fmt.Sprintf("the %s (%s)", l.label, l.why))
	}
	fs.add("R15", Fail, strings.Join(said, ", "))
}

// instead puts a good piece in the place of each that was left out. What it must
// bear is found by planning with one that bears anything.
func instead(c job.Case, s *search, o weighed) []remedy {
	most, _ := handbook.StrongestGear()
	no := false
	var out []remedy
	for _, l := range s.leftOut(o) {
		bearing := func(f unit.Force) func(c *job.Case) {
			rating := workingOf(f)
			return func(c *job.Case) {
				if g := gearAt(c, l.path); g != nil {
					g.Rating, g.Condition, g.Improvised, g.Knots, g.KnotsTold = rating, "good", &no, nil, true
					straight(g)
				}
				if a := anchorAt(c, l.path); a != nil {
					*a = job.Anchor{Kind: "rated", Name: a.Name, Rating: rating}
				}
			}
		}
		trial := clone(c)
		bearing(most)(&trial)
		better := newSearch(trial, view{})
		for _, t := range better.best().path.seats {
			if t.path != l.path {
				continue
			}
			want := t.wants()
			if want > most {
				break
			}
			r := plain(fmt.Sprintf("Bring a good one in place of the %s (%s), that may be counted for at least %s.", l.label, l.why, needed(want)), bearing(want))
			out = append(out, r)
			break
		}
	}
	return out
}
