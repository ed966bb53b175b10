package store

import (
	"os"
	"syscall"
	"testing"
)

// A disk that refuses a write once is not written to again until the store is
// reopened, reading goes on, and nothing is half there.
func TestFailedDisk(t *testing.T) {
	dir := t.TempDir()
	s := reopen(t, dir, Options{})
	_, err := s.Commit(Turn{Writes: []Write{{Stream: "s", Entries: lines("kept")}}})
	must(t, err)
	healthy := breakDisk(t, s)
	_, err = s.Commit(Turn{Update: "k", Writes: []Write{{Stream: "s", After: 1, Entries: lines("lost")}}})
	wantErr(t, err, ErrFailed)
	healthy()
	_, err = s.Commit(Turn{Writes: []Write{{Stream: "s", After: 1, Entries: lines("too soon")}}})
	wantErr(t, err, ErrFailed)
	same(t, contents(t, s, "s", 0), "kept")
	must(t, s.Close())
	s = reopen(t, dir, Options{})
	_, err = s.Commit(Turn{Update: "k", Writes: []Write{{Stream: "s", After: 1, Entries: lines("again")}}})
	must(t, err)
	same(t, contents(t, s, "s", 0), "kept", "again")
}

// breakDisk makes every write below s fail, as a disk that is gone does, by putting a
// descriptor that is only for reading in place of the store's; what it returns
// mends it.
func breakDisk(t *testing.T, s *Store) (mend func()) {
	t.Helper()
	fd := int(s.file.Fd())
	saved, err := syscall.Dup(fd)
	must(t, err)
	ro, err := os.Open(s.Path())
	must(t, err)
	must(t, syscall.Dup3(int(ro.Fd()), fd, syscall.O_CLOEXEC))
	must(t, ro.Close())
	return func() {
		must(t, syscall.Dup3(saved, fd, syscall.O_CLOEXEC))
		must(t, syscall.Close(saved))
	}
}
