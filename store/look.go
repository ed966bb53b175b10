package store

import (
	"bytes"
	"encoding/binary"
	"fmt"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Waiting shows all arrivals that wait, chat by chat and in order in each,
// until visit returns false. Nothing can be written meanwhile by visit.
func (s *Store) Waiting(visit func(Arrival) bool) error {
	err := s.view(func(tx *bbolt.Tx) error {
		c := tx.Bucket(bInbox).Cursor()
		for k, sealed := c.First(); k != nil; k, sealed = c.Next() {
			chat, _, err := splitScoped(k)
			if err != nil {
				return err
			}
			row, err := record.Unseal(k, sealed)
			if err != nil {
				return err
			}
			a, err := readArrival(chat, row)
			if err != nil {
				return err
			}
			if !visit(a) {
				return nil
			}
		}
		return nil
	})
	if err != nil {
		return fmt.Errorf("look through what waits: %w", err)
	}
	return nil
}

// Behind shows the bodies of the parcels of a chat that are not urgent and are
// queued behind number id, in order and at most limit of them, until visit
// returns false. A body is the visitor's only until it returns.
func (s *Store) Behind(chat string, id uint64, limit int, visit func(body []byte) bool) error {
	err := s.view(func(tx *bbolt.Tx) error {
		mine := record.Scope(chat)
		c := tx.Bucket(bQueue).Cursor()
		k, _ := c.Seek(parcel{chat: chat}.place(id + 1))
		for ; k != nil && bytes.HasPrefix(k, mine) && limit > 0; k, _ = c.Next() {
			if len(k) != len(mine)+ticketSize {
				return fmt.Errorf("queue key %q: %w", k, ErrCorrupt)
			}
			p, err := readParcel(tx, binary.BigEndian.Uint64(k[len(mine)+1:]))
			if err != nil {
				return err
			}
			if !visit(p.body) {
				return nil
			}
			limit--
		}
		return nil
	})
	if err != nil {
		return fmt.Errorf("look behind parcel %d: %w", id, err)
	}
	return nil
}
