package store

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestAcceptKeepsOrderAndSkipsRepeats(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now})
	must(t, s.Accept("a", 11, []Arrival{arrival("k1", "east", "1"), arrival("k2", "west", "2"), arrival("k1", "east", "again")}))
	must(t, s.Accept("a", 0, []Arrival{arrival("k2", "west", "again"), arrival("k3", "east", "3")}))

	chats, err := s.Chats()
	must(t, err)
	if want := []string{"east", "west"}; !slices.Equal(chats, want) {
		t.Errorf("chats %q, want %q", chats, want)
	}
	next, ok, err := s.Next("east")
	must(t, err)
	if !ok || next.Key != "k1" || string(next.Body) != "1" || next.Chat != "east" || !next.At.Equal(noon) {
		t.Errorf("next of east is %+v, %v", next, ok)
	}
	_, err = s.Commit(Turn{Update: "k1"})
	must(t, err)
	must(t, s.Accept("a", 0, []Arrival{arrival("k1", "east", "after it was done")}))
	if next, _, _ = s.Next("east"); next.Key != "k3" {
		t.Errorf("next of east is %q, want k3", next.Key)
	}
	if chats, _ = s.Chats(); !slices.Equal(chats, []string{"west", "east"}) {
		t.Errorf("chats %q: west has waited longest now", chats)
	}
	if _, ok, err := s.Next("north"); ok || err != nil {
		t.Errorf("a chat with nothing waiting: %v, %v", ok, err)
	}
	cursor, at, err := s.Cursor("a")
	must(t, err)
	if cursor != 11 || !at.Equal(noon) {
		t.Errorf("cursor %d at %v, want 11 at %v: 0 leaves it", cursor, at, noon)
	}
}

func TestCursorMayGoBack(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now})
	cursor, at, err := s.Cursor("a")
	must(t, err)
	if cursor != 0 || !at.IsZero() {
		t.Errorf("cursor of an unknown source is %d at %v", cursor, at)
	}
	for _, want := range []int64{900, 7, -3} {
		clock.t = clock.t.Add(time.Hour)
		must(t, s.Accept("a", want, nil))
		if cursor, at, err = s.Cursor("a"); err != nil || cursor != want || !at.Equal(clock.t) {
			t.Errorf("cursor %d at %v, %v; want %d at %v", cursor, at, err, want, clock.t)
		}
	}
	if cursor, _, _ = s.Cursor("b"); cursor != 0 {
		t.Errorf("source b has the cursor of a")
	}
}

func TestAcceptRefusesNames(t *testing.T) {
	s := fresh(t, Options{})
	long := strings.Repeat("n", MaxName+1)
	for _, a := range []Arrival{arrival("", "c", ""), arrival("k", "", ""), arrival(long, "c", ""), arrival("k", long, "")} {
		wantErr(t, s.Accept("a", 5, []Arrival{arrival("fine", "c", ""), a}), ErrName)
	}
	wantErr(t, s.Accept("", 5, nil), ErrName)
	if chats, _ := s.Chats(); len(chats) != 0 {
		t.Errorf("part of a refused batch was kept: %q", chats)
	}
	if c, _, _ := s.Cursor("a"); c != 0 {
		t.Error("the cursor of a refused batch was set")
	}
	longest := long[:MaxName]
	must(t, s.Accept(longest, 1, []Arrival{arrival(longest, longest, "")}))
	if a, ok, err := s.Next(longest); !ok || err != nil || a.Key != longest {
		t.Errorf("the longest name does not come back: %v, %v", ok, err)
	}
}

// Names that are the beginning of one another, or hold zero bytes, stay apart.
func TestNamesStayApart(t *testing.T) {
	s := fresh(t, Options{})
	names := []string{"a", "a\x00", "a\x00\x00", "aa", "\x00", "\xff", "\xff\xff", "1", "10", strings.Repeat("a", 256)}
	for i, n := range names {
		accept1(t, s, n, n, fmt.Sprint(i))
		_, err := s.Commit(Turn{Chat: n, Writes: []Write{{Stream: n, Entries: lines(fmt.Sprint(i))}}, Outbox: []Parcel{{Body: []byte(n)}}})
		must(t, err)
	}
	for i, n := range names {
		if a, _, _ := s.Next(n); string(a.Body) != fmt.Sprint(i) {
			t.Errorf("chat %q has %q", n, a.Body)
		}
		if got := contents(t, s, n, 0); len(got) != 1 || got[0] != fmt.Sprint(i) {
			t.Errorf("stream %q has %q", n, got)
		}
	}
	if chats, err := s.Chats(); err != nil || !slices.Equal(chats, names) {
		t.Errorf("chats %q, %v", chats, err)
	}
	if due, err := s.Due(noon, 100, nil); err != nil || len(due) != len(names) {
		t.Errorf("%d due, %v, want one a chat", len(due), err)
	}
}

