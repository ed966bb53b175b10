package calc

import (
	"slices"

	"linetender/calc/handbook"
	"linetender/calc/job"
	"linetender/calc/tackle"
)

// choice is a rig and which puller hauls it, none below zero.
type choice struct {
	rig    rig
	puller int
}

// rigs lists every way to rope the job that is weighed.
func (s *search) rigs() []rig {
	t := s.c.Tackle
	leads := s.leads()
	first, last := 1, 0
	last, _ = handbook.PartsOfUse()
	if t.Parts > 0 {
		first, last = t.Parts, t.Parts
	}
	var out []rig
	for n := first; n <= last; n++ {
		for _, from := range []tackle.Haul{tackle.Moving, tackle.Standing} {
			if t.HaulFrom == "" && n == 1 && from == tackle.Standing && t.Parts == 0 {
				continue // a block that only turns the rope is a lead block
			}
			r := rig{first: tackle.Reeving{Parts: n, From: from}, leads: leads}
			if (t.HaulFrom == "" || t.HaulFrom == from.String()) && (t.Parts > 0 || canRig(s.c, r)) {
				out = append(out, r)
			}
		}
	}
	if len(out) == 0 { // told to haul from a standing block, and there is none: the plan then says what is missing
		out = append(out, rig{first: tackle.Reeving{Parts: 1, From: tackle.Standing}, leads: leads})
	}
	return out
}

// canRig reports whether the blocks that are there have the sheaves for a rig.
// Until a haul line is listed, and while more pieces may be named, nothing is
// known to be lacking; after that the list is all there is, and a rig that
// needs more blocks is no answer to a no-go, only a change.
func canRig(c job.Case, r rig) bool {
	have, line := wheels(c)
	return !line || c.GearMore || r.first.Sheaves()+r.second.Sheaves() <= have
}

// wheels counts the sheaves that a tackle may use, and tells whether a haul
// line is listed.
func wheels(c job.Case) (sheaves int, line bool) {
	for _, g := range c.Gear {
		switch {
		case g.Kind == "block" && g.Use != "lead-block":
			sheaves += g.Sheaves * g.Count
		case g.Use != "holding" && slices.Contains([]string{"rope", "chain", "strap"}, g.Kind):
			line = line || g.Use == "" || g.Use == "haul"
		}
	}
	return sheaves, line
}

// compounds lists one tackle hauling another, for when simple parts don't reach.
func (s *search) compounds() []rig {
	t := s.c.Tackle
	if t.Parts > 0 {
		return nil
	}
	most, _ := handbook.PartsOfUse()
	var out []rig
	for n := 2; n <= most; n++ {
		for m := 2; m <= most; m++ {
			over := tackle.Reeving{Parts: m, From: tackle.Moving}
			if r := (rig{first: tackle.Reeving{Parts: n, From: tackle.Moving}, second: over, leads: s.leads()}); canRig(s.c, r) {
				out = append(out, r)
			}
		}
	}
	return out
}

// leads is how many lead blocks there are: as told, or one where a piece or an
// anchor is set down for one.
func (s *search) leads() int { return leads(s.c) }

func leads(c job.Case) int {
	if c.Tackle.LeadBlocks != nil {
		return *c.Tackle.LeadBlocks
	}
	if slices.ContainsFunc(c.Gear, func(g job.Gear) bool { return g.Use == "lead-block" }) ||
		slices.ContainsFunc(c.Anchors, func(a job.Anchor) bool { return a.Use == "lead" }) {
		return 1
	}
	return 0
}
