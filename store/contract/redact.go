package contract

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/store"
)

// Redacting is taking a person's data out of a log that others still need.
type Redacting interface {
	Redact(w store.Write, redone map[uint64][]byte) error
}

// TestRedact holds a store to what erasing relies on.
func TestRedact(t *testing.T, h Harness) {
	at := noon
	s := h.Fresh(t, func() time.Time { return at })
	defer func() { done(t, s) }()
	for _, name := range []string{"s", "t"} {
		commit(t, s, store.Turn{Writes: []store.Write{{Stream: name, Entries: [][]byte{[]byte("a"), []byte("b"), []byte("c")}, Head: []byte("old")}}})
		at = at.Add(time.Hour)
	}
	r := s.(Redacting)
	for what, c := range map[string]struct {
		w      store.Write
		redone map[uint64][]byte
		want   error
	}{
		"moved":      {store.Write{Stream: "s", After: 2}, map[uint64][]byte{1: []byte("x")}, store.ErrMoved},
		"no entry":   {store.Write{Stream: "s", After: 3, Head: []byte("new")}, map[uint64][]byte{1: []byte("x"), 4: []byte("x")}, store.ErrUnknown},
		"no entry 0": {store.Write{Stream: "s", After: 3}, map[uint64][]byte{0: []byte("x")}, store.ErrUnknown},
		"no stream":  {store.Write{Stream: "u"}, nil, store.ErrUnknown},
		"no name":    {store.Write{}, nil, store.ErrName},
	} {
		if err := r.Redact(c.w, c.redone); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", what, err, c.want)
		}
	}
	listed(t, s, "s 3 old at 12, t 3 old at 13", "abc")
	if err := r.Redact(store.Write{Stream: "s", After: 3, Entries: [][]byte{[]byte("note")}, Head: []byte("new")}, map[uint64][]byte{2: []byte("-")}); err != nil {
		t.Fatal(err)
	}
	listed(t, s, "s 4 new at 12, t 3 old at 13", "a-cnote")
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = h.Again(t, s)
	listed(t, s, "s 4 new at 12, t 3 old at 13", "a-cnote")
}

func done(t *testing.T, s Store) {
	t.Helper()
	if err := errors.Join(s.Check(), s.Close()); err != nil {
		t.Error(err)
	}
}

func commit(t *testing.T, s Store, turn store.Turn) {
	t.Helper()
	if _, err := s.Commit(turn); err != nil {
		t.Fatal(err)
	}
}

// listed compares all streams, oldest change first, and the entries of s.
func listed(t *testing.T, s Store, streams, entries string) {
	t.Helper()
	var names []string
	err := s.Streams("", "", false, func(name string, head []byte, last uint64, changed time.Time) error {
		names = append(names, fmt.Sprintf("%s %d %s at %d", name, last, head, changed.UTC().Hour()))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	var all []byte
	if err := s.Replay("s", 0, func(_ uint64, e []byte) error { all = slices.Concat(all, e); return nil }); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(names, ", "); got != streams {
		t.Errorf("streams %q, want %q", got, streams)
	}
	if string(all) != entries {
		t.Errorf("entries %q, want %q", all, entries)
	}
}
