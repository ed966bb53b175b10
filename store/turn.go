package store

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// Commit writes one turn whole or not at all: its entries after entry number After
// of each stream, the mark that Update is done, and what is to be sent. It returns
// the number of the last entry of each stream, in the order of Writes.
//
// An update that was never accepted is marked done all the same, so that a caller
// without an inbox has the same protection against doing it twice.
//
// Errors: ErrMoved when a stream's last entry is not number After, ErrDone when
// Update is done already (checked first), ErrFull when there is no room, ErrName; nothing is
// written then. For any other see the package doc.
func (s *Store) Commit(t Turn) (numbers []uint64, err error) {
	if err := CheckTurn(t); err != nil {
		return nil, err
	}
	if t.Update == "" && len(t.Writes) == 0 && len(t.Outbox) == 0 {
		return nil, nil
	}
	err = s.update(func(tx *bbolt.Tx) error {
		if t.Update != "" {
			if _, _, err := takeWaiting(tx, t.Update); err != nil {
				return err
			}
			if err := s.markDone(tx, t.Update); err != nil {
				return err
			}
		}
		numbers = make([]uint64, len(t.Writes))
		for i, w := range t.Writes {
			if numbers[i], err = appendTo(tx, w, s.now()); err != nil {
				return err
			}
		}
		for _, p := range t.Outbox {
			if p.Chat == "" {
				p.Chat = t.Chat
			}
			if err := enqueue(tx, p); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("commit a turn: %w", err)
	}
	return numbers, nil
}

// CheckTurn refuses a turn that no store takes: one with a name that is empty or too
// long, or with two writes to one stream.
func CheckTurn(t Turn) error {
	if len(t.Update) > MaxName {
		return CheckName("update", t.Update)
	}
	seen := make(map[string]bool, len(t.Writes))
	for _, w := range t.Writes {
		if err := CheckName("stream", w.Stream); err != nil {
			return err
		}
		if seen[w.Stream] {
			return fmt.Errorf("stream %q is written twice in one turn: put its entries in one write", w.Stream)
		}
		seen[w.Stream] = true
	}
	for _, p := range t.Outbox {
		if p.Chat == "" {
			p.Chat = t.Chat
		}
		if err := CheckName("chat of a parcel", p.Chat); err != nil {
			return err
		}
	}
	return nil
}
