package etcd

import (
	"context"
	"fmt"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// Redact puts other bytes in the place of entries of a stream, as store.Store.Redact does. What was
// there leaves the members' files when they compact and defragment.
//
// Errors: as there, and ErrLarge.
func (s *Store) Redact(w store.Write, redone map[uint64][]byte) error {
	if err := store.CheckName("stream", w.Stream); err != nil {
		return err
	}
	for {
		made, err := s.redact(w, redone)
		if err != nil {
			return fmt.Errorf("redact stream %q: %w", w.Stream, err)
		}
		if made {
			return nil
		}
	}
}

// redact reports whether it was made; if not, the stream was changed at the same time.
func (s *Store) redact(w store.Write, redone map[uint64][]byte) (bool, error) {
	got, _, err := s.read(clientv3.OpGet(s.key("n/", w.Stream)))
	if err != nil {
		return false, err
	}
	last, there, err := s.last(got[0])
	switch {
	case err != nil:
		return false, err
	case !there:
		return false, store.ErrUnknown
	case last != w.After:
		return false, fmt.Errorf("it is at entry %d, the writer saw %d: %w", last, w.After, store.ErrMoved)
	}
	c := change{when: append(s.standsAt(w.Stream, last), unchanged(s.key("n/", w.Stream), got[0].Kvs[0].ModRevision)), landed: harmless}
	for n, body := range redone {
		if n < 1 || n > last {
			return false, fmt.Errorf("entry %d: %w", n, store.ErrUnknown)
		}
		c.then = append(c.then, s.put(s.entryKey(w.Stream, n), body))
	}
	for _, body := range w.Entries {
		last++
		c.then = append(c.then, s.put(s.entryKey(w.Stream, last), body))
	}
	if w.Head != nil {
		c.then = append(c.then, s.put(s.key("h/", w.Stream), w.Head))
	}
	if len(w.Entries) > 0 {
		c.then = append(c.then, s.put(s.key("n/", w.Stream), record.Number(last)))
		c.landed = func(ctx context.Context) (int64, error) {
			return s.holds(ctx, s.entryKey(w.Stream, w.After+1), w.Entries[0])
		}
	}
	out, err := s.apply(c)
	return out.done, err
}
