package flow

import "linetender/calc"

// What a job was pulled by is the plan at the last release to pull. What was told and
// reckoned since, to find a way on, was never rigged: it is no measure for what happened,
// and no piece has carried it.

// pullsBy keeps the sheet and the arrangement as a release to pull found them.
func (s *Session) pullsBy() error {
	sheet, err := s.Sheet.Clone()
	if err != nil {
		return err
	}
	s.Pulled, s.PulledRig = &sheet, s.Rig
	return nil
}

// pulledPlan is the plan that was pulled by last; the one that stands where nothing was
// pulled yet. With learnt it counts what was seen since on that rig: how hard a load that
// stuck was pulled at.
func (t *turn) pulledPlan(learnt bool) *calc.Plan {
	if t.s.Pulled == nil {
		return t.plan()
	}
	sheet := t.apart(*t.s.Pulled)
	if learnt {
		sheet.Seen = t.s.Sheet.Seen
	}
	if len(t.s.PulledRig) > 0 {
		if as, ok := keeping(sheet, t.s.PulledRig); ok {
			sheet = as
		}
	}
	p, ok := t.e.reckon(sheet)
	if !ok {
		return t.plan()
	}
	return p.plan
}

// outcome is what a job counts as by: once it was pulled and the load is secured what is
// told since of gear or ground decides nothing about it, unless others have to take it over.
func (s *Session) outcome(found *Finding) *Finding {
	if s.Pulled == nil || s.Stage.needsPlan() || s.StoodAs == nil || found == nil || len(hazards(s.Sheet)) > 0 {
		return found
	}
	return s.StoodAs
}
