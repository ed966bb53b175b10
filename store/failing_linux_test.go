package store

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"syscall"
	"testing"
	"unsafe"
)

// A failingDisk lies under an open store and fails one call of a transaction.
// bbolt lets nobody put a file of his own under it, so the layer takes the
// places that bbolt writes through; what it fails to sync it is given a pipe
// for, which can't be synced.
type failingDisk struct {
	write  *func([]byte, int64) (int, error)
	file   **os.File
	real   *os.File
	pipe   *os.File
	writes int // calls so far
	at     int // the write that fails, from 1; 0 none
	how    string
	sync   int // the write after which nothing can be synced, from 1; 0 none
}

// The ways a write fails. In the last the disk has it and says otherwise.
var failures = []string{"nothing is written", "half is written", "all is written"}

func failDisk(t *testing.T, s *Store) *failingDisk {
	t.Helper()
	field := func(of reflect.Value, name string) unsafe.Pointer {
		f := of.FieldByName(name)
		if !f.IsValid() {
			t.Fatalf("bbolt has no %s any more: this test must be rewritten", name)
		}
		return unsafe.Pointer(f.UnsafeAddr())
	}
	db := reflect.ValueOf(s.db).Elem()
	d := &failingDisk{
		write: (*func([]byte, int64) (int, error))(field(db.FieldByName("ops"), "writeAt")),
		file:  (**os.File)(field(db, "file")),
	}
	d.real = *d.file
	r, w, err := os.Pipe()
	must(t, err)
	t.Cleanup(func() { r.Close(); w.Close() })
	d.pipe = w
	through := *d.write
	*d.write = func(b []byte, off int64) (int, error) {
		d.writes++
		if d.writes == d.sync {
			*d.file = d.pipe
		}
		if d.writes != d.at {
			return through(b, off)
		}
		n := map[string]int{failures[1]: len(b) / 2, failures[2]: len(b)}[d.how]
		if n, err := through(b[:n], off); err != nil {
			return n, err
		}
		return n, syscall.EIO
	}
	return d
}

// mend lets the store close its own file again.
func (d *failingDisk) mend() { *d.file = d.real }

// TestEveryWriteFails fails every write and every sync that an arrival and a
// turn make, one at a time and in every way. The caller is told, nothing more
// is taken from it until the store is opened anew, and there the change is
// wholly made or not at all; then the same change goes through and has one
// effect.
func TestEveryWriteFails(t *testing.T) {
	dir := t.TempDir()
	s := reopen(t, dir, Options{})
	for i := range 60 {
		key, chat := powerArrive(t, s, i)
		powerCommit(t, s, i, key, chat)
	}
	image := fileOf(t, s)
	accept1(t, s, "k60", "c0", "body")
	arrived := fileOf(t, s)
	_, last, err := s.Head("c0")
	must(t, err)

	turn := Turn{Update: "k60", Chat: "c0", Outbox: []Parcel{{Body: []byte("k60"), Urgent: true}},
		Writes: []Write{{Stream: "c0", After: last, Entries: [][]byte{[]byte("one"), []byte("two")}, Head: []byte("k60")}}}
	large := turn
	large.Writes = []Write{{Stream: "c0", After: last, Entries: [][]byte{bytes.Repeat([]byte("x"), 3<<20)}, Head: []byte("k60")}}
	commit := func(turn Turn) func(*Store) error {
		return func(s *Store) error {
			_, err := s.Commit(turn)
			if errors.Is(err, ErrDone) {
				return nil
			}
			return err
		}
	}
	failed := 0
	for _, change := range []struct {
		name string
		from []byte
		do   func(*Store) error
		grow bool
	}{
		{"an arrival", image, func(s *Store) error {
			return s.Accept("telegram", 61, []Arrival{{Key: "k60", Chat: "c0", At: noon, Body: []byte("body")}})
		}, false},
		{"a turn", arrived, commit(turn), false},
		{"a turn for which the file grows", arrived, commit(large), true},
	} {
		was := stateOf(t, change.from)
		var is string
		writes := 0
		tryFailing(t, change.from, func(s *Store, d *failingDisk) {
			must(t, change.do(s))
			is, writes = powerState(t, s), d.writes
		})
		if was == is || writes < 4 {
			t.Fatalf("%s changes nothing, or in %d writes", change.name, writes)
		}
		once := func(what string, fail func(*failingDisk)) {
			t.Helper()
			failed++
			dir := tryFailing(t, change.from, func(s *Store, d *failingDisk) {
				fail(d)
				if err := change.do(s); !errors.Is(err, ErrFailed) {
					t.Errorf("%s, %s: got %v, want ErrFailed", change.name, what, err)
				}
				d.at, d.sync = 0, 0
				d.mend()
				if err := change.do(s); !errors.Is(err, ErrFailed) {
					t.Errorf("%s, %s: taken again without a look at the file: %v", change.name, what, err)
				}
			})
			s, err := Open(dir, Options{Now: (&hands{noon}).now})
			must(t, err)
			defer shut(t, s)
			must(t, s.Check())
			if got := powerState(t, s); got != was && got != is {
				t.Errorf("%s, %s: the store is neither as before nor as after", change.name, what)
			}
			must(t, change.do(s))
			if got := powerState(t, s); got != is {
				t.Errorf("%s, %s: tried again the store is otherwise than after one:\n%s\nwant\n%s", change.name, what, got, is)
			}
		}
		for n := 1; n <= writes; n++ {
			for _, how := range failures {
				once(how, func(d *failingDisk) { d.at, d.how = n, how })
			}
		}
		once("the pages can't be synced", func(d *failingDisk) { d.sync = writes - 1 })
		once("the root can't be synced", func(d *failingDisk) { d.sync = writes })
		if change.grow {
			once("the file can't grow", func(d *failingDisk) { *d.file = d.pipe })
		}
	}
	t.Logf("%d failures", failed)
}

// tryFailing opens a store of its own with a file's content over a disk that
// can fail, and returns its folder.
func tryFailing(t *testing.T, image []byte, do func(*Store, *failingDisk)) (dir string) {
	t.Helper()
	dir = t.TempDir()
	must(t, os.WriteFile(filepath.Join(dir, FileName), image, 0o600))
	s, err := Open(dir, Options{Now: (&hands{noon}).now})
	must(t, err)
	d := failDisk(t, s)
	do(s, d)
	d.mend()
	if err := s.Close(); err != nil && !errors.Is(err, ErrFailed) {
		t.Errorf("close: %v", err)
	}
	return dir
}

func fileOf(t *testing.T, s *Store) []byte {
	t.Helper()
	b, err := os.ReadFile(s.Path())
	must(t, err)
	return b
}
