package flow

import (
	"crypto/sha256"
	"encoding/json"

	"linetender/calc"
	"linetender/calc/job"
)

// planned is the plan of a sheet with what is kept of it. Nothing changes
// either: turns share them.
type planned struct {
	plan  *calc.Plan
	found *Finding
}

// mostPlans is how many plans are kept. One is some tens of kilobytes.
const mostPlans = 512

// recent keeps the last plans by their sheets. A job is reckoned again with
// the same sheet for a turn that only asks, and when a turn begins anew; equal
// sheets give equal plans, so nobody can tell but by the time it takes.
type recent struct {
	plans latest[[sha256.Size]byte, planned]
}

// reckon plans a sheet. It reports false while the sheet is no case.
func (e *Engine) reckon(s job.Sheet) (planned, bool) {
	text, err := json.Marshal(s)
	if err != nil {
		panic("flow: sheet: " + err.Error()) // words and finite numbers
	}
	at := sha256.Sum256(text)
	if p, ok := e.recent.plans.get(at); ok {
		return p, true
	}
	c, err := s.Case()
	if err != nil {
		return planned{}, false
	}
	plan := e.Reckon(c)
	p := planned{plan: &plan, found: finding(plan)}
	e.recent.plans.put(at, p, mostPlans)
	return p, true
}
