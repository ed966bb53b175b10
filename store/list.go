package store

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// Streams hands the streams whose name begins with prefix to visit, in order of
// their last change, beginning after the stream named from; an empty from begins
// at the end asked for. An error from visit ends it and is returned as it is, so a
// page ends with one. No transaction is open while visit runs.
//
// A stream that changes during the walk moves to the newest end: walked oldest
// first it is visited again, newest first it may be left out. Whoever must miss
// none walks oldest first.
//
// Errors: ErrUnknown when there is no stream named from.
func (s *Store) Streams(prefix, from string, newestFirst bool, visit func(name string, head []byte, last uint64, changed time.Time) error) error {
	w := walk{prefix: prefix, newestFirst: newestFirst}
	if from != "" {
		if err := s.view(func(tx *bbolt.Tx) error { return w.startAt(tx, from) }); err != nil {
			return fmt.Errorf("list streams: %w", err)
		}
	}
	for !w.over {
		if err := s.view(w.more); err != nil {
			return fmt.Errorf("list streams: %w", err)
		}
		for _, r := range w.rows {
			if err := visit(r.name, r.head, r.last, r.changed); err != nil {
				return err
			}
		}
	}
	return nil
}

// row is one stream of a listing.
type row struct {
	name string
	stream
}

// walk goes through the streams in order of change, a batch each time.
type walk struct {
	prefix      string
	newestFirst bool
	begun       bool
	at          uint64 // place of the last one seen, once begun
	rows        []row  // the batch
	over        bool
}

const (
	// few names with the prefix are fetched by name and sorted: quicker than going
	// through the changes of all the others to find them.
	fewNames = 512
	// a batch ends at so many streams found or so many changes looked at.
	batchStreams = 64
	batchLooks   = 16384
)

func (w *walk) startAt(tx *bbolt.Tx, from string) error {
	st, ok, err := readStream(tx, from)
	if err != nil {
		return err
	}
	if !ok {
		return fmt.Errorf("begin after stream %q: %w", from, ErrUnknown)
	}
	w.begun, w.at = true, st.change
	return nil
}

// passed reports whether the walk is beyond a place already.
func (w *walk) passed(change uint64) bool {
	if !w.begun {
		return false
	}
	if w.newestFirst {
		return change >= w.at
	}
	return change <= w.at
}

func (w *walk) more(tx *bbolt.Tx) error {
	w.rows = nil
	if w.prefix != "" {
		if ok, err := w.byName(tx); ok || err != nil {
			w.over = true
			return err
		}
	}
	return w.byChange(tx)
}

// byName collects all that is left at once, if few streams have the prefix.
func (w *walk) byName(tx *bbolt.Tx) (ok bool, err error) {
	c := tx.Bucket(bStreams).Cursor()
	prefix := []byte(w.prefix)
	var names []string
	for k, _ := c.Seek(prefix); k != nil && bytes.HasPrefix(k, prefix); k, _ = c.Next() {
		if len(names) == fewNames {
			return false, nil
		}
		names = append(names, string(k))
	}
	for _, name := range names {
		st, _, err := readStream(tx, name)
		if err != nil {
			return false, err
		}
		if !w.passed(st.change) {
			w.rows = append(w.rows, row{name, st})
		}
	}
	slices.SortFunc(w.rows, func(a, b row) int {
		if w.newestFirst {
			a, b = b, a
		}
		return cmp.Compare(a.change, b.change)
	})
	return true, nil
}

// byChange goes through the changes in order and picks those with the prefix.
func (w *walk) byChange(tx *bbolt.Tx) error {
	c := tx.Bucket(bChanges).Cursor()
	step := c.Next
	if w.newestFirst {
		step = c.Prev
	}
	looks := 0
	for k, sealed := w.enter(c); k != nil; k, sealed = step() {
		u := record.Unpack{B: k}
		place := u.Number()
		if err := u.Done("a change"); err != nil {
			return err
		}
		if w.passed(place) {
			continue
		}
		v, err := record.Unseal(k, sealed)
		if err != nil {
			return err
		}
		w.begun, w.at = true, place
		if name := string(v); strings.HasPrefix(name, w.prefix) {
			st, ok, err := readStream(tx, name)
			if err != nil {
				return err
			}
			if !ok || st.change != place {
				return fmt.Errorf("stream %q and the order of changes disagree: %w", name, ErrCorrupt)
			}
			w.rows = append(w.rows, row{name, st})
		}
		if looks++; len(w.rows) >= batchStreams || looks >= batchLooks {
			return nil
		}
	}
	w.over = true
	return nil
}

// enter places the cursor where the walk goes on; passed sorts out the edge.
func (w *walk) enter(c *bbolt.Cursor) (key, value []byte) {
	switch {
	case !w.begun && w.newestFirst:
		return c.Last()
	case !w.begun:
		return c.First()
	}
	if key, value = c.Seek(record.Number(w.at)); key == nil && w.newestFirst {
		return c.Last()
	}
	return key, value
}
