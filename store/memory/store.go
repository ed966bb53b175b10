// Package memory is a store that keeps nothing: all that package store promises
// but to be there tomorrow. It is held to the same contract, word for word, so
// that a test can do without a disk, and a benchmark can tell what is durable
// from what is not. Nothing that serves people may use it.
package memory

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"linetender/store"
)

// Store is an open store. Its methods may be called from any goroutine.
type Store struct {
	now    func() time.Time
	mu     sync.Mutex
	closed bool

	streams map[string]*stream
	changes uint64

	updates map[string]*waiting // by key; nil once it is done
	inbox   map[string][]*waiting
	arrived uint64
	cursors map[string]cursor
	done    int

	outbox   outbox
	receipts map[[2]string][]byte // by chat and slot

	dead    []dead
	buried  uint64
	secrets map[string][]byte
}

type stream struct {
	entries [][]byte
	head    []byte
	change  uint64
	changed time.Time
}

// New opens an empty store; a nil clock is time.Now.
func New(now func() time.Time) *Store {
	if now == nil {
		now = time.Now
	}
	return &Store{
		now: now, streams: map[string]*stream{}, updates: map[string]*waiting{}, inbox: map[string][]*waiting{},
		cursors: map[string]cursor{}, outbox: newOutbox(), receipts: map[[2]string][]byte{}, secrets: map[string][]byte{},
	}
}

// Reopen opens a store again that was closed; it holds what it held.
func (s *Store) Reopen() *Store {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = false
	return s
}

// Close ends the use of the store.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.closed = true
	return nil
}

// Path says that there is no file.
func (s *Store) Path() string { return "memory" }

// enter takes the store, and reports it closed.
func (s *Store) enter() (leave func(), err error) {
	s.mu.Lock()
	if s.closed {
		s.mu.Unlock()
		return nil, fmt.Errorf("memory: %w", store.ErrClosed)
	}
	return s.mu.Unlock, nil
}

// Commit is [store.Store.Commit].
func (s *Store) Commit(t store.Turn) ([]uint64, error) {
	if err := store.CheckTurn(t); err != nil {
		return nil, err
	}
	leave, err := s.enter()
	if err != nil {
		return nil, err
	}
	defer leave()
	w, known := s.updates[t.Update]
	if t.Update != "" && known && w == nil {
		return nil, fmt.Errorf("update %q: %w", t.Update, store.ErrDone)
	}
	for _, write := range t.Writes {
		if err := s.standsAt(write); err != nil {
			return nil, err
		}
	}
	if t.Update != "" {
		s.finish(t.Update, w)
	}
	var numbers []uint64
	for _, write := range t.Writes {
		numbers = append(numbers, s.write(write))
	}
	for _, p := range t.Outbox {
		s.outbox.add(cmp.Or(p.Chat, t.Chat), p.Urgent, p.Body)
	}
	return numbers, nil
}

func (s *Store) standsAt(w store.Write) error {
	if last := s.streams[w.Stream].last(); last != w.After {
		return fmt.Errorf("stream %q is at entry %d, the writer saw %d: %w", w.Stream, last, w.After, store.ErrMoved)
	}
	return nil
}

func (s *Store) write(w store.Write) (last uint64) {
	st := s.streams[w.Stream]
	if len(w.Entries) == 0 && w.Head == nil {
		return st.last()
	}
	if st == nil {
		st = &stream{}
		s.streams[w.Stream] = st
	}
	s.changes++
	st.change, st.changed = s.changes, s.now()
	st.add(w)
	return st.last()
}

func (st *stream) add(w store.Write) {
	for _, e := range w.Entries {
		st.entries = append(st.entries, slices.Clone(e))
	}
	if w.Head != nil {
		st.head = append([]byte{}, w.Head...)
	}
}

func (st *stream) last() uint64 {
	if st == nil {
		return 0
	}
	return uint64(len(st.entries))
}

// Replay is [store.Store.Replay].
func (s *Store) Replay(name string, after uint64, visit func(n uint64, entry []byte) error) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	var entries [][]byte
	if st := s.streams[name]; after < st.last() {
		entries = slices.Clone(st.entries[after:])
	}
	leave()
	for i, e := range entries {
		if err := visit(after+uint64(i)+1, slices.Clone(e)); err != nil {
			return err
		}
	}
	return nil
}

// Head is [store.Store.Head].
func (s *Store) Head(name string) (head []byte, last uint64, err error) {
	leave, err := s.enter()
	if err != nil {
		return nil, 0, err
	}
	defer leave()
	st := s.streams[name]
	if st == nil {
		return nil, 0, nil
	}
	return append([]byte{}, st.head...), st.last(), nil
}

// Streams is [store.Store.Streams]. What changes during the walk moves to the
// newest end, as there.
func (s *Store) Streams(prefix, from string, newestFirst bool, visit func(name string, head []byte, last uint64, changed time.Time) error) error {
	place, begun := uint64(0), false
	if from != "" {
		leave, err := s.enter()
		if err != nil {
			return err
		}
		st := s.streams[from]
		leave()
		if st == nil {
			return fmt.Errorf("begin after stream %q: %w", from, store.ErrUnknown)
		}
		place, begun = st.change, true
	}
	for {
		name, st, ok, err := s.after(prefix, place, begun, newestFirst)
		if err != nil || !ok {
			return err
		}
		place, begun = st.change, true
		if err := visit(name, st.head, st.last(), st.changed); err != nil {
			return err
		}
	}
}

// after is the stream with the prefix that is next in the order of changes.
func (s *Store) after(prefix string, place uint64, begun, newestFirst bool) (name string, next stream, ok bool, err error) {
	leave, err := s.enter()
	if err != nil {
		return "", stream{}, false, err
	}
	defer leave()
	for n, st := range s.streams {
		passed := begun && (newestFirst && st.change >= place || !newestFirst && st.change <= place)
		if passed || !strings.HasPrefix(n, prefix) || ok && (st.change > next.change) != newestFirst {
			continue
		}
		name, next, ok = n, *st, true
	}
	return name, next, ok, nil
}

// Erase is [store.Store.Erase].
func (s *Store) Erase(name string) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	if s.streams[name] == nil {
		return fmt.Errorf("erase stream %q: %w", name, store.ErrUnknown)
	}
	delete(s.streams, name)
	return nil
}

// Redact is [store.Store.Redact].
func (s *Store) Redact(w store.Write, redone map[uint64][]byte) error {
	if err := store.CheckName("stream", w.Stream); err != nil {
		return err
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	st := s.streams[w.Stream]
	if st == nil {
		return fmt.Errorf("redact stream %q: %w", w.Stream, store.ErrUnknown)
	}
	if err := s.standsAt(w); err != nil {
		return err
	}
	for n := range maps.Keys(redone) {
		if n < 1 || n > st.last() {
			return fmt.Errorf("redact stream %q: entry %d: %w", w.Stream, n, store.ErrUnknown)
		}
	}
	for n, body := range redone {
		st.entries[n-1] = slices.Clone(body)
	}
	st.add(w)
	return nil
}
