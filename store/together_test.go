package store

import (
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"testing"

	"go.etcd.io/bbolt"
)

// together has changes wait in line while another is written, so that they go
// into one transaction, and returns what each came to.
func together(t *testing.T, s *Store, changes ...func(tx *bbolt.Tx) error) []error {
	t.Helper()
	var all sync.WaitGroup
	errs := make([]error, len(changes))
	must(t, s.update(func(*bbolt.Tx) error {
		for i, do := range changes {
			all.Go(func() { errs[i] = s.update(do) })
			for n := 0; n <= i; { // in this order
				runtime.Gosched()
				s.line.mu.Lock()
				n = len(s.line.waiting)
				s.line.mu.Unlock()
			}
		}
		return nil
	}))
	all.Wait()
	return errs
}

var errNo = errors.New("no")

// TestTogether: changes that waited are one transaction, of which a refused one
// is no part; it is refused only for what is durable.
func TestTogether(t *testing.T) {
	s := fresh(t, Options{})
	var tx []int
	seen := func(i int, err error) func(*bbolt.Tx) error {
		return func(x *bbolt.Tx) error {
			tx = append(tx, i)
			if err != nil {
				return err
			}
			return put(x.Bucket(bSecrets), []byte(fmt.Sprint("s", i)), []byte("x"))
		}
	}
	errs := together(t, s, seen(0, nil), seen(1, errNo), seen(2, nil), seen(3, errNo))
	if want := []error{nil, errNo, nil, errNo}; !slices.EqualFunc(errs, want, errors.Is) {
		t.Errorf("came to %v, want %v", errs, want)
	}
	// Refused together, then the rest, then each that was refused as the first of its own.
	if want := []int{0, 1, 0, 2, 3, 0, 2, 1, 3}; !slices.Equal(tx, want) {
		t.Errorf("called in the order %v, want %v", tx, want)
	}
	for i, want := range []bool{true, false, true, false} {
		if _, ok, err := s.lookUp(fmt.Sprint("s", i)); ok != want || err != nil {
			t.Errorf("change %d is there: %v, want %v (%v)", i, ok, want, err)
		}
	}
}

// TestTogetherOneTransaction: what waits goes into one transaction, and all
// that waits is written though it is more than one takes.
func TestTogetherOneTransaction(t *testing.T) {
	s := fresh(t, Options{})
	at := map[int]int{}
	var changes []func(*bbolt.Tx) error
	const many = mostTogether + 9
	for range many {
		changes = append(changes, func(tx *bbolt.Tx) error { at[tx.ID()]++; return nil })
	}
	if errs := together(t, s, changes...); !slices.Equal(errs, make([]error, many)) {
		t.Errorf("came to %v", errs)
	}
	var sizes []int
	for _, n := range at {
		sizes = append(sizes, n)
	}
	slices.Sort(sizes)
	if !slices.Equal(sizes, []int{many - mostTogether, mostTogether}) {
		t.Errorf("transactions of %v changes", sizes)
	}
}

// TestTogetherDone: of two that do one update, the later is told that it is
// done once that is durable, and not before.
func TestTogetherDone(t *testing.T) {
	s := fresh(t, Options{})
	accept1(t, s, "k", "c", "x")
	commit := func(tx *bbolt.Tx) error {
		_, _, err := takeWaiting(tx, "k")
		if err != nil {
			return err
		}
		return s.markDone(tx, "k")
	}
	full := func(*bbolt.Tx) error { return ErrFull }
	if errs := together(t, s, commit, commit, full); errs[0] != nil || !errors.Is(errs[1], ErrDone) || !errors.Is(errs[2], ErrFull) {
		t.Errorf("came to %v", errs)
	}
}
