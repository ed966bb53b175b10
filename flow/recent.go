package flow

import (
	"crypto/sha256"
	"encoding/json"
	"sync"

	"linetender/calc"
	"linetender/calc/job"
)

// planned is the plan of a sheet with what is kept of it. Nothing changes
// either: turns share them.
type planned struct {
	plan  *calc.Plan
	found *Finding
}

// mostRecent is how many plans are kept. One is some tens of kilobytes.
const mostRecent = 64

// recent keeps the last plans by their sheets. A job is reckoned again with
// the same sheet for a turn that only asks, and when a turn begins anew; equal
// sheets give equal plans, so nobody can tell but by the time it takes.
type recent struct {
	mu    sync.Mutex
	plans map[[sha256.Size]byte]planned
	order [][sha256.Size]byte // oldest first
}

// reckon plans a sheet. It reports false while the sheet is no case.
func (e *Engine) reckon(s job.Sheet) (planned, bool) {
	text, err := json.Marshal(s)
	if err != nil {
		panic("flow: sheet: " + err.Error()) // words and finite numbers
	}
	at := sha256.Sum256(text)
	if p, ok := e.recent.get(at); ok {
		return p, true
	}
	c, err := s.Case()
	if err != nil {
		return planned{}, false
	}
	plan := e.Reckon(c)
	p := planned{plan: &plan, found: finding(plan)}
	e.recent.put(at, p)
	return p, true
}

func (r *recent) get(at [sha256.Size]byte) (planned, bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	p, ok := r.plans[at]
	return p, ok
}

func (r *recent) put(at [sha256.Size]byte, p planned) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.plans == nil {
		r.plans = map[[sha256.Size]byte]planned{}
	}
	if _, ok := r.plans[at]; ok {
		return
	}
	if len(r.order) == mostRecent {
		delete(r.plans, r.order[0])
		r.order = r.order[1:]
	}
	r.plans[at] = p
	r.order = append(r.order, at)
}
