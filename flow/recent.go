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

// mostCases is how many read sheets are kept. One is a few kilobytes.
const mostCases = 256

// recent keeps the last plans by their sheets, and the cases that sheets were
// read as. A job is reckoned again with the same sheet for a turn that only
// asks, and when a turn begins anew, and a pull reads its sheet for every
// sentence on how far a bite may go; equal sheets give equal plans and cases, so
// nobody can tell but by the time it takes.
type recent struct {
	plans latest[[sha256.Size]byte, planned]
	cases latest[[sha256.Size]byte, readCase]
}

// readCase is what a sheet was read as. Nothing changes it: turns share it.
type readCase struct {
	is  job.Case
	err error
}

// sheetSum tells one sheet from another.
func sheetSum(s job.Sheet) [sha256.Size]byte {
	text, err := json.Marshal(s)
	if err != nil {
		panic("flow: sheet: " + err.Error()) // words and finite numbers
	}
	return sha256.Sum256(text)
}

// caseOf reads a sheet as [job.Sheet.Case] does. What is kept is read from a copy: a
// case points into its sheet, which its job changes in place.
func (e *Engine) caseOf(s job.Sheet) (job.Case, error) {
	at := sheetSum(s)
	if c, ok := e.recent.cases.get(at); ok {
		return c.is, c.err
	}
	own, err := s.Clone()
	if err != nil {
		return job.Case{}, err
	}
	c, err := own.Case()
	e.recent.cases.put(at, readCase{c, err}, mostCases)
	return c, err
}

// reckon plans a sheet. It reports false while the sheet is no case.
func (e *Engine) reckon(s job.Sheet) (planned, bool) {
	at := sheetSum(s)
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
