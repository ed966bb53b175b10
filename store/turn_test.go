package store

import (
	"fmt"
	"strings"
	"testing"
)

// With no room left a turn is refused whole, what is there stays, and smaller
// work goes on.
func TestFullLeavesNothingHalfWritten(t *testing.T) {
	dir := t.TempDir()
	s := reopen(t, dir, Options{MaxSize: 256 << 10})
	block := strings.Repeat("entry ", 500)
	var last uint64
	var err error
	for i := 0; ; i++ {
		key := fmt.Sprint("k", i)
		if err = s.Accept("src", int64(i+1), []Arrival{arrival(key, "c", "body")}); err != nil {
			break
		}
		var n []uint64
		n, err = s.Commit(Turn{Update: key, Chat: "c", Outbox: []Parcel{{Body: []byte(block)}},
			Writes: []Write{{Stream: "a", After: last, Entries: lines(block), Head: []byte(key)}, {Stream: "b", After: last, Entries: lines(key)}}})
		if err != nil {
			break
		}
		last = n[0]
	}
	wantErr(t, err, ErrFull)
	if last < 5 {
		t.Fatalf("only %d turns had room", last)
	}
	for round := range 2 {
		must(t, s.Check())
		if a, b := contents(t, s, "a", 0), contents(t, s, "b", 0); uint64(len(a)) != last || uint64(len(b)) != last {
			t.Errorf("%d and %d entries, want %d", len(a), len(b), last)
		}
		if head, _, _ := s.Head("a"); string(head) != fmt.Sprint("k", last-1) {
			t.Errorf("head is %q", head)
		}
		st, err := s.Stats()
		must(t, err)
		if uint64(st.Unsent) != last || uint64(st.Marks) != last {
			t.Errorf("%d unsent and %d marks, want %d", st.Unsent, st.Marks, last)
		}
		if round == 0 {
			must(t, s.Close())
			s = reopen(t, dir, Options{})
		}
	}
	_, err = s.Commit(Turn{Writes: []Write{{Stream: "a", After: last, Entries: lines("goes on")}}})
	must(t, err)
}

// Full, sending makes room again without reopening.
func TestFullGoesOnOnceSent(t *testing.T) {
	s := fresh(t, Options{MaxSize: 256 << 10})
	big := []byte(strings.Repeat("parcel", 2000))
	var err error
	for err == nil {
		_, err = s.Commit(Turn{Chat: "c", Outbox: []Parcel{{Body: big}}})
	}
	wantErr(t, err, ErrFull)
	for {
		due, err := s.Due(noon, 1, nil)
		must(t, err)
		if len(due) == 0 {
			break
		}
		must(t, s.Sent(due[0].ID, "", nil))
	}
	_, err = s.Commit(Turn{Chat: "c", Outbox: []Parcel{{Body: big}}})
	must(t, err)
}
