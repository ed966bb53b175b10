package store

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
)

func TestCommitWholeTurn(t *testing.T) {
	s := fresh(t, Options{})
	accept1(t, s, "k1", "east", "hello")
	numbers, err := s.Commit(Turn{Update: "k1", Chat: "east",
		Writes: []Write{
			{Stream: "session/1", Entries: lines("heard", "asked"), Head: []byte("asking")},
			{Stream: "chat/east", Entries: lines("in session 1")},
		},
		Outbox: []Parcel{{Body: []byte("what does it weigh?")}, {Chat: "west", Body: []byte("east has begun")}},
	})
	must(t, err)
	if !slices.Equal(numbers, []uint64{2, 1}) {
		t.Errorf("numbers %v, want 2 and 1", numbers)
	}
	if got := contents(t, s, "session/1", 0); !slices.Equal(got, []string{"heard", "asked"}) {
		t.Errorf("stream has %q", got)
	}
	head, last, err := s.Head("session/1")
	if string(head) != "asking" || last != 2 || err != nil {
		t.Errorf("head %q, last %d, %v", head, last, err)
	}
	if _, ok, _ := s.Next("east"); ok {
		t.Error("the update is still waiting")
	}
	due, err := s.Due(noon, 9, nil)
	must(t, err)
	if len(due) != 2 || due[0].Chat != "east" || due[1].Chat != "west" || string(due[0].Body) != "what does it weigh?" {
		t.Errorf("due: %+v", due)
	}
}

func TestCommitComparesRevision(t *testing.T) {
	s := fresh(t, Options{})
	commit := func(after uint64, entries ...string) error {
		_, err := s.Commit(Turn{Writes: []Write{{Stream: "s", After: after, Entries: lines(entries...)}}})
		return err
	}
	must(t, commit(0, "a", "b"))
	for _, after := range []uint64{0, 1, 3, 1 << 63} {
		err := commit(after, "late")
		wantErr(t, err, ErrMoved)
		var moved interface{ Moved() bool }
		if !errors.As(err, &moved) || !moved.Moved() {
			t.Errorf("%v is not known by its behaviour", err)
		}
	}
	must(t, commit(2))
	wantErr(t, commit(1), ErrMoved)
	must(t, commit(2, "c"))
	if got := contents(t, s, "s", 0); !slices.Equal(got, []string{"a", "b", "c"}) {
		t.Errorf("stream has %q", got)
	}
}

func TestCommitOncePerUpdate(t *testing.T) {
	s := fresh(t, Options{})
	for _, key := range []string{"came in", "never came in"} {
		if key == "came in" {
			accept1(t, s, key, "c", "")
		}
		turn := Turn{Update: key, Writes: []Write{{Stream: key, Entries: lines("x")}}}
		_, err := s.Commit(turn)
		must(t, err)
		for _, after := range []uint64{0, 1} {
			turn.Writes[0].After = after
			_, err = s.Commit(turn)
			wantErr(t, err, ErrDone)
			if errors.Is(err, ErrMoved) {
				t.Errorf("%v: done is told before moved", err)
			}
			var d interface{ Done() bool }
			if !errors.As(err, &d) || !d.Done() {
				t.Errorf("%v is not known by its behaviour", err)
			}
		}
		if got := contents(t, s, key, 0); len(got) != 1 {
			t.Errorf("the turn had effect %d times", len(got))
		}
	}
}

// A turn whose last part is refused leaves no trace of its first.
func TestCommitRefusedLeavesNothing(t *testing.T) {
	s := fresh(t, Options{})
	accept1(t, s, "k", "c", "")
	_, err := s.Commit(Turn{Writes: []Write{{Stream: "b", Entries: lines("1")}}})
	must(t, err)
	full := func(last Write, chat string) Turn {
		return Turn{Update: "k", Chat: "c", Outbox: []Parcel{{Body: []byte("x")}, {Chat: chat}},
			Writes: []Write{{Stream: "a", Entries: lines("1"), Head: []byte("h")}, last}}
	}
	long := strings.Repeat("x", MaxName+1)
	tests := []struct {
		turn Turn
		want error
	}{
		{full(Write{Stream: "b", Entries: lines("late")}, "c"), ErrMoved},
		{full(Write{Stream: "", Entries: lines("late")}, "c"), ErrName},
		{full(Write{Stream: long}, "c"), ErrName},
		{full(Write{Stream: "z"}, long), ErrName},
		{full(Write{Stream: "a", After: 1}, "c"), nil},
		{Turn{Outbox: []Parcel{{Body: []byte("to nobody")}}}, ErrName},
		{Turn{Update: long}, ErrName},
	}
	for i, tt := range tests {
		_, err := s.Commit(tt.turn)
		if err == nil || tt.want != nil && !errors.Is(err, tt.want) {
			t.Errorf("%d: got %v, want %v", i, err, tt.want)
		}
	}
	if _, last, _ := s.Head("a"); last != 0 {
		t.Error("stream a was written")
	}
	if due, _ := s.Due(noon, 9, nil); len(due) != 0 {
		t.Errorf("parcels were queued: %v", due)
	}
	if _, ok, _ := s.Next("c"); !ok {
		t.Error("the update no longer waits")
	}
	numbers, err := s.Commit(Turn{})
	if numbers != nil || err != nil {
		t.Errorf("a turn of nothing: %v, %v", numbers, err)
	}
}

// Of writers that race for one stream, each entry number has one winner.
func TestCommitRace(t *testing.T) {
	s := fresh(t, Options{})
	const writers, rounds = 8, 20
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for won := 0; won < rounds; {
				_, last, err := s.Head("s")
				if err != nil {
					t.Error(err)
					return
				}
				n, err := s.Commit(Turn{Update: fmt.Sprint(w, "/", won),
					Writes: []Write{{Stream: "s", After: last, Entries: lines(fmt.Sprint(w, "/", won))}}})
				switch {
				case err == nil && n[0] == last+1:
					won++
				case !errors.Is(err, ErrMoved):
					t.Errorf("got %v, %v", n, err)
					return
				}
			}
		})
	}
	wg.Wait()
	got := contents(t, s, "s", 0)
	slices.Sort(got)
	if len(slices.Compact(got)) != writers*rounds {
		t.Errorf("%d different entries, want %d", len(got), writers*rounds)
	}
}

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
