package calc

import (
	"slices"
	"strings"

	"linetender/calc/job"
)

// Names tell what is one thing. An anchor that is listed twice is still one, and
// a machine that pulls is no anchor.

// share puts on every anchor that is listed more than once, by one name, the sum
// of all that hangs on it: a ring that both lines are made fast to is one ring.
func (p *path) share() {
	own := append(p.room.own[:0], p.seats...)
	p.room.own = own
	for i := range p.seats {
		t := &p.seats[i]
		for _, o := range own {
			if !t.anchor || !o.anchor || o.fixed == t.fixed || !sameName(t.fixed.a.Name, o.fixed.a.Name) {
				continue
			}
			t.beside = append(t.beside, o)
			t.tension += o.tension
			if t.peak != nil && o.peak != nil {
				both := *t.peak + *o.peak
				t.peak = &both
			}
		}
	}
}

// sameName reports whether two things go by one name; what has none is like
// nothing else.
func sameName(a, b string) bool {
	a, b = strings.TrimSpace(a), strings.TrimSpace(b)
	return a != "" && strings.EqualFold(a, b)
}

// judgeOneAnchor finds one thing that is to be two: an anchor that is the puller
// as well, or that both the pull and the holding line hang on.
func (s *search) judgeOneAnchor(fs *findings, o weighed) {
	pulls, shared, any := "", "", false
	for _, t := range o.path.seats {
		if !t.anchor {
			continue
		}
		any = true
		if o.power != nil && isPuller(t.fixed.a, o.power.p) {
			pulls = t.label
		}
		for _, h := range o.path.seats {
			if h.anchor && h.hold && !t.hold && sameName(h.fixed.a.Name, t.fixed.a.Name) {
				shared = t.label
			}
		}
	}
	if any {
		fs.judge("A4/pulls", pulls == "", pulls)
	}
	if s.n.holds {
		fs.judge("T1/own", shared == "", shared)
	}
}

// isPuller reports whether an anchor is the machine that pulls, by its name. A
// vehicle told as "tractor" is taken for the puller told as "green tractor".
func isPuller(a job.Anchor, p job.Puller) bool {
	if sameName(a.Name, p.Name) {
		return true
	}
	words, of := strings.Fields(strings.ToLower(a.Name)), strings.Fields(strings.ToLower(p.Name))
	return a.Kind == "vehicle" && len(words) > 0 && !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(of, w) })
}
