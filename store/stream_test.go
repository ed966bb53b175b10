package store

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestReplayFromTheMiddleAndBeyondBatches(t *testing.T) {
	s := fresh(t, Options{})
	var all []string
	var last uint64
	for i := range 3 {
		var entries []string
		for j := range batchEntries {
			entries = append(entries, fmt.Sprint(i, ".", j))
		}
		entries = append(entries, strings.Repeat("big", batchBytes/3))
		n, err := s.Commit(Turn{Writes: []Write{{Stream: "s", After: last, Entries: lines(entries...)}, {Stream: fmt.Sprint("s", i), Entries: lines("other")}}})
		must(t, err)
		last = n[0]
		all = append(all, entries...)
	}
	for _, after := range []uint64{0, 1, 255, 256, 257, 513, last - 1, last, last + 1, 1 << 63} {
		if got, want := contents(t, s, "s", after), all[min(after, last):]; !slices.Equal(got, want) {
			t.Errorf("after %d: %d entries, want %d", after, len(got), len(want))
		}
	}
	if got := contents(t, s, "none", 0); got != nil {
		t.Errorf("a stream that isn't there has %q", got)
	}
}
