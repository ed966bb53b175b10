package store

import (
	"fmt"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Redact puts other bytes in the place of entries of a stream, by number, and
// appends what w holds, all in one transaction: it is how a person's data is
// taken out of a log that others still need. The stream keeps its place in the
// order of changes and the time of its last change. The bytes that were there
// leave the file itself when it is next compacted.
//
// Errors: ErrMoved when the stream's last entry is not number w.After,
// ErrUnknown when there is no such stream or no entry of one of the numbers,
// ErrFull, ErrName; nothing is changed then.
func (s *Store) Redact(w Write, redone map[uint64][]byte) error {
	if err := CheckName("stream", w.Stream); err != nil {
		return err
	}
	err := s.update(func(tx *bbolt.Tx) error {
		st, there, err := readStream(tx, w.Stream)
		if err != nil {
			return err
		}
		if !there {
			return ErrUnknown
		}
		if st.last != w.After {
			return fmt.Errorf("it is at entry %d, the writer saw %d: %w", st.last, w.After, ErrMoved)
		}
		entries := tx.Bucket(bEntries)
		for n, body := range redone {
			if n < 1 || n > st.last {
				return fmt.Errorf("entry %d: %w", n, ErrUnknown)
			}
			if err := put(entries, record.Scoped(w.Stream, n), body); err != nil {
				return err
			}
		}
		for _, body := range w.Entries {
			st.last++
			if err := put(entries, record.Scoped(w.Stream, st.last), body); err != nil {
				return err
			}
		}
		if w.Head != nil {
			st.head = w.Head
		}
		return st.write(tx, w.Stream)
	})
	if err != nil {
		return fmt.Errorf("redact stream %q: %w", w.Stream, err)
	}
	return nil
}

func (st stream) write(tx *bbolt.Tx, name string) error {
	var p record.Pack
	p.Number(st.last)
	p.Number(st.change)
	p.Time(st.changed)
	p.Bytes(st.head)
	return put(tx.Bucket(bStreams), []byte(name), p.B)
}
