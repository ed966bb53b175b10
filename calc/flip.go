package calc

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"linetender/calc/job"
	"linetender/calc/unit"
)

// measures lists what would be worth finding out, most telling first: what
// nobody has said and a check waits for, then each uncertain figure whose low
// or high end would turn the decision with all others at their best, then the
// rest by how far they swing the force.
func (s *search) measures(o weighed) []Measure {
	c := s.c
	out := []Measure{}
	listed := map[string]bool{}
	for _, f := range o.fs.list {
		if !f.opens() || f.follows() {
			continue
		}
		for _, field := range f.fields {
			if !listed[field] {
				listed[field] = true
				out = append(out, Measure{Field: field, Narrows: f.text(), CouldFlip: true})
			}
		}
	}
	var bends []Measure
	for _, t := range o.path.seats { // what is counted at its worst and decides nothing yet
		for _, field := range o.path.unmeasured(t) {
			if !listed[field] {
				listed[field] = true
				bends = append(bends, Measure{Field: field, Narrows: "what the " + t.label + " may carry where it bends"})
			}
		}
	}
	var known []swing
	asked := map[string]bool{}
	best := s.seen(c, view{best: true, asked: asked})
	first := best.best()
	base := outcomeOf(first)
	best.likely = first
	for _, field := range uncertain(c) {
		if listed[field] || ofTables[field] && !asked[field] {
			continue // said already, or no figure of a table was wanted for it, at its ends no more than at its best
		}
		at := view{best: true, only: field}
		above := view{best: true, only: field, high: true}
		if !ofTables[field] && reflect.DeepEqual(at.of(c), above.of(c)) {
			continue // it was told exactly, or not at all
		}
		low, high := outcomeOf(best.seen(c, at).best()), outcomeOf(best.seen(c, above).best())
		if low.like(high) {
			continue // its ends change nothing
		}
		known = append(known, swing{field: field, low: low, high: high, flips: low.settled != base.settled || high.settled != base.settled})
	}
	slices.SortStableFunc(known, func(a, b swing) int {
		if a.flips != b.flips {
			return map[bool]int{true: -1, false: 1}[a.flips]
		}
		return cmp.Compare(b.width(), a.width())
	})
	for _, k := range known {
		if of, ok := strings.CutPrefix(k.field, "puller."); ok && o.power != nil {
			k.field = o.power.path + "." + of
		}
		out = append(out, Measure{Field: k.field, Narrows: k.text(), CouldFlip: k.flips,
			Swing: &Swing{Best: base.use, Low: k.low.use, High: k.high.use, AtLow: k.low.settled, AtHigh: k.high.settled}})
	}
	return append(out, bends...)
}

// ofTables are the fields whose range is not in the case but in the figures of
// the tables, which are seen where they are read.
var ofTables = map[string]bool{
	"load.ground": true, "load.sunk": true, "load.belly": true, "tackle.sheave": true,
	"puller.ground": true, "puller.people": true, "puller.winch_layer": true,
}

// outcome is what a plan comes to, for comparing.
type outcome struct {
	settled   Decision // with what is not known left aside
	force     unit.Force
	available unit.Force
	use       float64 // of the most strained thing that is known
}

// like reports whether two outcomes decide alike on the same forces.
func (o outcome) like(p outcome) bool {
	o.use = p.use
	return o == p
}

type swing struct {
	field     string
	low, high outcome
	flips     bool
}

// pulls reports whether the field is the puller's, so that what it gives and
// not what the load needs is what swings.
func (s swing) pulls() bool { return strings.HasPrefix(s.field, "puller") }

func (s swing) width() float64 {
	if s.pulls() {
		return float64(abs(s.high.available - s.low.available))
	}
	return float64(abs(s.high.force - s.low.force))
}

func abs(f unit.Force) unit.Force { return max(f, -f) }

func (s swing) text() string {
	if s.pulls() && s.low.available != s.high.available {
		return fmt.Sprintf("what the puller gives, from %s to %s", needed(min(s.low.available, s.high.available)), needed(max(s.low.available, s.high.available)))
	}
	if s.low.force == s.high.force {
		return "whether the checks pass"
	}
	return fmt.Sprintf("the force, from %s to %s", needed(min(s.low.force, s.high.force)), needed(max(s.low.force, s.high.force)))
}

func outcomeOf(o *weighed) outcome {
	t := outcome{settled: Go, force: onTowPoint(o)}
	switch {
	case o.v.decision == Refer:
		t.settled = Refer
	case o.v.blocks > 0:
		t.settled = NoGo
	}
	if o.power != nil && o.power.available != nil {
		t.available = o.power.available.Best
		if t.available > 0 {
			t.use = float64(o.s.haul.High) / float64(t.available)
		}
	}
	for _, p := range o.path.seats {
		if r, known := p.ratio(); known && !math.IsInf(r, 1) {
			t.use = max(t.use, r)
		}
	}
	return t
}

func onTowPoint(o *weighed) unit.Force {
	for _, t := range o.path.seats {
		if t.use == "tow-point" {
			return t.tension
		}
	}
	return 0
}

// uncertain lists the inputs that have a range of their own, by the field
// that a person would measure.
func uncertain(c job.Case) []string {
	out := []string{"load.locked", "load.sunk", "load.belly", "load.ground", "load.mass", "load.slope", "load.off_line",
		"load.lip.height", "load.lip.wheel_radius", "load.side_slope", "tackle.sheave", "distance", "reach", "holding_reach", "lead"}
	for i := range c.Pullers {
		for _, f := range []string{"ground", "mass", "slope", "people", "winch_layer", "run", "hitch_height", "wheelbase", "cg_height"} {
			if f == "ground" || f == "people" || f == "winch_layer" { // figures of the tables, alike for all pullers
				out = append(out, "puller."+f)
				continue
			}
			out = append(out, pullerPath(c, i)+"."+f)
		}
	}
	slices.Sort(out[15:])
	return slices.Compact(out)
}
