package contract

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/store"
)

func testReplayHandsOutCopiesAndPassesErrors(t *testing.T, h Harness) {
	s := h.open(t, nil)
	mine := []byte("handed in")
	head := []byte("head")
	_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", Entries: [][]byte{mine, {}, nil}, Head: head}}})
	must(t, err)
	copy(mine, "XXXXXXXXX")
	copy(head, "XXXX")
	var kept [][]byte
	must(t, s.Replay("s", 0, func(n uint64, e []byte) error {
		kept = append(kept, e)
		// No transaction is open, so visit may write, even while it replays.
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: fmt.Sprint("copy", n), Entries: [][]byte{e}}}})
		for i := range e {
			e[i] ^= 0xff
		}
		return err
	}))
	if got := contents(t, s, "s", 0); !slices.Equal(got, []string{"handed in", "", ""}) {
		t.Errorf("stream has %q", got)
	}
	if got := contents(t, s, "copy1", 0); got[0] != "handed in" {
		t.Errorf("copy has %q", got)
	}
	if h, _, _ := s.Head("s"); !bytes.Equal(h, []byte("head")) {
		t.Errorf("head is %q", h)
	}
	enough := errors.New("enough")
	seen := 0
	err = s.Replay("s", 0, func(uint64, []byte) error { seen++; return enough })
	if err != enough || seen != 1 {
		t.Errorf("got %v after %d entries, want visit's own error after 1", err, seen)
	}
}

func testHeadIsReplacedOrKept(t *testing.T, h Harness) {
	s := h.open(t, nil)
	steps := []struct {
		head []byte
		want string
	}{{[]byte("one"), "one"}, {nil, "one"}, {[]byte("three"), "three"}, {[]byte{}, ""}}
	for i, st := range steps {
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", After: uint64(i), Entries: lines("x"), Head: st.head}}})
		must(t, err)
		if head, last, err := s.Head("s"); string(head) != st.want || head == nil || last != uint64(i+1) || err != nil {
			t.Errorf("head %q, last %d, %v; want %q", head, last, err, st.want)
		}
	}
	if head, last, err := s.Head("none"); head != nil || last != 0 || err != nil {
		t.Errorf("no stream: %v, %d, %v", head, last, err)
	}
}

func testErase(t *testing.T, h Harness) {
	s := h.open(t, nil)
	for _, name := range []string{"s", "s2"} {
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: name, Entries: slices.Repeat(lines("x"), 50), Head: []byte(name)}}})
		must(t, err)
	}
	must(t, s.Erase("s"))
	wantErr(t, s.Erase("s"), store.ErrUnknown)
	if head, last, _ := s.Head("s"); head != nil || last != 0 {
		t.Errorf("head %q, last %d of an erased stream", head, last)
	}
	if got := list(t, s, "", "", false); !slices.Equal(got, []string{"s2"}) {
		t.Errorf("streams %q", got)
	}
	_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", After: 50, Entries: lines("y")}}})
	wantErr(t, err, store.ErrMoved)
	n, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", Entries: lines("y")}}})
	if err != nil || n[0] != 1 {
		t.Errorf("%v, %v: an erased stream begins again at 1", n, err)
	}
}

func testStreamsInOrderOfChange(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	write := func(name string, after uint64) {
		t.Helper()
		clock.t = clock.t.Add(-time.Minute) // a clock that steps back must not disturb the order
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: name, After: after, Entries: lines("x"), Head: []byte(name)}}})
		must(t, err)
	}
	// Many have prefix "a/", few have "b/": a store may find them in two ways.
	const many = 700
	var order []string
	for i := range many {
		name := fmt.Sprintf("a/%d", (i*769)%many)
		if i%50 == 0 {
			name = fmt.Sprintf("b/%d", 50-i/50)
		}
		write(name, 0)
		order = append(order, name)
	}
	touch := func(name string) {
		write(name, 1)
		order = append(slices.DeleteFunc(order, func(n string) bool { return n == name }), name)
	}
	touch(order[7])
	touch("b/44")
	_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: order[3], After: 1}}})
	must(t, err) // only compares, so it is no change

	for _, prefix := range []string{"", "a/", "b/", "b/4", "c", "a/1"} {
		want := slices.DeleteFunc(slices.Clone(order), func(n string) bool { return !strings.HasPrefix(n, prefix) })
		for _, newest := range []bool{false, true} {
			if newest {
				slices.Reverse(want)
			}
			if got := list(t, s, prefix, "", newest); !slices.Equal(got, want) {
				t.Errorf("prefix %q, newest first %v: %d streams in another order than %d", prefix, newest, len(got), len(want))
			}
			for _, i := range []int{0, 1, len(want) / 2, len(want) - 2, len(want) - 1} {
				if i < 0 || i >= len(want) {
					continue
				}
				if got := list(t, s, prefix, want[i], newest); !slices.Equal(got, want[i+1:]) {
					t.Errorf("prefix %q, newest first %v, after %q: %d streams, want %d", prefix, newest, want[i], len(got), len(want)-i-1)
				}
			}
		}
	}
	// From a stream without the prefix: the place counts, not the name.
	at := slices.Index(order, "b/45")
	want := slices.DeleteFunc(slices.Clone(order[at:]), func(n string) bool { return !strings.HasPrefix(n, "a/") })
	if got := list(t, s, "a/", "b/45", false); !slices.Equal(got, want) {
		t.Errorf("after a stream without the prefix: %d streams, want %d", len(got), len(want))
	}
	wantErr(t, s.Streams("", "none", false, nil), store.ErrUnknown)
}

func testStreamsTellsWhenAndStops(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	for _, n := range []string{"a", "b"} {
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: n, Head: []byte("only a head")}}})
		must(t, err)
		clock.t = clock.t.Add(time.Minute)
	}
	enough := errors.New("enough")
	err := s.Streams("", "", false, func(name string, head []byte, last uint64, changed time.Time) error {
		if name != "a" || string(head) != "only a head" || last != 0 || !changed.Equal(noon) {
			t.Errorf("got %q, %q, %d, %v", name, head, last, changed)
		}
		return enough
	})
	if err != enough {
		t.Errorf("got %v, want visit's own error", err)
	}
}

// Walked oldest first, what changes on the way comes again at the end and nothing
// is missed, though visit itself writes.
func testStreamsOldestFirstMissesNone(t *testing.T, h Harness) {
	s := h.open(t, nil)
	const n = 200
	for i := range n {
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: fmt.Sprint(i), Entries: lines("x")}}})
		must(t, err)
	}
	seen := map[string]int{}
	must(t, s.Streams("", "", false, func(name string, _ []byte, last uint64, _ time.Time) error {
		if seen[name]++; seen[name] > 1 {
			return nil
		}
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: name, After: last, Entries: lines("y")}}})
		return err
	}))
	for i := range n {
		if got := seen[fmt.Sprint(i)]; got != 2 {
			t.Errorf("stream %d was visited %d times, want 2", i, got)
		}
	}
}

func testReplayFromTheMiddle(t *testing.T, h Harness) {
	s := h.open(t, nil)
	var all []string
	var last uint64
	for i := range 12 {
		var entries []string
		for j := range 50 {
			entries = append(entries, fmt.Sprint(i, ".", j))
		}
		entries = append(entries, strings.Repeat("big", 100_000))
		n, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", After: last, Entries: lines(entries...)}, {Stream: fmt.Sprint("s", i), Entries: lines("other")}}})
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
