package etcd

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
	"linetender/store/internal/record"
)

// Moved counts what a move found and did.
type Moved struct {
	Streams int // in the file
	Entries int // that were brought over now
	Anew    int // streams that were there and different, and were written anew
	Gone    int // streams that are no longer in the file, and were taken out
	Rest    int // cursors, marks, arrivals, parcels, receipts, secrets and the dead
}

// Ahead brings the streams of a file over, as far as they are not there yet, in the order of their last
// change, and nothing else: it is for a copy of a file on which somebody still works, so that little is
// left to do once nobody does. Every stream that is there is compared, byte for byte.
//
// Errors: those of the stores; brought over again after one, nothing is doubled.
func (s *Store) Ahead(from *store.Store) (Moved, error) {
	var m Moved
	err := from.Streams("", "", false, func(name string, head []byte, last uint64, changed time.Time) error {
		m.Streams++
		n, anew, err := s.bring(from, name, head, last, changed)
		m.Entries += n
		if anew {
			m.Anew++
		}
		if err != nil {
			return fmt.Errorf("bring stream %q over: %w", name, err)
		}
		return nil
	})
	return m, err
}

// Move brings all that a file holds over. Nobody may work on either meanwhile, nor on the file later.
// Streams that are here and not there are taken out: they were erased since Ahead brought them.
//
// Errors: as of Ahead.
func (s *Store) Move(from *store.Store) (Moved, error) {
	m, err := s.Ahead(from)
	if err != nil {
		return m, err
	}
	if m.Gone, err = s.prune(from); err != nil {
		return m, err
	}
	m.Rest, err = s.bringRest(from)
	return m, err
}

// bring brings one stream over and returns how many entries were new.
func (s *Store) bring(from *store.Store, name string, head []byte, last uint64, changed time.Time) (n int, anew bool, err error) {
	there, at, err := s.Head(name)
	if err != nil {
		return 0, false, err
	}
	same, err := s.begins(from, name, at, last)
	if err != nil {
		return 0, false, err
	}
	if !same {
		if err := s.Erase(name); err != nil {
			return 0, false, err
		}
		at, there, anew = 0, nil, true
	}
	w := store.Write{Stream: name, After: at}
	size := 0
	flush := func() error {
		if len(w.Entries) == 0 && w.Head == nil {
			return nil
		}
		if _, err := s.commit(store.Turn{Writes: []store.Write{w}}, changed); err != nil {
			return err
		}
		n += len(w.Entries)
		w.After += uint64(len(w.Entries))
		w.Entries, size = nil, 0
		return nil
	}
	err = from.Replay(name, at, func(_ uint64, e []byte) error {
		if size += len(e) + 16; size > s.o.Bytes/2 && len(w.Entries) > 0 {
			if err := flush(); err != nil {
				return err
			}
			size = len(e) + 16
		}
		w.Entries = append(w.Entries, e)
		return nil
	})
	if err != nil {
		return n, anew, err
	}
	if there == nil || !bytes.Equal(there, head) {
		w.Head = append([]byte{}, head...)
	}
	err = flush()
	return n, anew, err
}

// begins reports whether what is here of a stream, up to entry at, is what the file's begins with.
func (s *Store) begins(from *store.Store, name string, at, last uint64) (same bool, err error) {
	if at > last {
		return false, nil
	}
	same = true
	var here [][]byte
	err = from.Replay(name, 0, func(n uint64, e []byte) error {
		if n > at {
			return errEnough
		}
		if len(here) == 0 {
			some, _, err := s.replayBatch(name, n-1)
			if err != nil {
				return err
			}
			here = some
		}
		if !bytes.Equal(here[0], e) {
			same = false
			return errEnough
		}
		here = here[1:]
		return nil
	})
	if errors.Is(err, errEnough) {
		err = nil
	}
	return same, err
}

// prune takes out streams that the file doesn't have.
func (s *Store) prune(from *store.Store) (gone int, err error) {
	var extra []string
	err = s.Streams("", "", false, func(name string, _ []byte, _ uint64, _ time.Time) error {
		head, _, err := from.Head(name)
		if head == nil && err == nil && !slices.Contains(extra, name) {
			extra = append(extra, name)
		}
		return err
	})
	for _, name := range extra {
		if err == nil {
			err = s.Erase(name)
			gone++
		}
	}
	return gone, err
}

// bringRest brings over what isn't a stream, as the file has it.
func (s *Store) bringRest(from *store.Store) (n int, err error) {
	put := func(kind, rest string, value []byte, opts ...clientv3.OpOption) error {
		n++
		_, err := s.apply(change{then: []clientv3.Op{s.put(s.key(kind, rest), value, opts...)}, landed: harmless})
		return err
	}
	err = from.HandOver(store.Handover{
		Source: func(source string, cursor int64, at time.Time) error {
			var p record.Pack
			p.Number(uint64(cursor))
			p.Time(at)
			return put("c/", source, p.B)
		},
		Mark: func(update string) error {
			lease, err := s.marks.lease(s)
			if err != nil {
				return err
			}
			var p record.Pack
			p.Text("moved")
			p.Time(s.o.Now())
			return put("d/", update, p.B, clientv3.WithLease(lease))
		},
		Receipt: func(chat, slot string, receipt []byte) error {
			return put("r/", string(record.Scope(chat))+slot, receipt)
		},
		Secret: func(name string, value []byte) error { return put("k/", name, value) },
		Parcel: func(d store.Due) error {
			n++
			_, err := s.Commit(store.Turn{Update: fmt.Sprint("moved/parcel/", d.ID), Outbox: []store.Parcel{{Chat: d.Chat, Urgent: d.Urgent, Body: d.Body}}})
			if errors.Is(err, store.ErrDone) {
				return nil
			}
			return err
		},
	})
	if err != nil {
		return n, fmt.Errorf("bring the rest over: %w", err)
	}
	var waiting []store.Arrival
	if err := from.Waiting(func(a store.Arrival) bool { waiting = append(waiting, a); return true }); err != nil {
		return n, err
	}
	if err := s.Accept("moved", 0, waiting); err != nil {
		return n, err
	}
	n += len(waiting)
	err = from.Dead(0, func(number uint64, d store.Dead) error {
		return put("x/", fmt.Sprintf("moved/%020d", number), packDead(d, d.At))
	})
	return n, err
}
