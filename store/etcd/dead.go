package etcd

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// putDead keeps what was given up on under the token of the call that did.
func (s *Store) putDead(by string, d store.Dead) clientv3.Op {
	return s.put(s.key("x/", by), packDead(d, s.o.Now()))
}

func packDead(d store.Dead, at time.Time) []byte {
	var p record.Pack
	p.Text(d.Kind)
	p.Text(d.Key)
	p.Text(d.Chat)
	p.Text(d.Why)
	p.Time(at)
	p.Bytes(d.Body)
	return p.B
}

// deadRow is one of the dead as it is kept.
type deadRow struct {
	key          string // full
	created, mod int64
	store.Dead
}

func (d deadRow) number() uint64 { return uint64(d.created) << placeBits }

func (s *Store) deadOf(kv *mvccpb.KeyValue) (deadRow, error) {
	v, err := s.unseal(string(kv.Key), kv.Value)
	if err != nil {
		return deadRow{}, err
	}
	u := record.Unpack{B: v}
	d := deadRow{key: string(kv.Key), created: kv.CreateRevision, mod: kv.ModRevision}
	d.Dead = store.Dead{Kind: u.Text(), Key: u.Text(), Chat: u.Text(), Why: u.Text(), At: u.Time(), Body: u.Bytes()}
	if err := u.Done("a dead letter"); err != nil {
		return deadRow{}, err
	}
	return d, nil
}

// Dead hands what was given up on to visit, oldest first, after number after.
// Numbers rise, with gaps. An error from visit ends it and is returned as it is.
func (s *Store) Dead(after uint64, visit func(n uint64, d store.Dead) error) error {
	var rows []deadRow
	_, err := s.all(s.key("x/", ""), func(kv *mvccpb.KeyValue) error {
		d, err := s.deadOf(kv)
		if err == nil && d.number() > after {
			rows = append(rows, d)
		}
		return err
	}, clientv3.WithMinCreateRev(int64(after>>placeBits)))
	if err != nil {
		return fmt.Errorf("read the dead: %w", err)
	}
	slices.SortFunc(rows, func(a, b deadRow) int { return cmp.Compare(a.created, b.created) })
	for _, d := range rows {
		if err := visit(d.number(), d.Dead); err != nil {
			return err
		}
	}
	return nil
}

// PruneDead removes for good what was given up on before the time given, and
// returns how much that was.
func (s *Store) PruneDead(before time.Time) (removed int, err error) {
	removed, err = s.deleteDead(func(d store.Dead) bool { return d.At.Before(before) })
	if err != nil {
		return removed, fmt.Errorf("prune the dead: %w", err)
	}
	return removed, nil
}

// deleteDead deletes the dead that match, some at a time, and returns how many they were.
func (s *Store) deleteDead(match func(store.Dead) bool) (int, error) {
	var gone []clientv3.Op
	_, err := s.all(s.key("x/", ""), func(kv *mvccpb.KeyValue) error {
		d, err := s.deadOf(kv)
		if err == nil && match(d.Dead) {
			gone = append(gone, clientv3.OpDelete(d.key))
		}
		return err
	})
	if err != nil {
		return 0, err
	}
	removed := 0
	for batch := range slices.Chunk(gone, s.o.Ops) {
		if _, err := s.apply(change{then: batch, landed: harmless}); err != nil {
			return removed, err
		}
		removed += len(batch)
	}
	return removed, nil
}
