package store

import (
	"fmt"
	"testing"
	"time"
)

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
