package etcd

import (
	"context"
	"fmt"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
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
	if err := s.redo(&c, w.Stream, last, redone); err != nil {
		return false, err
	}
	if w.Head != nil {
		c.then = append(c.then, s.put(s.key("h/", w.Stream), w.Head))
	}
	if len(w.Entries) > 0 {
		last += uint64(len(w.Entries))
		key, value := s.entriesKey(w.Stream, last), packEntries(w.Entries)
		c.then = append(c.then, s.put(key, value), s.put(s.key("n/", w.Stream), record.Number(last)))
		c.landed = func(ctx context.Context) (int64, error) { return s.holds(ctx, key, value) }
	}
	out, err := s.apply(c)
	return out.done, err
}

// redo writes anew the rows that hold the entries to be replaced.
func (s *Store) redo(c *change, stream string, last uint64, redone map[uint64][]byte) error {
	for n := range redone {
		if n < 1 || n > last {
			return fmt.Errorf("entry %d: %w", n, store.ErrUnknown)
		}
	}
	if len(redone) == 0 {
		return nil
	}
	_, err := s.all(s.key("e/", string(record.Scope(stream))), func(kv *mvccpb.KeyValue) error {
		first, entries, err := s.entriesOf(kv)
		if err != nil {
			return err
		}
		touched := false
		for i := range entries {
			if body, ok := redone[first+uint64(i)]; ok {
				entries[i], touched = body, true
			}
		}
		if touched {
			c.when = append(c.when, unchanged(string(kv.Key), kv.ModRevision))
			c.then = append(c.then, s.put(string(kv.Key), packEntries(entries)))
		}
		return nil
	})
	return err
}
