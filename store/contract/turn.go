package contract

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"linetender/store"
)

func testCommitWholeTurn(t *testing.T, h Harness) {
	s := h.open(t, nil)
	accept1(t, s, "k1", "east", "hello")
	numbers, err := s.Commit(store.Turn{Update: "k1", Chat: "east",
		Writes: []store.Write{
			{Stream: "session/1", Entries: lines("heard", "asked"), Head: []byte("asking")},
			{Stream: "chat/east", Entries: lines("in session 1")},
		},
		Outbox: []store.Parcel{{Body: []byte("what does it weigh?")}, {Chat: "west", Body: []byte("east has begun")}},
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

func testCommitComparesRevision(t *testing.T, h Harness) {
	s := h.open(t, nil)
	commit := func(after uint64, entries ...string) error {
		_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "s", After: after, Entries: lines(entries...)}}})
		return err
	}
	must(t, commit(0, "a", "b"))
	for _, after := range []uint64{0, 1, 3, 1 << 63} {
		err := commit(after, "late")
		wantErr(t, err, store.ErrMoved)
		var moved interface{ Moved() bool }
		if !errors.As(err, &moved) || !moved.Moved() {
			t.Errorf("%v is not known by its behaviour", err)
		}
	}
	must(t, commit(2))
	wantErr(t, commit(1), store.ErrMoved)
	must(t, commit(2, "c"))
	if got := contents(t, s, "s", 0); !slices.Equal(got, []string{"a", "b", "c"}) {
		t.Errorf("stream has %q", got)
	}
}

func testCommitOncePerUpdate(t *testing.T, h Harness) {
	s := h.open(t, nil)
	for _, key := range []string{"came in", "never came in"} {
		if key == "came in" {
			accept1(t, s, key, "c", "")
		}
		turn := store.Turn{Update: key, Writes: []store.Write{{Stream: key, Entries: lines("x")}}}
		_, err := s.Commit(turn)
		must(t, err)
		for _, after := range []uint64{0, 1} {
			turn.Writes[0].After = after
			_, err = s.Commit(turn)
			wantErr(t, err, store.ErrDone)
			if errors.Is(err, store.ErrMoved) {
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
func testCommitRefusedLeavesNothing(t *testing.T, h Harness) {
	s := h.open(t, nil)
	accept1(t, s, "k", "c", "")
	_, err := s.Commit(store.Turn{Writes: []store.Write{{Stream: "b", Entries: lines("1")}}})
	must(t, err)
	full := func(last store.Write, chat string) store.Turn {
		return store.Turn{Update: "k", Chat: "c", Outbox: []store.Parcel{{Body: []byte("x")}, {Chat: chat}},
			Writes: []store.Write{{Stream: "a", Entries: lines("1"), Head: []byte("h")}, last}}
	}
	long := strings.Repeat("x", store.MaxName+1)
	tests := []struct {
		turn store.Turn
		want error
	}{
		{full(store.Write{Stream: "b", Entries: lines("late")}, "c"), store.ErrMoved},
		{full(store.Write{Stream: "", Entries: lines("late")}, "c"), store.ErrName},
		{full(store.Write{Stream: long}, "c"), store.ErrName},
		{full(store.Write{Stream: "z"}, long), store.ErrName},
		{full(store.Write{Stream: "a", After: 1}, "c"), nil},
		{store.Turn{Outbox: []store.Parcel{{Body: []byte("to nobody")}}}, store.ErrName},
		{store.Turn{Update: long}, store.ErrName},
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
	numbers, err := s.Commit(store.Turn{})
	if numbers != nil || err != nil {
		t.Errorf("a turn of nothing: %v, %v", numbers, err)
	}
}

// Of writers that race for one stream, each entry number has one winner.
func testCommitRace(t *testing.T, h Harness) {
	s := h.open(t, nil)
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
				n, err := s.Commit(store.Turn{Update: fmt.Sprint(w, "/", won),
					Writes: []store.Write{{Stream: "s", After: last, Entries: lines(fmt.Sprint(w, "/", won))}}})
				switch {
				case err == nil && n[0] == last+1:
					won++
				case !errors.Is(err, store.ErrMoved):
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

// Of those that race to do one update, one does it.
func testCommitSameUpdateRace(t *testing.T, h Harness) {
	s := h.open(t, nil)
	for round := range 10 {
		key := fmt.Sprint("k", round)
		accept1(t, s, key, "c", "x")
		var won atomic.Int32
		var wg sync.WaitGroup
		for w := range 8 {
			wg.Go(func() {
				_, err := s.Commit(store.Turn{Update: key, Chat: "c", Writes: []store.Write{{Stream: fmt.Sprint("s", w), After: 0, Head: []byte(key)}},
					Outbox: []store.Parcel{{Body: []byte(key)}}})
				if err == nil {
					won.Add(1)
				} else if !errors.Is(err, store.ErrDone) {
					t.Error(err)
				}
			})
		}
		wg.Wait()
		if won.Load() != 1 {
			t.Errorf("%d of 8 did it, want 1", won.Load())
		}
		same(t, dueBodies(t, s, noon, 9), key)
		must(t, s.Sent(idOf(t, s, "c"), "", nil))
	}
}

func testStatsCount(t *testing.T, h Harness) {
	s := h.open(t, nil)
	accept1(t, s, "k1", "east", "1")
	must(t, s.Accept("test", 0, []store.Arrival{{Key: "k2", Chat: "east", At: noon.Add(time.Minute)}, {Key: "k3", Chat: "west", At: noon}}))
	must(t, s.Bury("k3", "why"))
	_, err := s.Commit(store.Turn{Chat: "north", Writes: []store.Write{{Stream: "s", Entries: lines("x")}},
		Outbox: []store.Parcel{{Body: []byte("1")}, {Body: []byte("2"), Urgent: true}, {Chat: "west"}}})
	must(t, err)
	n, err := s.Stats()
	must(t, err)
	if n.Streams != 1 || n.Waiting != 2 || n.WaitingChats != 1 || !n.OldestWaiting.Equal(noon) || n.Unsent != 3 || n.UnsentUrgent != 1 || n.UnsentChats != 2 || n.Dead != 1 {
		t.Errorf("counts %+v", n)
	}
}

// After its end, a store refuses everything.
func testClosed(t *testing.T, h Harness) {
	s := h.open(t, nil)
	must(t, s.Close())
	_, err := s.Commit(store.Turn{Chat: "c", Outbox: []store.Parcel{{Body: []byte("x")}}})
	wantErr(t, err, store.ErrClosed)
	_, _, err = s.Head("s")
	wantErr(t, err, store.ErrClosed)
	_, err = s.Chats()
	wantErr(t, err, store.ErrClosed)
	_, err = s.Due(noon, 1, nil)
	wantErr(t, err, store.ErrClosed)
}
