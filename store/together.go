package store

import (
	"fmt"
	"slices"
	"sync"

	"go.etcd.io/bbolt"
)

// A transaction costs the same whether it holds one small change or many, on a
// disk above all, which is asked to sync once. So changes that are waiting when
// a transaction ends go into the next one together. A change that waits for
// nobody waits for nothing: there is no timer.
//
// To its caller a change is still a transaction of its own. One that is refused
// undoes nothing of the others', and is never told so because of what is not
// durable yet; when the transaction fails, all that were in it are told.

// mostTogether bounds how many changes are one transaction, and so for how long
// one that has just come waits behind others.
const mostTogether = 64

// change is what one caller wants written.
type change struct {
	do   func(tx *bbolt.Tx) error // may be called several times, each in a transaction of its own
	err  error                    // what became of it
	over chan bool                // true: it is over; false: it is first in line, and its caller writes
}

// line is who waits to be written. While somebody writes, the others wait.
type line struct {
	mu      sync.Mutex
	waiting []*change
	writing bool
}

// join waits until the change is written or is its caller's to write.
func (l *line) join(c *change) (over bool) {
	l.mu.Lock()
	l.waiting = append(l.waiting, c)
	first := !l.writing
	l.writing = true
	l.mu.Unlock()
	return !first && <-c.over
}

// take is what is written next.
func (l *line) take() []*change {
	l.mu.Lock()
	defer l.mu.Unlock()
	n := min(len(l.waiting), mostTogether)
	batch := slices.Clone(l.waiting[:n])
	l.waiting = slices.Delete(l.waiting, 0, n)
	return batch
}

// pass lets the next in line write.
func (l *line) pass() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.writing = len(l.waiting) > 0; l.writing {
		l.waiting[0].over <- false
	}
}

// update runs do in a durable transaction. An error from do leaves the store as
// it was; an error from the commit itself, other than a full disk, ends all
// changes, because a disk that failed to write or to sync can't be asked again.
func (s *Store) update(do func(tx *bbolt.Tx) error) error {
	if s.readOnly {
		return fmt.Errorf("%s: %w", s.path, ErrReadOnly)
	}
	c := &change{do: do, over: make(chan bool, 1)}
	if s.line.join(c) {
		return c.err
	}
	batch := s.line.take() // c is its first
	s.write(batch)
	s.line.pass()
	for _, o := range batch[1:] {
		o.over <- true
	}
	return c.err
}

// write writes changes, in order, and tells each what became of it.
func (s *Store) write(batch []*change) {
	batch = slices.Clone(batch)
	for len(batch) > 0 {
		var again []*change // refused after others in the same transaction
		for len(batch) > 0 {
			at, err := s.transact(batch)
			if at == len(batch) && keepsGoing(err) && at > 1 {
				for _, c := range batch { // what is too much together may fit alone
					_, c.err = s.transact([]*change{c})
				}
				break
			}
			if at == len(batch) {
				for _, c := range batch {
					c.err = err
				}
				break
			}
			if at == 0 {
				batch[0].err = err
			} else {
				again = append(again, batch[at])
			}
			batch = slices.Delete(batch, at, at+1)
		}
		batch = again
	}
}

// transact writes changes in one transaction. When one is refused nothing is
// written, and at is its place; else at is how many they are, and err is what
// became of them all.
func (s *Store) transact(batch []*change) (at int, err error) {
	at = len(batch)
	if err := s.usable(); err != nil {
		return at, err
	}
	err = s.guarded(func() error {
		return s.db.Update(func(tx *bbolt.Tx) error {
			for i, c := range batch {
				if err := c.do(tx); err != nil {
					at = i
					return err
				}
			}
			return nil
		})
	})
	if err = s.plain(err); err == nil || at < len(batch) || keepsGoing(err) || s.panicked.Load() {
		return at, err
	}
	failed := fmt.Errorf("%s: %w (%w)", s.path, ErrFailed, err)
	s.broken.CompareAndSwap(nil, &failed)
	return at, failed
}

// guarded is what do returns, or that the file is not what it was.
func (s *Store) guarded(do func() error) (err error) {
	defer s.shield(&err)()
	return do()
}
