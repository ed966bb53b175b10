package flow

import (
	"encoding/json"
	"reflect"
	"sync"
)

// mostRecalled is how many jobs are kept as they were last read. One is some
// tens of kilobytes.
const mostRecalled = 64

// recall keeps jobs as their logs were last read, so that a turn reads only
// what has been added since. Long jobs are where a stop must not wait. Entries
// never change and have no gaps, so nobody can tell but by the time it takes;
// a log from which something was taken out is read again from its beginning,
// because the turn on the old one can't be committed.
type recall struct {
	mu    sync.Mutex
	jobs  map[string]recalled
	order []string // oldest first
}

// recalled is a job as it was after an entry, in a form that shares nothing.
type recalled struct {
	log  Log
	body []byte
}

// load folds the stream of a job, from where it was read before.
func (e *Engine) load(log Log, code string) (*Session, error) {
	s := e.recall.get(log, code)
	if s == nil {
		s = newSession()
	}
	from := s.Last
	s, err := fold(log, code, s)
	if err != nil {
		return nil, err
	}
	if s.Last > from {
		e.recall.put(log, code, s)
	}
	return s, nil
}

// forget drops what is kept of all jobs.
func (r *recall) forget() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.jobs, r.order = nil, nil
}

func (r *recall) get(log Log, code string) *Session {
	r.mu.Lock()
	kept, ok := r.jobs[code]
	r.mu.Unlock()
	if !ok || !same1(kept.log, log) {
		return nil
	}
	s := newSession()
	if err := json.Unmarshal(kept.body, s); err != nil {
		panic("flow: recall: " + err.Error()) // our own bytes
	}
	return s
}

func (r *recall) put(log Log, code string, s *Session) {
	body, err := json.Marshal(s)
	if err != nil {
		panic("flow: recall: " + err.Error()) // words and finite numbers
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.jobs == nil {
		r.jobs = map[string]recalled{}
	}
	if _, ok := r.jobs[code]; !ok {
		if len(r.order) == mostRecalled {
			delete(r.jobs, r.order[0])
			r.order = r.order[1:]
		}
		r.order = append(r.order, code)
	}
	r.jobs[code] = recalled{log: log, body: body}
}

// same1 reports whether two logs are one.
func same1(a, b Log) bool {
	return reflect.TypeOf(a) == reflect.TypeOf(b) && reflect.TypeOf(a).Comparable() && a == b
}
