package store

import (
	"fmt"
	"testing"
)

func TestDeadBeyondOneBatch(t *testing.T) {
	s := fresh(t, Options{})
	s.db.NoSync = true
	const n = 2*batchStreams + 1
	for i := range n {
		queueUp(t, s, plainParcel("c", fmt.Sprint(i)))
		must(t, s.Drop(uint64(i+1), "why"))
	}
	want := uint64(0)
	must(t, s.Dead(0, func(got uint64, d Dead) error {
		if want++; got != want || string(d.Body) != fmt.Sprint(want-1) {
			t.Errorf("number %d, body %s where %d was due", got, d.Body, want)
		}
		return nil
	}))
	if want != n {
		t.Errorf("%d dead, want %d", want, n)
	}
}