func TestBury(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now})
	accept1(t, s, "k1", "east", "poison")
	accept1(t, s, "k2", "east", "fine")
	must(t, s.Bury("k1", "panicked three times"))
	if a, _, _ := s.Next("east"); a.Key != "k2" {
		t.Errorf("next is %q: the buried one is still in the way", a.Key)
	}
	wantErr(t, s.Bury("k1", "again"), ErrDone)
	wantErr(t, s.Bury("k9", "never came"), ErrUnknown)
	_, err := s.Commit(Turn{Update: "k1"})
	wantErr(t, err, ErrDone)
	accept1(t, s, "k1", "east", "redelivered")
	if a, _, _ := s.Next("east"); a.Key != "k2" {
		t.Errorf("a buried update came back")
	}
	var got []Dead
	must(t, s.Dead(0, func(_ uint64, d Dead) error { got = append(got, d); return nil }))
	if len(got) != 1 || got[0].Kind != DeadUpdate || got[0].Key != "k1" || got[0].Chat != "east" ||
		got[0].Why != "panicked three times" || string(got[0].Body) != "poison" || !got[0].At.Equal(noon) {
		t.Errorf("the dead are %+v", got)
	}
}

// doneCount is the number of updates that a repeat of would be refused.
func doneCount(t *testing.T, s *Store, keys int) int {
	t.Helper()
	n := 0
	for i := range keys {
		before, _ := s.Stats()
		accept1(t, s, fmt.Sprint("k", i), "probe", "")
		if after, _ := s.Stats(); after.Waiting == before.Waiting {
			n++
		}
	}
	return n
}

func finish(t *testing.T, s *Store, from, to int) {
	t.Helper()
	for i := from; i < to; i++ {
		_, err := s.Commit(Turn{Update: fmt.Sprint("k", i)})
		must(t, err)
	}
}

func TestDoneMarksArePrunedByAge(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now, Keep: time.Hour})
	s.least = 5
	finish(t, s, 0, 40)
	clock.t = clock.t.Add(time.Hour - 1)
	finish(t, s, 40, 50)
	if st, _ := s.Stats(); st.Marks != 50 {
		t.Fatalf("%d marks before any is old enough, want 50", st.Marks)
	}
	clock.t = clock.t.Add(1)
	finish(t, s, 50, 60)
	if st, _ := s.Stats(); st.Marks != 40 {
		t.Errorf("%d marks, want 40: each new one lets two old ones go", st.Marks)
	}
	finish(t, s, 60, 100)
	if st, _ := s.Stats(); st.Marks != 60 {
		t.Errorf("%d marks, want the 60 that are not old enough", st.Marks)
	}
	if got := doneCount(t, s, 100); got != 60 {
		t.Errorf("%d updates are refused a second time, want 60", got)
	}
}

// A clock that leaps a year ahead must not open the door to repeats, nor one that
// falls back keep marks in disorder.
func TestDoneMarksOutliveClockSteps(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now, Keep: time.Hour})
	s.least = 8
	finish(t, s, 0, 20)
	clock.t = clock.t.AddDate(1, 0, 0)
	finish(t, s, 20, 40)
	if st, _ := s.Stats(); st.Marks != 20 {
		t.Errorf("%d marks after a leap, want 20 new ones", st.Marks)
	}
	clock.t = clock.t.AddDate(1, 0, 0)
	finish(t, s, 40, 41)
	clock.t = noon
	finish(t, s, 41, 60)
	clock.t = noon.AddDate(9, 0, 0)
	finish(t, s, 60, 120)
	st, err := s.Stats()
	must(t, err)
	if st.Marks < 8 {
		t.Errorf("%d marks, want never fewer than the latest 8", st.Marks)
	}
	// The key that was done last is refused whatever the clock did.
	clock.t = clock.t.AddDate(50, 0, 0)
	_, err = s.Commit(Turn{Update: "k119"})
	wantErr(t, err, ErrDone)
}
