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
// none that is left for an end carries what it needs, no yes on the spot stands against that.

// End is where a line is joined to something, and the least working limit of
// what joins it there.
type End struct {
	At      string     `json:"at"`
	Working unit.Force `json:"working_n"`
	AtMost  bool       `json:"at_most,omitempty"`        // it is for the puller's most: the plan's own tension is less
	Without unit.Force `json:"without_rule_n,omitempty"` // what it would be without the signed rule for the puller's most, where that is more
	Weak    []Joiner   `json:"too_weak,omitempty"`       // what was listed that is left to join it: none of it carries that

	peak, without unit.Force // at the puller's most, that Working and Without are for
	ruled         bool       // by the signed rule
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

// joins reports whether a piece is of those that join an end.
func (p *piece) joins() bool { return slices.Contains(endJoiners, p.g.Kind) }

// unsure reports whether something was left out of a piece that may make it count nothing:
// its stamp, how it was found, whether it was made for this.
func (p *piece) unsure() bool {
	return !p.nothing && (p.working == nil || p.tellMark || p.tellCond || p.tellMade)
}

// endsOf lists the ends of a rig's lines with what of the gear is too weak for each. Every
// end takes a piece of its own: the end that needs most is looked at first, and takes the
// least of what carries it. One for which none is left that does is held against those
// that are left, where there are any: nobody need list what joins an end. A piece of which
// not all was told counts as the best it may be, or, at the worst, as nothing.
func (s *search) endsOf(o weighed, worst bool) []End {
	out := o.ends(o.overHalf())
	type joiner struct {
		Joiner
		left int
	}
	var all []joiner
	for _, i := range s.shelf.order {
		p := &s.shelf.pieces[i]
		if !p.joins() {
			continue
		}
		j := Joiner{Kind: p.g.Kind, Name: p.g.Name}
		switch {
		case worst && p.unsure():
		case p.working != nil:
			j.Working = *p.working
		default:
			j.Working, _ = handbook.StrongestGear()
		}
		all = append(all, joiner{j, p.copies()})
	}
	slices.SortStableFunc(all, func(a, b joiner) int { return cmp.Compare(a.Working, b.Working) })
	most := make([]*End, len(out))
	for i := range out {
		most[i] = &out[i]
	}
	slices.SortStableFunc(most, func(a, b *End) int { return cmp.Compare(b.Working, a.Working) })
	for _, e := range most {
		if i := slices.IndexFunc(all, func(j joiner) bool { return j.left > 0 && within(e.Working, j.Working) }); i >= 0 {
			all[i].left--
			continue
		}
		for _, j := range all {
			if j.left > 0 {
				e.Weak = append(e.Weak, j.Joiner)
			}
		}
	}
	return out
}

// overHalf reports whether a place of the rig passes the share of its breaking strength
// that takes a signed rule for the puller: then nobody pulls before that is signed.
func (o weighed) overHalf() bool {
	return slices.ContainsFunc(o.path.seats, func(t seat) bool {
		return t.breaks != nil && *t.breaks > 0 && !t.holdsPeak(handbook.PeakSigned)
	})
}

// ends lists the ends of the lines of a rig, the load's first. What joins an end bears
// what is on it. At the puller's most it passes no more of its breaking strength, reckoned
// as of one whose working limit alone is stamped, than any other member may: the share
// without a signature, and where the rig pulls by the signed rule only, the one past which
// nothing pulls at all. Whichever a place's share is, the joiner of it is held to the same.
//
// Source: the checks R3 and R4; that a stamp of a working limit says so much of
// the breaking strength is the handbook's.
func (o weighed) ends(ruled bool) []End {
	half, _ := handbook.PeakSigned()
	all, _ := handbook.PeakBlocked()
	over, _ := handbook.BreaksOverWorking()
	share := half
	if ruled {
		share = all
	}
	type borne struct {
		f, without, peak unit.Force
		most             bool
	}
	bears := func(tension unit.Force, peak *unit.Force) borne {
		out := borne{f: max(0, tension), without: max(0, tension)}
		if peak != nil {
			out.peak = *peak
			out.without = max(out.f, peak.Scale(1/float64(half*over)))
			if need := peak.Scale(1 / float64(share*over)); need > out.f {
				out.f, out.most = need, true
			}
		}
		return out
	}
	var out []End
	add := func(at string, b borne) {
		i := slices.IndexFunc(out, func(e End) bool { return e.At == at })
		if i < 0 {
			i, out = len(out), append(out, End{At: at})
		}
		e := &out[i]
		if b.f > e.Working {
			e.Working, e.AtMost, e.peak, e.ruled = b.f, b.most, b.peak, ruled
		}
		if b.without > e.Without {
			e.without = b.peak
		}
		if e.Without = max(e.Without, b.without); e.Without <= e.Working {
			e.Without = 0
		}
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
	listed := slices.ContainsFunc(s.shelf.pieces, func(p piece) bool { return p.joins() })
	var all, short, weak []string
	without := unit.Force(0)
	if !fs.brief || listed {
		for _, e := range s.endsOf(o, false) {
			if fs.brief {
				if len(e.Weak) > 0 {
					short = append(short, e.At) // that there is one
				}
				continue
			}
			figure := needed(e.Working).String() + " " + e.At
			all, without = append(all, figure), max(without, e.Without)
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
	said := strings.Join(all, ", ")
	if without > 0 {
		said += " (by the signed rule for the puller; without that up to " + needed(without).String() + ")"
	}
	fs.site("R1/ends", answer, true, "site.ends_joined", said)
	switch {
	case !listed || isNot(answer) && len(short) > 0:
	case len(short) == 0 && s.askJoiners(fs, o):
	case len(short) == 0:
		fs.add("R1/weak", Pass).onSite = true
	default:
		fs.site("R1/weak", answer, false, "site.ends_joined", strings.Join(short, ", "), strings.Join(weak, "; "))
	}
}

// askJoiners asks for what was left out of the pieces that can join an end, where the
// worst of it would leave an end with none that bears it, and reports whether it did. What
// was left out is never better than the worst that may be told.
func (s *search) askJoiners(fs *findings, o weighed) bool {
	if !slices.ContainsFunc(s.shelf.pieces, func(p piece) bool { return p.joins() && p.unsure() }) ||
		!slices.ContainsFunc(s.endsOf(o, true), func(e End) bool { return len(e.Weak) > 0 }) {
		return false
	}
	for i := range s.shelf.pieces {
		p := &s.shelf.pieces[i]
		if !p.joins() || !p.unsure() || slices.ContainsFunc(o.path.seats, func(t seat) bool { return t.piece == p }) {
			continue // what is in the path asks by itself
		}
		if p.tellMark {
			fs.ask("R2", fs.of(p.path, ".rating", ".rating_kind"), p.label)
		}
		if p.tellCond {
			fs.ask("R11", fs.of(p.path, ".condition"), p.label)
		}
		if p.tellMade && p.g.Use == "spare" { // of the others it is asked anyway
			fs.ask("R7", fs.of(p.path, ".improvised"), p.label)
		}
	}
	return true
}
