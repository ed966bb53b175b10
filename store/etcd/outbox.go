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

// Due returns at most limit parcels to send now, as store.Store.Due does.
func (s *Store) Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error) {
	return s.due(now, limit, func(chat string) bool { return !busy[chat] })
}

func (s *Store) due(now time.Time, limit int, mine func(chat string) bool) ([]store.Due, error) {
	m := s.mirror
	if err := m.look(); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	var urgent, plain []*row
	for name, c := range m.chats {
		switch {
		case len(c.urgent) > 0:
			if r := c.urgent[0]; !r.parcel.notBefore.After(now) && mine(name) {
				urgent = append(urgent, r)
			}
		case len(c.plain) > 0:
			if r := c.plain[0]; !r.parcel.notBefore.After(now) && mine(name) {
				plain = append(plain, r)
			}
		}
	}
	byID := func(a, b *row) int { return cmp.Compare(a.id(), b.id()) }
	slices.SortFunc(urgent, byID)
	slices.SortFunc(plain, byID)
	var due []store.Due
	for _, r := range append(urgent, plain...) {
		if len(due) >= limit {
			break
		}
		p := r.parcel
		due = append(due, store.Due{ID: r.id(), Chat: p.chat, Urgent: p.urgent, Body: slices.Clone(p.body), Tries: int(p.tries), NotBefore: p.notBefore})
	}
	return due, nil
}

// unsent returns the row of a parcel. One that the mirror doesn't hold is looked
// for in the store.
func (s *Store) unsent(id uint64) (row, error) {
	if err := s.usable(); err != nil {
		return row{}, err
	}
	m := s.mirror
	m.mu.Lock()
	known := m.ids[id]
	m.mu.Unlock()
	if known != nil {
		return *known, nil
	}
	made := int64(id >> placeBits)
	if made <= 0 {
		return row{}, fmt.Errorf("parcel %d: %w", id, store.ErrUnknown)
	}
	got, _, err := s.read(clientv3.OpGet(s.key("w/o/", ""), clientv3.WithPrefix(), clientv3.WithMinCreateRev(made), clientv3.WithMaxCreateRev(made)))
	if err != nil {
		return row{}, err
	}
	for _, kv := range got[0].Kvs {
		if r := s.readRow(kv); r.bad == nil && r.id() == id {
			return r, nil
		}
	}
	return row{}, fmt.Errorf("parcel %d: %w", id, store.ErrUnknown)
}

// dequeue takes a parcel out, and does what more says in the same transaction.
// Gone after an answer was lost, it is taken for taken out.
func (s *Store) dequeue(id uint64, more func(p parcel) []clientv3.Op) error {
	r, err := s.unsent(id)
	if err != nil {
		return err
	}
	for {
		out, err := s.apply(change{
			when:   []clientv3.Cmp{unchanged(r.key, r.mod)},
			then:   append([]clientv3.Op{clientv3.OpDelete(r.key)}, more(*r.parcel)...),
			look:   []clientv3.Op{clientv3.OpGet(r.key)},
			landed: func(ctx context.Context) (int64, error) { return s.seen(ctx, r.key, false) },
		})
		if err != nil {
			return fmt.Errorf("parcel %d: %w", id, err)
		}
		if out.done {
			s.mirror.remove(r.key, out.rev)
			return nil
		}
		if r, err = s.moved(r, out); err != nil {
			return err
		}
	}
}

// moved takes in what a parcel has become behind the mirror's back.
func (s *Store) moved(r row, out outcome) (row, error) {
	if len(out.found[0].Kvs) == 0 {
		s.mirror.remove(r.key, out.rev)
		return row{}, fmt.Errorf("parcel %d: %w", r.id(), store.ErrUnknown)
	}
	fresh := s.readRow(out.found[0].Kvs[0])
	if fresh.bad != nil {
		return row{}, fresh.bad
	}
	s.mirror.change(fresh)
	return fresh, nil
}

// Sent marks a parcel sent, and keeps what the channel answered under the
// parcel's chat and slot, in the same transaction; an empty slot keeps nothing.
//
// Errors: store.ErrUnknown when the parcel is not unsent.
func (s *Store) Sent(id uint64, slot string, receipt []byte) error {
	if len(slot) > store.MaxName {
		return store.CheckName("slot", slot)
	}
	return s.dequeue(id, func(p parcel) []clientv3.Op {
		if slot == "" {
			return nil
		}
		return []clientv3.Op{s.put(s.key("r/", string(record.Scope(p.chat))+slot), receipt)}
	})
}

// Drop gives up on a parcel and keeps it among the dead with the reason.
//
// Errors: store.ErrUnknown when the parcel is not unsent.
func (s *Store) Drop(id uint64, why string) error {
	by := token()
	return s.dequeue(id, func(p parcel) []clientv3.Op {
		return []clientv3.Op{s.putDead(by, store.Dead{Kind: store.DeadParcel, Key: fmt.Sprint(id), Chat: p.chat, Why: why, Body: p.body})}
	})
}

// Delay counts a try of a parcel and puts the next off until the time given.
//
// Errors: store.ErrUnknown when the parcel is not unsent.
func (s *Store) Delay(id uint64, until time.Time, why string) error {
	r, err := s.unsent(id)
	if err != nil {
		return err
	}
	for {
		p := *r.parcel
		p.tries++
		p.notBefore, p.why = until.UTC(), why
		out, err := s.apply(change{
			when:   []clientv3.Cmp{unchanged(r.key, r.mod)},
			then:   []clientv3.Op{s.put(r.key, p.pack())},
			look:   []clientv3.Op{clientv3.OpGet(r.key)},
			landed: func(ctx context.Context) (int64, error) { return s.holds(ctx, r.key, p.pack()) },
		})
		if err != nil {
			return fmt.Errorf("parcel %d: %w", id, err)
		}
		if out.done {
			if out.traced {
				s.shown(out)
			} else {
				s.mirror.change(row{key: r.key, chat: p.chat, created: r.created, mod: out.rev, place: r.place, parcel: &p})
			}
			return nil
		}
		if r, err = s.moved(r, out); err != nil {
			return err
		}
	}
}

// holds returns the revision at which a key has just this value, else 0.
func (s *Store) holds(ctx context.Context, key string, value []byte) (int64, error) {
	got, rev, err := s.readIn(ctx, clientv3.OpGet(key))
	if err != nil {
		return 0, err
	}
	if v, kv, err := s.value(got[0]); kv == nil || err != nil || string(v) != string(value) {
		return 0, err
	}
	return rev, nil
}

// Receipt returns the latest receipt kept under chat and slot, and whether there is one.
func (s *Store) Receipt(chat, slot string) (receipt []byte, ok bool, err error) {
	got, _, err := s.read(clientv3.OpGet(s.key("r/", string(record.Scope(chat))+slot)))
	if err == nil {
		var v []byte
		if v, _, err = s.value(got[0]); v != nil {
			return v, true, nil
		}
	}
	if err != nil {
		return nil, false, fmt.Errorf("receipt %q of chat %q: %w", slot, chat, err)
	}
	return nil, false, nil
}
