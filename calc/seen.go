package calc

import (
	_ "embed"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/calc/unit"
)

//go:embed seen.csv
var seenTable []byte

// seenWords say what a thing seen did to the ranges, by what it did.
var seenWords = func() map[string]string {
	out := map[string]string{}
	for _, r := range table("seen.csv", seenTable) {
		out[r[0]] = r[1]
	}
	return out
}()

// Saw is one thing that the crew saw and what it did to the ranges.
type Saw struct {
	What     string      `json:"what"`
	Parts    int         `json:"parts"`
	HaulFrom string      `json:"haul_from"`
	Did      string      `json:"did"`              // a key of its own
	Misfit   bool        `json:"misfit,omitempty"` // nothing told allows it
	AtLeast  *unit.Force `json:"need_at_least_n,omitempty"`
	AtMost   *unit.Force `json:"need_at_most_n,omitempty"`
	Pull     *unit.Force `json:"pull_at_most_n,omitempty"` // of the puller
	Text     string      `json:"text"`
}

// misfits name what does not fit, and again what then is to be measured.
var (
	misfits = map[string]string{"move": "that it moved", "stuck": "that it was stuck", "reading": "a reading"}
	again   = [][2]string{
		{"load.locked", "whether its wheels turn"}, {"load.sunk", "how deep it sits"}, {"load.belly", "whether its belly touches"}, {"load.lip", "any step"},
		{"load.mass", "its weight"}, {"load.slope", "the slope"}, {"load.ground", "the ground under it"},
		{"anchors", "each anchor and its strop, for what came or crept"}, {"puller.hitch", "the hitch, and every knot and end, for what slipped"},
		{"tackle.parts", "how many parts are rigged, and the marks on rope and ground"},
		{".ground", "the ground under the puller"}, {".mass", "what the puller weighs"},
	}
)

// learn brings the need to what was seen. A load that was changed since keeps
// what was learnt against it and loses what was learnt in its favour.
func (n *need) learn(l *job.Learnt, see view) {
	if l == nil {
		return
	}
	n.told, n.learnt = n.force, true
	switch {
	case n.force == l.Told:
		n.force = l.Need
	case see.best:
		f := min(max(n.force.Best, l.Need.Low), l.Need.High)
		n.force = Force{Low: f, Best: f, High: f}
	case l.Need.High > l.Told.High && l.Told.High > 0:
		n.force = n.force.Scale(float64(l.Need.High / l.Told.High))
	}
	if n.told.High > 0 && n.force.High > n.told.High { // what leads aside grows with it
		n.side = n.side.Scale(float64(n.force.High / n.told.High))
	}
}

// before is the force along the line before what was seen.
func (n need) before() Force {
	if n.learnt {
		return n.told
	}
	return n.force
}

// judgeSeen makes the findings on what was seen with one rig and puller.
func (s *search) judgeSeen(fs *findings, r rig, at int) {
	l := s.c.Learnt
	if l == nil {
		return
	}
	switch {
	case len(l.Misfits) == 0 && len(l.Untold) > 0:
		fs.ask("E1", l.Untold)
	case len(l.Misfits) == 0:
		fs.add("E1", Pass)
	default:
		var what, fields, words []string
		for _, m := range l.Misfits {
			what, fields = append(what, misfits[s.c.Seen[m.Seen].What]), append(fields, m.Fields...)
		}
		slices.Sort(what)
		for _, f := range again {
			if slices.ContainsFunc(fields, func(g string) bool {
				return g == f[0] || f[0][0] == '.' && strings.HasPrefix(g, "puller") && strings.HasSuffix(g, f[0])
			}) {
				words = append(words, f[1])
			}
		}
		slices.Sort(fields)
		fs.add("E1", Fail, strings.Join(slices.Compact(what), ", "), strings.Join(words, ", ")).fields = slices.Compact(fields)
	}
	if s.n.told != l.Told { // the load is another now
		return
	}
	eta, _ := sheaves(s.c.Tackle, s.see)
	g := r.gain(eta).Best
	var stood *job.Stood
	for i := range l.Stood {
		w := &l.Stood[i]
		here := at < 0 || w.Pullers[at]
		if here && g <= w.Gain*(1+1e-9) && (stood == nil || w.Gain > stood.Gain) {
			stood = w
		}
	}
	switch {
	case stood != nil:
		fs.add("E2", Fail, rigged(job.Seen{Parts: stood.Parts}))
	case len(l.Stood) > 0:
		fs.add("E2", Pass)
	}
}

// remeasure puts what a misfit asks for before all else that is worth
// measuring.
func remeasure(o weighed, found []Measure) []Measure {
	var first []Measure
	for _, f := range o.fs.list {
		if f.rule.id != "E1" || f.result != Fail {
			continue
		}
		for _, field := range f.fields {
			first = append(first, Measure{Field: field, Narrows: f.text(), CouldFlip: true})
		}
	}
	if len(first) == 0 {
		return found
	}
	for _, m := range found {
		if !slices.ContainsFunc(first, func(n Measure) bool { return n.Field == m.Field }) {
			first = append(first, m)
		}
	}
	return first
}
