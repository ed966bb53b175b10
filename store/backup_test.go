package store

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// Copies taken while turns are committed are sound, hold a beginning of what was
// committed, and hold all that was acknowledged before they began.
func TestBackupWhileServing(t *testing.T) {
	s := fresh(t, Options{})
	s.db.NoSync = true // the turns may be quick; the copy is what is looked at
	var wg sync.WaitGroup
	stop, more := make(chan struct{}), make(chan struct{})
	wg.Go(func() {
		for i := uint64(0); ; i++ {
			var tell chan struct{} // every 50 turns, that there are 50 more
			if i%50 == 0 {
				tell = more
			}
			select {
			case <-stop:
				return
			case tell <- struct{}{}:
			default:
			}
			key := fmt.Sprint("k", i)
			if err := s.Accept("src", int64(i+1), []Arrival{arrival(key, "c", "x")}); err != nil {
				t.Error(err)
			}
			if _, err := s.Commit(Turn{Update: key, Writes: []Write{{Stream: "s", After: i, Entries: lines(key)}}}); err != nil {
				t.Error(err)
			}
		}
	})
	for i := range 5 {
		<-more
		_, before, err := s.Head("s")
		must(t, err)
		dir := t.TempDir()
		path := filepath.Join(dir, FileName)
		must(t, s.Backup(path))
		wantErr(t, s.Backup(path), ErrExists)
		c := reopen(t, dir, Options{})
		got := contents(t, c, "s", 0)
		if uint64(len(got)) < before {
			t.Errorf("copy %d has %d entries, %d were acknowledged before it", i, len(got), before)
		}
		for j, e := range got {
			if e != fmt.Sprint("k", j) {
				t.Fatalf("copy %d: entry %d is %q", i, j, e)
			}
		}
	}
	close(stop)
	wg.Wait()
}

func TestBackupNeverReplaces(t *testing.T) {
	s := fresh(t, Options{})
	wantErr(t, s.Backup(s.Path()), ErrExists)
	dir := t.TempDir()
	for _, p := range []string{filepath.Join(dir, "file"), filepath.Join(dir, "link")} {
		if strings.HasSuffix(p, "link") {
			must(t, os.Symlink("nowhere", p))
		} else {
			must(t, os.WriteFile(p, []byte("older backup"), 0o600))
		}
		wantErr(t, s.Backup(p), ErrExists)
	}
	if b, _ := os.ReadFile(filepath.Join(dir, "file")); string(b) != "older backup" {
		t.Errorf("the file there is now %.20q", b)
	}
	if err := s.Backup(filepath.Join(dir, "no", "such", "folder")); err == nil {
		t.Error("a copy into no folder succeeded")
	}
	names, err := os.ReadDir(dir)
	must(t, err)
	if len(names) != 2 {
		t.Errorf("something was left behind: %v", names)
	}
}

func TestCompact(t *testing.T) {
	dir := t.TempDir()
	s := reopen(t, dir, Options{})
	s.db.NoSync = true
	secret := strings.Repeat("what nobody may read any more ", 100)
	for i := range 300 {
		_, err := s.Commit(Turn{Chat: "c", Writes: []Write{{Stream: fmt.Sprint("s", i), Entries: lines(secret)}}, Outbox: []Parcel{{Body: []byte("p")}}})
		must(t, err)
	}
	for i := range 299 {
		must(t, s.Erase(fmt.Sprint("s", i)))
	}
	must(t, s.Erase("s299"))
	_, err := s.Commit(Turn{Update: "k", Writes: []Write{{Stream: "t", Entries: lines("kept")}}})
	must(t, err)
	must(t, s.Close())
	before, err := os.ReadFile(s.Path())
	must(t, err)
	must(t, Compact(dir, Options{}))
	after, err := os.ReadFile(s.Path())
	must(t, err)
	if len(after)*2 > len(before) {
		t.Errorf("%d bytes became %d", len(before), len(after))
	}
	if !strings.Contains(string(before), secret) || strings.Contains(string(after), "nobody may read") {
		t.Error("what was erased is still in the file, or never was")
	}
	names, err := os.ReadDir(dir)
	must(t, err)
	if len(names) != 1 {
		t.Errorf("something was left behind: %v", names)
	}
	s = reopen(t, dir, Options{})
	same(t, contents(t, s, "t", 0), "kept")
	_, err = s.Commit(Turn{Update: "k"})
	wantErr(t, err, ErrDone)
	// Numbering goes on where it was: an id is never given twice.
	_, err = s.Commit(Turn{Chat: "d", Outbox: []Parcel{{Body: []byte("next")}}})
	must(t, err)
	if id := idOf(t, s, "d"); id != 301 {
		t.Errorf("the next parcel has id %d, want 301", id)
	}
}

func TestStats(t *testing.T) {
	s := fresh(t, Options{})
	if st, err := s.Stats(); err != nil || st.Streams != 0 || !st.OldestWaiting.IsZero() || st.Size == 0 {
		t.Errorf("an empty store: %+v, %v", st, err)
	}
	late := arrival("k1", "west", "")
	late.At = noon.AddDate(0, 0, 1)
	must(t, s.Accept("a", 1, []Arrival{late, arrival("k2", "east", ""), arrival("k3", "west", ""), arrival("k4", "x", "")}))
	must(t, s.Bury("k4", "why"))
	queueUp(t, s, plainParcel("a", "1"), urgentParcel("a", "2"), plainParcel("b", "3"))
	_, err := s.Commit(Turn{Update: "done", Writes: []Write{{Stream: "s", Entries: lines("x")}, {Stream: "t", Head: []byte("h")}}})
	must(t, err)
	st, err := s.Stats()
	must(t, err)
	st.Size, st.Free = 0, 0
	want := Stats{Streams: 2, Waiting: 3, WaitingChats: 2, OldestWaiting: late.At,
		Unsent: 3, UnsentUrgent: 1, UnsentChats: 2, Dead: 1, Marks: 2}
	if st != want {
		t.Errorf("got %+v, want %+v", st, want)
	}
}
