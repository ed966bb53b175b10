package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// stream is the record of a stream: the number of its last entry, its place in
// the order of changes, when that change was, and its summary.
type stream struct {
	last    uint64
	change  uint64
	changed time.Time
	head    []byte
}

func readStream(tx *bbolt.Tx, name string) (st stream, ok bool, err error) {
	v, ok, err := get(tx.Bucket(bStreams), []byte(name))
	if !ok {
		return stream{}, false, err
	}
	u := record.Unpack{B: v}
	st = stream{last: u.Number(), change: u.Number(), changed: u.Time(), head: u.Bytes()}
	if err := u.Done("stream " + name); err != nil {
		return stream{}, false, err
	}
	return st, true, nil
}

// appendTo appends the entries of one write and returns the number of the last.
func appendTo(tx *bbolt.Tx, w Write, now time.Time) (uint64, error) {
	st, there, err := readStream(tx, w.Stream)
	if err != nil {
		return 0, err
	}
	if st.last != w.After {
		return 0, fmt.Errorf("stream %q is at entry %d, the writer saw %d: %w", w.Stream, st.last, w.After, ErrMoved)
	}
	if len(w.Entries) == 0 && w.Head == nil {
		return st.last, nil
	}
	for _, e := range w.Entries {
		st.last++
		if err := put(tx.Bucket(bEntries), record.Scoped(w.Stream, st.last), e); err != nil {
			return 0, err
		}
	}
	if w.Head != nil {
		st.head = w.Head
	}
	changes := tx.Bucket(bChanges)
	if there {
		if err := changes.Delete(record.Number(st.change)); err != nil {
			return 0, err
		}
	}
	if st.change, err = changes.NextSequence(); err != nil {
		return 0, err
	}
	if err := put(changes, record.Number(st.change), []byte(w.Stream)); err != nil {
		return 0, err
	}
	st.changed = now
	return st.last, st.write(tx, w.Stream)
}

// Head returns the latest summary of a stream and the number of its last entry;
// nil and 0 for a stream that isn't there. An empty summary is not nil.
func (s *Store) Head(name string) (head []byte, last uint64, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		st, _, err := readStream(tx, name)
		head, last = st.head, st.last
		return err
	})
	if err != nil {
		return nil, 0, fmt.Errorf("head of stream %q: %w", name, err)
	}
	return head, last, nil
}

// Replay hands the entries of a stream after number after to visit, in order. An
// error from visit ends it and is returned as it is. No transaction is open while
// visit runs, so it may use the store.
//
// Errors: ErrCorrupt when an entry is damaged or missing; visit has then seen only
// sound ones before it.
func (s *Store) Replay(name string, after uint64, visit func(n uint64, entry []byte) error) error {
	for {
		entries, last, err := s.replayBatch(name, after)
		if err != nil {
			return fmt.Errorf("replay stream %q after entry %d: %w", name, after, err)
		}
		for _, e := range entries {
			after++
			if err := visit(after, e); err != nil {
				return err
			}
		}
		if after >= last {
			return nil
		}
	}
}

// A batch is bounded in number and bytes, so that a long stream doesn't sit in
// memory whole, nor hold a read transaction that keeps old pages from being used again.
const (
	batchEntries = 256
	batchBytes   = 1 << 20
)

func (s *Store) replayBatch(name string, after uint64) (entries [][]byte, last uint64, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		st, _, err := readStream(tx, name)
		if err != nil {
			return err
		}
		last = st.last
		if after >= last {
			return nil
		}
		beginning := record.Scope(name)
		c := tx.Bucket(bEntries).Cursor()
		size := 0
		n := after
		for k, sealed := c.Seek(record.Scoped(name, after+1)); k != nil && bytes.HasPrefix(k, beginning); k, sealed = c.Next() {
			n++
			if rest := k[len(beginning):]; len(rest) != 8 || binary.BigEndian.Uint64(rest) != n {
				return fmt.Errorf("entry %d is missing: %w", n, ErrCorrupt)
			}
			v, err := record.Unseal(k, sealed)
			if err != nil {
				return err
			}
			entries = append(entries, append([]byte{}, v...))
			if size += len(v); len(entries) >= batchEntries || size >= batchBytes {
				return nil
			}
		}
		if n != last {
			return fmt.Errorf("entries end at %d of %d: %w", n, last, ErrCorrupt)
		}
		return nil
	})
	return entries, last, err
}

// Erase removes a stream, its summary and its place in the list, for good. What
// is written to it later begins at entry 1 again. The bytes leave the file itself
// when it is next compacted.
//
// Errors: ErrUnknown when there is no such stream.
func (s *Store) Erase(name string) error {
	return s.update(func(tx *bbolt.Tx) error {
		st, there, err := readStream(tx, name)
		if err != nil {
			return err
		}
		if !there {
			return fmt.Errorf("erase stream %q: %w", name, ErrUnknown)
		}
		if err := tx.Bucket(bChanges).Delete(record.Number(st.change)); err != nil {
			return err
		}
		if err := tx.Bucket(bStreams).Delete([]byte(name)); err != nil {
			return err
		}
		return deleteScope(tx.Bucket(bEntries), name)
	})
}
