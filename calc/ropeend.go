package calc

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// A line ends on something, and something joins it there: a shackle, a hook, a
// link or an eye that is spliced. Nobody need list it in a case, so it is asked on
// the spot, with what it must bear.

// Of the pieces that were listed all the same, one that carries less joins no end: where
// none that can join carries what an end needs, no yes on the spot stands against that.

// End is where a line is joined to something, and the least working limit of
// what joins it there.
type End struct {
	At      string     `json:"at"`
	Working unit.Force `json:"working_n"`
	Weak    []Joiner   `json:"too_weak,omitempty"` // what was listed that could join it: none of it carries that
}

// Joiner is a listed piece that can join an end, and what it may carry.
type Joiner struct {
	Kind    string     `json:"kind"`
	Name    string     `json:"name,omitempty"`
	Working unit.Force `json:"working_n"`
}

// endJoiners are the kinds of pieces that join a line's end to something by a pin or a
// catch; a sling or a strap is tied to it by one of these.
var endJoiners = []string{"shackle", "hook", "link"}

// weak lists the pieces that could join an end and carry less than it needs, where
// what each carries is told or is nothing; nil where one of them carries it, or none
// is known.
func (s *search) weak(e End) []Joiner {
	var out []Joiner
	for _, i := range s.shelf.order {
		p := &s.shelf.pieces[i]
		switch {
		case !slices.Contains(endJoiners, p.g.Kind) || p.working == nil:
		case within(e.Working, *p.working):
			return nil
		default:
			out = append(out, Joiner{Kind: p.g.Kind, Name: p.g.Name, Working: *p.working})
		}
	}
	return out
}

// endsOf lists the ends of a rig's lines with what of the gear is too weak for each.
func (s *search) endsOf(o weighed) []End {
	out := o.ends()
	for i := range out {
		out[i].Weak = s.weak(out[i])
	}
	return out
}

// ends lists the ends of the lines of a rig, the load's first. What joins an end
// bears what is on it, and at the puller's most no more than what a piece may
// without a signature, reckoned as one whose working limit alone is stamped.
//
// Source: the checks R3 and R4; that a stamp of a working limit says so much of
// the breaking strength is the handbook's.
func (o weighed) ends() []End {
	half, _ := handbook.PeakSigned()
	over, _ := handbook.BreaksOverWorking()
	bears := func(tension unit.Force, peak *unit.Force) unit.Force {
		if peak != nil {
			tension = max(tension, peak.Scale(1/float64(half*over)))
		}
		return max(0, tension)
	}
	var out []End
	add := func(at string, f unit.Force) {
		if i := slices.IndexFunc(out, func(e End) bool { return e.At == at }); i >= 0 {
			out[i].Working = max(out[i].Working, f)
			return
		}
		out = append(out, End{At: at, Working: f})
	}
	for i := range o.path.seats {
		if t := &o.path.seats[i]; t.use == "tow-point" {
			add("at the tow point", bears(t.tension, t.peak))
		}
	}
	var most *unit.Force
	if o.power != nil {
		most = o.power.most
	}
	if !o.rig.straight() {
		for _, pl := range o.s.places {
			if pl.use == "haul" {
				add("at the fixed end", bears(pl.tension, pl.peak(most)))
			}
		}
	}
	if o.power != nil && o.power.p.Kind != "people" {
		add("at the puller", bears(o.s.haul.High, most))
	}
	for i := range o.path.seats {
		if t := &o.path.seats[i]; t.hold {
			add("on the holding line", bears(t.tension, t.peak))
		}
	}
	return out
}

// judgeEnds finds whether people on the spot have looked at what joins each end. A yes
// of theirs counts for no end that nothing of the listed gear that can join it bears.
func (s *search) judgeEnds(fs *findings, o weighed) {
	answer := s.c.Site.EndsJoined
	listed := slices.ContainsFunc(s.shelf.pieces, func(p piece) bool { return slices.Contains(endJoiners, p.g.Kind) && p.working != nil })
	var all, short, weak []string
	if !fs.brief || listed {
		for _, e := range s.endsOf(o) {
			if fs.brief {
				if len(e.Weak) > 0 {
					short = append(short, e.At) // that there is one
				}
				continue
			}
			figure := needed(e.Working).String() + " " + e.At
			all = append(all, figure)
			if len(e.Weak) > 0 {
				short = append(short, figure)
			}
			for _, j := range e.Weak {
				if said := cmp.Or(j.Name, j.Kind) + ", " + allowed(j.Working).String(); !slices.Contains(weak, said) {
					weak = append(weak, said)
				}
			}
		}
	}
	fs.site("R1/ends", answer, true, "site.ends_joined", strings.Join(all, ", "))
	switch {
	case !listed || isNot(answer) && len(short) > 0:
	case len(short) == 0:
		fs.add("R1/weak", Pass).onSite = true
	default:
		fs.site("R1/weak", answer, false, "site.ends_joined", strings.Join(short, ", "), strings.Join(weak, "; "))
	}
}
