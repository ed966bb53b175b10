package etcd

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// Accept takes in what a channel delivered, as store.Store.Accept does. More arrivals than
// fit in a transaction are kept in several, in order, and the cursor is set in the
// last.
func (s *Store) Accept(source string, cursor int64, arrivals []store.Arrival) error {
	if err := store.CheckName("source", source); err != nil {
		return err
	}
	seen := make(map[string]bool, len(arrivals))
	var left []store.Arrival
	for _, a := range arrivals {
		if err := store.CheckName("update", a.Key); err != nil {
			return err
		}
		if err := store.CheckName("chat of update "+a.Key, a.Chat); err != nil {
			return err
		}
		if !seen[a.Key] {
			left = append(left, a)
		}
		seen[a.Key] = true
	}
	for len(left) > 0 || cursor != 0 {
		n := s.batch(left)
		last := n == len(left)
		set := cursor
		if !last {
			set = 0
		}
		if err := s.accept(source, set, left[:n]); err != nil {
			return fmt.Errorf("accept: %w", err)
		}
		if left = left[n:]; last {
			return nil
		}
	}
	return s.usable()
}

// batch returns how many arrivals fit in one transaction, beside the cursor: each is
// compared with what waits and with what is done.
func (s *Store) batch(arrivals []store.Arrival) int {
	size := 0
	for i, a := range arrivals {
		size += 2*len(a.Key) + len(a.Chat) + len(a.Body) + 200
		if i > 0 && (2*(i+1) > s.o.Ops || size > s.o.Bytes-spareBytes) {
			return i
		}
	}
	return len(arrivals)
}

func (s *Store) accept(source string, cursor int64, batch []store.Arrival) error {
	for {
		c := s.acceptance(source, cursor, batch)
		if len(c.then) == 0 {
			return nil
		}
		out, err := s.apply(c)
		if err != nil {
			return err
		}
		if out.done {
			if len(batch) > 0 {
				s.shown(out)
			}
			return nil
		}
		// Some are known already, perhaps from a try of this call whose answer was lost.
		var left []store.Arrival
		for i, a := range batch {
			if len(out.found[2*i].Kvs)+len(out.found[2*i+1].Kvs) == 0 {
				left = append(left, a)
			}
		}
		if len(left) == len(batch) {
			return fmt.Errorf("arrivals are refused and none is known: %w", store.ErrCorrupt)
		}
		batch = left
	}
}

// acceptance is the transaction that takes a batch in.
func (s *Store) acceptance(source string, cursor int64, batch []store.Arrival) (c change) {
	c.landed = harmless
	for i, a := range batch {
		at, mark := s.key("w/i/", a.Key), s.key("d/", a.Key)
		c.when = append(c.when, absent(at), absent(mark))
		c.look = append(c.look, clientv3.OpGet(at, clientv3.WithKeysOnly()), clientv3.OpGet(mark, clientv3.WithKeysOnly()))
		c.then = append(c.then, s.put(at, packArrival(a, uint64(i))))
	}
	if cursor != 0 {
		var p record.Pack
		p.Number(uint64(cursor))
		p.Time(s.o.Now())
		c.then = append(c.then, s.put(s.key("c/", source), p.B))
	}
	return c
}

// Cursor returns the cursor last set for a source and when that was; 0 and the
// zero time when there is none.
func (s *Store) Cursor(source string) (cursor int64, at time.Time, err error) {
	got, _, err := s.read(clientv3.OpGet(s.key("c/", source)))
	if err != nil {
		return 0, time.Time{}, fmt.Errorf("cursor of %q: %w", source, err)
	}
	v, kv, err := s.value(got[0])
	if kv == nil || err != nil {
		return 0, time.Time{}, err
	}
	u := record.Unpack{B: v}
	cursor, at = int64(u.Number()), u.Time()
	if err := u.Done("source " + source); err != nil {
		return 0, time.Time{}, err
	}
	return cursor, at, nil
}

// Chats returns the chats that have something waiting, the one that has waited
// longest first.
func (s *Store) Chats() ([]string, error) { return s.chats(everyone) }

// everyone is for a store that no replica shares.
func everyone(string) bool { return true }

func (s *Store) chats(mine func(chat string) bool) ([]string, error) {
	m := s.mirror
	if err := m.look(); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	var first []*row
	for name, c := range m.chats {
		if len(c.in) > 0 && mine(name) {
			first = append(first, c.in[0])
		}
	}
	slices.SortFunc(first, func(a, b *row) int { return cmp.Compare(a.id(), b.id()) })
	chats := make([]string, len(first))
	for i, r := range first {
		chats[i] = r.chat
	}
	return chats, nil
}

// Next returns the arrival of a chat that has waited longest, if any waits.
func (s *Store) Next(chat string) (store.Arrival, bool, error) {
	m := s.mirror
	if err := m.look(); err != nil {
		return store.Arrival{}, false, err
	}
	defer m.mu.Unlock()
	c := m.chats[chat]
	if c == nil || len(c.in) == 0 {
		return store.Arrival{}, false, nil
	}
	a := *c.in[0].arrival
	a.Body = slices.Clone(a.Body)
	return a, true, nil
}

// Bury takes an update out of its chat's way for good: it counts as done, and is
// kept among the dead with the reason.
//
// Errors: store.ErrDone when it is done already, store.ErrUnknown when it never came in.
func (s *Store) Bury(key, why string) error {
	at, mark, by := s.key("w/i/", key), s.key("d/", key), token()
	for {
		got, rev, err := s.read(clientv3.OpGet(mark), clientv3.OpGet(at))
		if err != nil {
			return fmt.Errorf("bury update %q: %w", key, err)
		}
		if len(got[0].Kvs) > 0 {
			s.mirror.remove(at, rev)
			return fmt.Errorf("bury update %q: %w", key, store.ErrDone)
		}
		v, kv, err := s.value(got[1])
		if err != nil {
			return err
		}
		if kv == nil {
			return fmt.Errorf("bury update %q: %w", key, store.ErrUnknown)
		}
		a, _, err := unpackArrival(key, v)
		if err != nil {
			return err
		}
		lease, err := s.marks.lease(s)
		if err != nil {
			return err
		}
		var p record.Pack
		p.Text(by)
		p.Time(s.o.Now())
		out, err := s.apply(change{
			when: []clientv3.Cmp{absent(mark), unchanged(at, kv.ModRevision)},
			then: []clientv3.Op{s.put(mark, p.B, clientv3.WithLease(lease)), clientv3.OpDelete(at),
				s.putDead(by, store.Dead{Kind: store.DeadUpdate, Key: key, Chat: a.Chat, Why: why, Body: a.Body})},
			landed: func(ctx context.Context) (int64, error) { return s.seen(ctx, s.key("x/", by), true) },
		})
		if err != nil {
			return fmt.Errorf("bury update %q: %w", key, err)
		}
		if out.done {
			s.mirror.remove(at, out.rev)
			return nil
		}
	}
}

// seen looks for a key, and returns the revision at which it is there, or is not, as asked; else 0.
func (s *Store) seen(ctx context.Context, key string, there bool) (int64, error) {
	got, rev, err := s.readIn(ctx, clientv3.OpGet(key, clientv3.WithCountOnly()))
	if err != nil || (got[0].Count > 0) != there {
		return 0, err
	}
	return rev, nil
}
