package calc

import (
	"fmt"
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/tackle"
)

// options says for every number of parts why it was or wasn't taken: the
// better reeving of each, fewest parts first.
func (s *search) options(all []weighed) []Option {
	best := map[int]weighed{}
	var order []int
	for i := range all {
		n := all[i].rig.parts()
		if all[i].rig.compound() {
			n += 1000 * all[i].rig.first.Parts // compounds apart, by how they are made up
		}
		if _, ok := best[n]; !ok {
			best[n] = all[i]
			order = append(order, n)
		}
	}
	wheels, _ := wheels(s.c)
	if last, _ := handbook.PartsOfUse(); s.c.Tackle.Parts == 0 {
		for n := 2; n <= last; n++ {
			if _, ok := best[n]; !ok {
				order = append(order, n)
			}
		}
	}
	slices.Sort(order)
	var out []Option
	for _, n := range order {
		o, rigged := best[n]
		if !rigged {
			r := tackle.Reeving{Parts: n, From: tackle.Moving}
			if s.c.Tackle.HaulFrom == tackle.Standing.String() {
				r.From = tackle.Standing
			}
			out = append(out, Option{Parts: n, HaulFrom: r.From.String(), Decision: NoGo, Why: lacksSheaves(rig{first: r}, wheels)})
			continue
		}
		taken := o.rig == all[0].rig
		if o.rig.compound() && !taken && o.v.decision == NoGo {
			continue
		}
		out = append(out, Option{Parts: o.rig.parts(), HaulFrom: o.rig.name(), Decision: o.v.decision, Why: s.reason(o, taken), Taken: taken})
	}
	return out
}

func (r rig) name() string {
	if r.compound() {
		return fmt.Sprintf("%d parts hauled by %d parts", r.first.Parts, r.second.Parts)
	}
	return r.first.From.String()
}

// lacksSheaves says that a rig takes more blocks than there are.
func lacksSheaves(r rig, have int) string {
	takes, there := "a block", "is none"
	if n := r.first.Sheaves() + r.second.Sheaves(); n > 1 {
		takes, there = fmt.Sprintf("blocks with %d sheaves in all", n), "are none"
	}
	switch {
	case have == 1:
		there = "is 1"
	case have > 1:
		there = fmt.Sprintf("are %d", have)
	}
	return fmt.Sprintf("It takes %s, and there %s.", takes, there)
}

func (s *search) reason(o weighed, taken bool) string {
	o = s.weigh(o.rig, o.power)
	lacks := ""
	if have, _ := wheels(s.c); s.c.Tackle.Parts == 0 && !canRig(s.c, o.rig) {
		if lacks = lacksSheaves(o.rig, have); o.v.blocks == 0 {
			return lacks
		}
		lacks += " And: "
	}
	for _, want := range []func(f finding) bool{
		func(f finding) bool { return f.fails(severityRefer) },
		func(f finding) bool { return f.fails(string(Block)) && f.rule.id == "U1" },
		func(f finding) bool { return f.fails(string(Block)) },
		func(f finding) bool { return f.opens() && f.rule.id == "R1" },
		finding.opens,
	} {
		for _, f := range o.fs.list {
			if want(f) {
				return lacks + f.text()
			}
		}
	}
	worst, peak := 0.0, 0.0
	for _, t := range o.path.seats {
		if r, ok := t.ratio(); ok {
			worst = max(worst, r)
		}
		if t.peak != nil && t.breaks != nil && *t.breaks > 0 {
			peak = max(peak, float64(*t.peak)/float64(*t.breaks))
		}
	}
	works := fmt.Sprintf("the weakest piece works at %s of its limit", percent(worst))
	if peak > 0 {
		works += fmt.Sprintf(", and at the puller's most one takes %s of what it breaks at", percent(peak))
	}
	if taken {
		return fmt.Sprintf("Taken: %s; no fewer parts do as well.", works)
	}
	return fmt.Sprintf("Would pass too: %s.", works)
}
