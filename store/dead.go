package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Kinds of the dead.
const (
	DeadUpdate = "update" // an arrival that was buried
	DeadParcel = "parcel" // a parcel that was dropped
)

// Dead is an update or a parcel that was given up on, kept for the operator. Key is
// the update's key or the parcel's id in digits.
type Dead = struct {
	Kind string
	Key  string
	Chat string
	Why  string
	At   time.Time
	Body []byte
}

func (s *Store) addDead(tx *bbolt.Tx, d Dead) error {
	n, err := tx.Bucket(bDead).NextSequence()
	if err != nil {
		return err
	}
	return writeDead(tx, record.Number(n), d, s.now())
}

func writeDead(tx *bbolt.Tx, key []byte, d Dead, at time.Time) error {
	var p record.Pack
	p.Text(d.Kind)
	p.Text(d.Key)
	p.Text(d.Chat)
	p.Text(d.Why)
	p.Time(at)
	p.Bytes(d.Body)
	return put(tx.Bucket(bDead), key, p.B)
}

func readDead(v []byte) (Dead, error) {
	u := record.Unpack{B: v}
	d := Dead{Kind: u.Text(), Key: u.Text(), Chat: u.Text(), Why: u.Text(), At: u.Time(), Body: u.Bytes()}
	if err := u.Done("a dead letter"); err != nil {
		return Dead{}, err
	}
	return d, nil
}

// Dead hands what was given up on to visit, oldest first, after number after.
// An error from visit ends it and is returned as it is. No transaction is open
// while visit runs.
func (s *Store) Dead(after uint64, visit func(n uint64, d Dead) error) error {
	type numbered struct {
		n uint64
		d Dead
	}
	for {
		var batch []numbered
		err := s.view(func(tx *bbolt.Tx) error {
			c := tx.Bucket(bDead).Cursor()
			for k, sealed := c.Seek(record.Number(after + 1)); k != nil && len(batch) < batchStreams; k, sealed = c.Next() {
				v, err := record.Unseal(k, sealed)
				if err != nil {
					return err
				}
				d, err := readDead(v)
				if err != nil {
					return err
				}
				batch = append(batch, numbered{binary.BigEndian.Uint64(k), d})
			}
			return nil
		})
		if err != nil {
			return fmt.Errorf("read the dead: %w", err)
		}
		for _, b := range batch {
			if err := visit(b.n, b.d); err != nil {
				return err
			}
			after = b.n
		}
		if len(batch) == 0 {
			return nil
		}
	}
}

// PruneDead removes for good what was given up on before the time given, and
// returns how much that was.
func (s *Store) PruneDead(before time.Time) (removed int, err error) {
	err = s.update(func(tx *bbolt.Tx) error {
		removed, err = deleteDead(tx, func(d Dead) bool { return d.At.Before(before) })
		return err
	})
	if err != nil {
		return 0, fmt.Errorf("prune the dead: %w", err)
	}
	return removed, nil
}

// deleteDead deletes the dead that match and returns how many they were.
func deleteDead(tx *bbolt.Tx, match func(Dead) bool) (int, error) {
	dead := tx.Bucket(bDead)
	var gone [][]byte // a cursor may not delete as it goes
	c := dead.Cursor()
	for k, sealed := c.First(); k != nil; k, sealed = c.Next() {
		v, err := record.Unseal(k, sealed)
		if err != nil {
			return 0, err
		}
		d, err := readDead(v)
		if err != nil {
			return 0, err
		}
		if match(d) {
			gone = append(gone, bytes.Clone(k))
		}
	}
	for _, k := range gone {
		if err := dead.Delete(k); err != nil {
			return 0, err
		}
	}
	return len(gone), nil
}
