package calc

import (
	"cmp"
	"fmt"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
)

// anchorChecks are those of the kinds of anchor that have a check of their own.
var anchorChecks = map[string]string{"picket": "A3", "vehicle": "A4"}

func (s *search) judgeAnchors(fs *findings, o weighed) {
	most, _ := handbook.UseMost()
	slender, _ := handbook.DeadmanSlender(true)
	of := num(float64(slender))
	good, any := true, false
	failed := map[string]bool{}
	judged := map[*fixed]bool{}
	for _, t := range o.path.seats {
		if !t.anchor {
			continue
		}
		any = true
		judged[t.fixed] = true
		s.judgeFixed(fs, t.fixed)
		r, known := t.ratio()
		switch {
		case !known || t.fixed.nothing && len(t.fixed.missing) > 0: // that is said of it already
			good = false
		case !t.hold && r > float64(most):
			good = false
			k := cmp.Or(anchorChecks[t.kind], "A1")
			failed[k] = true
			if t.fixed.stated { // not its kind, but what is told of it
				k = "A1"
			}
			switch {
			case t.fixed.shallow:
				continue // it has been said, and no log of any size holds there
			case t.fixed.slender && !t.fixed.stated:
				k = "A1/slender"
			}
			if t.kind == "vehicle" && t.fixed.nothing {
				continue // what is wrong with it has been said, and it is not its weight
			}
			fs.add(k, Fail, needed(t.tension), allowed(*t.working), fmt.Sprintf("%s (%s)", t.label, t.use), of)
		case len(t.fixed.missing) > 0: // by what is told it holds, and what is not told may still lessen that
			good = false
		}
	}
	// One that was set down for a use but is not needed is still relied on by
	// whoever set it down.
	for i := range s.shelf.anchors {
		if f := &s.shelf.anchors[i]; f.a.Use != "" && !judged[f] {
			s.judgeFixed(fs, f)
		}
	}
	if good && any {
		fs.add("A1", Pass)
	}
	if slices.ContainsFunc(o.path.seats, func(t seat) bool { return t.anchor && t.kind == "deadman" && !t.fixed.slender && t.working != nil }) {
		fs.add("A1/slender", Pass)
	}
	judgeLegs(fs, o)
	for _, kind := range []string{"picket", "vehicle"} {
		known := func(t seat) bool { return t.anchor && t.kind == kind && len(t.fixed.missing) == 0 }
		if !failed[anchorChecks[kind]] && slices.ContainsFunc(o.path.seats, known) {
			fs.add(anchorChecks[kind], Pass)
		}
	}
}

// judgeFixed makes the findings on an anchor's kind and state, apart from its
// load.
func (s *search) judgeFixed(fs *findings, f *fixed) {
	a := f.a
	missing := func(field string) bool { return slices.Contains(f.missing, f.path+"."+field) }
	tell := func(k, field string, ok func() bool, args ...any) {
		if missing(field) {
			fs.ask(k, fs.of(f.path+".", field), args...)
		} else {
			fs.judge(k, ok(), args...)
		}
	}
	switch a.Kind {
	case "stump":
		tell("A2/rotten", "alive", func() bool { return *a.Alive })
		tell("A2/lifts", "lean", func() bool { return !*a.Lean }) // its roots that lift are told with the same word
		tell("A2/small", "diameter", func() bool { return !f.thin }, short(handbook.TreeLeast()))
	case "tree":
		tell("A2/dead", "alive", func() bool { return *a.Alive })
		tell("A2/lean", "lean", func() bool { return !*a.Lean })
		free := a.TiedBack
		if s.c.Site.Clear != nil && *s.c.Site.Clear {
			free = s.c.Site.Clear
		}
		nothing, untold := s.ties()
		switch clear := s.c.Site.Clear != nil && *s.c.Site.Clear; {
		case free == nil:
			fs.ask("A2/free", fs.of(f.path, ".tied_back"))
		case *free && !clear && nothing:
			fs.judge("A2/free", false) // what is worth nothing ties nothing back
		case *free && !clear && len(untold) > 0:
			fs.ask("A2/free", untold)
		default:
			fs.judge("A2/free", *free)
		}
		tell("A2/thin", "diameter", func() bool { return !f.thin }, short(handbook.TreeLeast()))
	case "deadman":
		if len(f.missing) > 0 {
			fs.ask("A1", f.missing, "", "", f.label)
		} else {
			fs.judge("A1/shallow", !f.shallow, f.label, long(handbook.DeadmanShallowest()))
		}
	case "picket":
		if len(f.missing) > 0 {
			fs.ask("A3", f.missing)
		}
	case "vehicle":
		tell("A4/chocks", "chocked", func() bool { return *a.Chocked }, f.label)
		tell("A4/brake", "braked", func() bool { return *a.Braked }, f.label)
		tell("A4/line", "in_line", func() bool { return *a.InLine }, f.label)
		var ask []string
		for _, field := range []string{"mass", "ground", "slope"} {
			if missing(field) {
				ask = append(ask, f.path+"."+field)
			}
		}
		if len(ask) > 0 {
			fs.ask("A4", ask, f.label)
		}
		// The line is on one point of it, which is marked as the load's is.
		switch {
		case a.Rating.Kind == "unmarked":
			fs.add("R2", Fail, f.label)
		case missing("rating"), missing("rating_kind"):
			fs.ask("R2", fs.of(f.path+".", "rating", "rating_kind"), f.label)
		}
	default:
		if len(f.missing) > 0 {
			fs.ask("A1", f.missing, "", "", f.label)
		}
	}
	switch {
	case a.StrapHeld != nil:
		fs.judge("A1/slip", *a.StrapHeld)
	case a.Kind == "stump" || a.Kind == "tree":
		fs.ask("A1/slip", fs.of(f.path, ".strap_held"))
	}
}

// ties reports whether a piece that is listed as tying an anchor back is worth nothing, and
// what is not told of those by which they could be. Of a tie that is on no list only its
// being there is known.
func (s *search) ties() (nothing bool, untold []string) {
	for i := range s.shelf.pieces {
		p := &s.shelf.pieces[i]
		if p.g.Use != "tie-back" || !job.Slung(p.g.Kind) && p.g.Kind != "rope" {
			continue
		}
		nothing = nothing || p.nothing
		if p.tellMark {
			untold = append(untold, p.path+".rating")
		}
		if p.tellCond {
			untold = append(untold, p.path+".condition")
		}
		if p.tellMade {
			untold = append(untold, p.path+".improvised")
		}
		if p.tellKnot {
			untold = append(untold, p.path+".knots")
		}
	}
	return nothing, untold
}
