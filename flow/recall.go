package flow

import (
	"maps"
	"reflect"
	"slices"
	"sync"
)

// How many chats and jobs are kept as they were last read. A job is some ten
// kilobytes, a chat less than one.
const (
	mostJobs  = 2048
	mostChats = 4096
)

// recall keeps chats and jobs as their logs were last read, so that a turn
// reads only what has been added since. Long jobs are where a stop must not
// wait, and a chat has all its jobs behind it. Entries never change and have
// no gaps, so nobody can tell but by the time it takes. Where something was
// taken out of a log that is kept here, who did it calls [Engine.Forget]; a
// turn on a log that was taken out of elsewhere can't be committed, and begins
// again without what is kept.
type recall struct {
	jobs  latest[string, *recalled[*Session]]
	chats latest[string, *recalled[*chatState]]
}

// recalled is a stream as it was after an entry. It is read on in place, and
// copied for each turn.
type recalled[T any] struct {
	log Log
	mu  sync.Mutex
	is  T // nil until it was read, and after it could not be
}

// Forget drops what is kept of chats and jobs. It is for who has taken
// something out of a log.
func (e *Engine) Forget() {
	e.recall.jobs.clear()
	e.recall.chats.clear()
}

// load folds the stream of a job, from where it was read before.
func (e *Engine) load(log Log, code string) (*Session, error) {
	kept := keptOf(&e.recall.jobs, log, code, mostJobs)
	kept.mu.Lock()
	defer kept.mu.Unlock()
	s := kept.is
	if s == nil {
		s = newSession()
	}
	kept.is = nil
	s, err := fold(log, code, s)
	if err != nil {
		return nil, err
	}
	if s.Last > 0 {
		kept.is = s
	}
	return s.clone(), nil
}

// loadChat folds the stream of a chat, from where it was read before.
func (e *Engine) loadChat(log Log, name string) (*chatState, error) {
	kept := keptOf(&e.recall.chats, log, name, mostChats)
	kept.mu.Lock()
	defer kept.mu.Unlock()
	c := kept.is
	if c == nil {
		c = newChat(name)
	}
	kept.is = nil
	if err := log.Replay(chatStream(name), c.last, c.fold); err != nil {
		return nil, err
	}
	if c.last > 0 {
		kept.is = c
	}
	return c.clone(), nil
}

// keptOf is what is kept of a stream, empty where nothing is, or of another log.
func keptOf[T any](all *latest[string, *recalled[T]], log Log, name string, most int) *recalled[T] {
	if kept, ok := all.get(name); ok && same1(kept.log, log) {
		return kept
	}
	kept := &recalled[T]{log: log}
	all.put(name, kept, most)
	return kept
}

// same1 reports whether two logs are one.
func same1(a, b Log) bool {
	return reflect.TypeOf(a) == reflect.TypeOf(b) && reflect.TypeOf(a).Comparable() && a == b
}

// clone is a copy of the job that shares nothing with it.
func (s *Session) clone() *Session {
	c := new(Session)
	copySession()(reflect.ValueOf(c).Elem(), reflect.ValueOf(s).Elem())
	return c
}

// clone is a copy of the chat that shares nothing with it that changes.
func (c *chatState) clone() *chatState {
	d := *c
	d.jobs, d.order, d.lessons = slices.Clone(c.jobs), slices.Clone(c.order), slices.Clone(c.lessons)
	d.kits, d.front.tries = maps.Clone(c.kits), slices.Clone(c.front.tries)
	return &d
}
