package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// A Handover shows what a store keeps beside its streams, its arrivals and its dead, for a move to
// another store. Each part may be nil, and is then passed over. An error from one ends it and
// is returned as it is. Nothing can be written meanwhile by what is called.
type Handover struct {
	Source  func(source string, cursor int64, at time.Time) error
	Mark    func(update string) error // that it is done; oldest first
	Parcel  func(d Due) error         // unsent, in the order in which they were committed
	Receipt func(chat, slot string, receipt []byte) error
	Secret  func(name string, value []byte) error
}

// HandOver goes through one consistent state of the store.
func (s *Store) HandOver(h Handover) error {
	var passed error // what a part returned
	each := func(tx *bbolt.Tx, bucket []byte, wanted bool, visit func(k, v []byte) error) error {
		if !wanted {
			return nil
		}
		return tx.Bucket(bucket).ForEach(func(k, sealed []byte) error {
			v, err := record.Unseal(k, sealed)
			if err == nil {
				err = visit(k, v)
			}
			return err
		})
	}
	pass := func(err error) error {
		passed = err
		return err
	}
	err := s.view(func(tx *bbolt.Tx) error {
		err := each(tx, bSources, h.Source != nil, func(k, v []byte) error {
			u := record.Unpack{B: v}
			cursor, at := int64(u.Number()), u.Time()
			if err := u.Done("source " + string(k)); err != nil {
				return err
			}
			return pass(h.Source(string(k), cursor, at))
		})
		if err != nil {
			return err
		}
		err = each(tx, bDone, h.Mark != nil, func(_, v []byte) error {
			u := record.Unpack{B: v}
			u.Time()
			key := u.Text()
			if err := u.Done("done mark"); err != nil {
				return err
			}
			return pass(h.Mark(key))
		})
		if err != nil {
			return err
		}
		err = each(tx, bOutbox, h.Parcel != nil, func(k, _ []byte) error {
			id := binary.BigEndian.Uint64(k)
			p, err := readParcel(tx, id)
			if err != nil {
				return err
			}
			return pass(h.Parcel(Due{ID: id, Chat: p.chat, Urgent: p.urgent, Body: p.body, Tries: int(p.tries), NotBefore: p.notBefore}))
		})
		if err != nil {
			return err
		}
		err = each(tx, bReceipts, h.Receipt != nil, func(k, v []byte) error {
			chat, slot, err := record.SplitScope(k)
			if err != nil {
				return err
			}
			return pass(h.Receipt(chat, string(slot), bytes.Clone(v)))
		})
		if err != nil {
			return err
		}
		return each(tx, bSecrets, h.Secret != nil, func(k, v []byte) error { return pass(h.Secret(string(k), bytes.Clone(v))) })
	})
	if passed != nil {
		return passed
	}
	if err != nil {
		return fmt.Errorf("hand over: %w", err)
	}
	return nil
}
