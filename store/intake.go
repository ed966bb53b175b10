package store

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"fmt"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// States of an update in the updates bucket.
const (
	waiting = 'w'
	done    = 'd'
)

// Accept takes in what a channel delivered: the arrivals are appended in the order
// given, one whose Key is waiting or done already is skipped, and the cursor of
// the source is set, all in one transaction. Once it returns nil, the channel may
// be told that the updates were received. Cursor 0 leaves the source's cursor as it
// is.
func (s *Store) Accept(source string, cursor int64, arrivals []Arrival) error {
	if err := CheckName("source", source); err != nil {
		return err
	}
	for _, a := range arrivals {
		if err := CheckName("update", a.Key); err != nil {
			return err
		}
		if err := CheckName("chat of update "+a.Key, a.Chat); err != nil {
			return err
		}
	}
	if cursor == 0 && len(arrivals) == 0 {
		return nil
	}
	return s.update(func(tx *bbolt.Tx) error {
		for _, a := range arrivals {
			if err := accept(tx, a); err != nil {
				return err
			}
		}
		if cursor == 0 {
			return nil
		}
		var p record.Pack
		p.Number(uint64(cursor))
		p.Time(s.now())
		return put(tx.Bucket(bSources), []byte(source), p.B)
	})
}

func accept(tx *bbolt.Tx, a Arrival) error {
	if tx.Bucket(bUpdates).Get([]byte(a.Key)) != nil {
		return nil
	}
	seq, err := tx.Bucket(bInbox).NextSequence()
	if err != nil {
		return err
	}
	var p record.Pack
	p.Text(a.Key)
	p.Time(a.At)
	p.Bytes(a.Body)
	if err := put(tx.Bucket(bInbox), record.Scoped(a.Chat, seq), p.B); err != nil {
		return err
	}
	return setWaiting(tx, a.Key, a.Chat, seq)
}

func setWaiting(tx *bbolt.Tx, key, chat string, seq uint64) error {
	var p record.Pack
	p.Byte(waiting)
	p.Number(seq)
	p.Text(chat)
	return put(tx.Bucket(bUpdates), []byte(key), p.B)
}

// Cursor returns the cursor last set for a source and when that was; 0 and the
// zero time when there is none.
func (s *Store) Cursor(source string) (cursor int64, at time.Time, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		v, ok, err := get(tx.Bucket(bSources), []byte(source))
		if !ok {
			return err
		}
		u := record.Unpack{B: v}
		cursor, at = int64(u.Number()), u.Time()
		return u.Done("source " + source)
	})
	if err != nil {
		return 0, time.Time{}, err
	}
	return cursor, at, nil
}

