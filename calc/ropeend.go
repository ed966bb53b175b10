package calc

import (
	"slices"
	"strings"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// A line ends on something, and something joins it there: a shackle, a hook, a
// link or an eye that is spliced. Nobody need list it in a case, so it is asked on
// the spot, with what it must bear.

// End is where a line is joined to something, and the least working limit of
// what joins it there.
type End struct {
	At      string     `json:"at"`
	Working unit.Force `json:"working_n"`
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
		out = append(out, End{at, f})
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

// judgeEnds finds whether people on the spot have looked at what joins each end.
func (s *search) judgeEnds(fs *findings, o weighed) {
	var said []string
	if !fs.brief {
		for _, e := range o.ends() {
			said = append(said, needed(e.Working).String()+" "+e.At)
		}
	}
	fs.site("R1/ends", s.c.Site.EndsJoined, true, "site.ends_joined", strings.Join(said, ", "))
}