// Chats returns the chats that have something waiting, the one that has waited
// longest first.
func (s *Store) Chats() ([]string, error) {
	type row struct {
		chat string
		seq  uint64
	}
	var rows []row
	err := s.view(func(tx *bbolt.Tx) error {
		c := tx.Bucket(bInbox).Cursor()
		for k, _ := c.First(); k != nil; {
			chat, seq, err := splitScoped(k)
			if err != nil {
				return err
			}
			rows = append(rows, row{chat, seq})
			k, _ = c.Seek(after(record.Scope(chat)))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	slices.SortFunc(rows, func(a, b row) int { return cmp.Compare(a.seq, b.seq) })
	chats := make([]string, len(rows))
	for i, r := range rows {
		chats[i] = r.chat
	}
	return chats, nil
}

// Next returns the oldest waiting arrival of a chat, and whether there is one. It
// stays until Commit or Bury names its Key.
func (s *Store) Next(chat string) (next Arrival, ok bool, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		key := first(tx.Bucket(bInbox), record.Scope(chat))
		if key == nil {
			return nil
		}
		v, _, err := get(tx.Bucket(bInbox), key)
		if err != nil {
			return err
		}
		next, err = readArrival(chat, v)
		ok = err == nil
		return err
	})
	if err != nil {
		return Arrival{}, false, err
	}
	return next, ok, nil
}

// Bury takes a poisonous update out of its chat's way: it is marked done and kept
// among the dead with the reason.
//
// Errors: ErrUnknown when no such update is waiting, ErrDone when it is done.
func (s *Store) Bury(key, why string) error {
	return s.update(func(tx *bbolt.Tx) error {
		chat, v, err := takeWaiting(tx, key)
		if err != nil {
			return err
		}
		if v == nil {
			return fmt.Errorf("bury update %q: %w", key, ErrUnknown)
		}
		a, err := readArrival(chat, v)
		if err != nil {
			return err
		}
		if err := s.addDead(tx, Dead{Kind: DeadUpdate, Key: key, Chat: chat, Why: why, Body: a.Body}); err != nil {
			return err
		}
		return s.markDone(tx, key)
	})
}

// takeWaiting removes the inbox row of an update and returns its chat and what
// the row held; nil when the update never came in, ErrDone when it is done.
func takeWaiting(tx *bbolt.Tx, key string) (chat string, row []byte, err error) {
	v, ok, err := get(tx.Bucket(bUpdates), []byte(key))
	if !ok {
		return "", nil, err
	}
	u := record.Unpack{B: v}
	if u.Byte() == done {
		return "", nil, fmt.Errorf("update %q: %w", key, ErrDone)
	}
	seq, chat := u.Number(), u.Text()
	if err := u.Done("update " + key); err != nil {
		return "", nil, err
	}
	at := record.Scoped(chat, seq)
	v, ok, err = get(tx.Bucket(bInbox), at)
	if err != nil {
		return "", nil, err
	}
	if !ok {
		return "", nil, fmt.Errorf("update %q is waiting but not in the inbox: %w", key, ErrCorrupt)
	}
	row = bytes.Clone(v)
	return chat, row, tx.Bucket(bInbox).Delete(at)
}

// markDone remembers that an update was worked on, and forgets a few that are
// past their age: two for each new one, so that it catches up. The latest marks
// stay whatever their age, so that a clock that leaps ahead forgets nothing a
// channel could still redeliver.
func (s *Store) markDone(tx *bbolt.Tx, key string) error {
	marks, updates := tx.Bucket(bDone), tx.Bucket(bUpdates)
	n, err := marks.NextSequence()
	if err != nil {
		return err
	}
	now := s.now()
	var p record.Pack
	p.Time(now)
	p.Text(key)
	if err := put(marks, record.Number(n), p.B); err != nil {
		return err
	}
	if err := put(updates, []byte(key), []byte{done}); err != nil {
		return err
	}
	for range 2 {
		k, sealed := marks.Cursor().First()
		if k == nil || binary.BigEndian.Uint64(k)+s.least > n {
			return nil
		}
		v, err := record.Unseal(k, sealed)
		if err != nil {
			return err
		}
		u := record.Unpack{B: v}
		at, old := u.Time(), u.Text()
		if err := u.Done("done mark"); err != nil {
			return err
		}
		if now.Sub(at) < s.keep {
			return nil
		}
		if err := updates.Delete([]byte(old)); err != nil {
			return err
		}
		if err := marks.Delete(bytes.Clone(k)); err != nil {
			return err
		}
	}
	return nil
}

func readArrival(chat string, row []byte) (Arrival, error) {
	u := record.Unpack{B: row}
	a := Arrival{Chat: chat, Key: u.Text(), At: u.Time(), Body: u.Bytes()}
	if err := u.Done("an arrival of chat " + chat); err != nil {
		return Arrival{}, err
	}
	return a, nil
}

// splitScoped takes apart a key made by scoped.
func splitScoped(key []byte) (name string, n uint64, err error) {
	name, rest, err := record.SplitScope(key)
	if err != nil {
		return "", 0, err
	}
	if len(rest) != 8 {
		return "", 0, fmt.Errorf("key %q has the wrong length: %w", key, ErrCorrupt)
	}
	return name, binary.BigEndian.Uint64(rest), nil
}
