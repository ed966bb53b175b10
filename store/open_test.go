package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"linetender/store/internal/record"
)

func TestOpenMakesPrivateFolderAndFile(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	s := reopen(t, dir, Options{})
	for path, want := range map[string]fs.FileMode{dir: 0o700, s.Path(): 0o600} {
		info, err := os.Stat(path)
		must(t, err)
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has mode %o, want %o", path, got, want)
		}
	}
	names, err := os.ReadDir(dir)
	must(t, err)
	if len(names) != 1 {
		t.Errorf("%d files are left in the folder, want the store alone: %v", len(names), names)
	}
}

func TestOpenClearsAwayHalfMadeStore(t *testing.T) {
	dir := t.TempDir()
	stale := filepath.Join(dir, ".new-123.db")
	must(t, os.WriteFile(stale, []byte("half"), 0o600))
	reopen(t, dir, Options{})
	if _, err := os.Stat(stale); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the file of a process that died while making a store is still there: %v", err)
	}
}

// Many openers on an empty folder: one wins, the others are told it is locked, and
// what the winner writes is in the one file there is.
func TestOpenAtOnceOnEmptyFolder(t *testing.T) {
	for range 5 {
		dir := t.TempDir()
		var mu sync.Mutex
		var open []*Store
		var wg sync.WaitGroup
		for range 8 {
			wg.Go(func() {
				s, err := Open(dir, Options{Timeout: time.Millisecond})
				if err != nil {
					if !errors.Is(err, ErrLocked) {
						t.Errorf("got %v, want ErrLocked", err)
					}
					return
				}
				mu.Lock()
				defer mu.Unlock()
				open = append(open, s)
			})
		}
		wg.Wait()
		if len(open) != 1 {
			t.Fatalf("%d have the store open, want 1", len(open))
		}
		must(t, open[0].SetSecret("who", []byte("winner")))
		must(t, open[0].Close())
		s := reopen(t, dir, Options{})
		if v, err := s.Secret("who", nil); string(v) != "winner" {
			t.Fatalf("got %q, %v: the winner wrote to a file that was replaced", v, err)
		}
	}
}

func TestOpenLockedByAnotherProcess(t *testing.T) {
	dir := t.TempDir()
	cmd := child(t, "holder", dir)
	in, err := cmd.StdinPipe()
	must(t, err)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	if got := firstLine(t, out); got != "open\n" {
		t.Fatalf("holder said %q", got)
	}
	for _, o := range []Options{{Timeout: 60 * time.Millisecond}, {}, {ReadOnly: true}} {
		_, err = Open(dir, o)
		wantErr(t, err, ErrLocked)
	}
	wantErr(t, Compact(dir, Options{}), ErrLocked)
	must(t, in.Close())
	must(t, cmd.Wait())
	reopen(t, dir, Options{})
}

// Each way a file can be wrong has its own error, leaves the file as it is, and
// lets go of the lock.
func TestOpenRefuses(t *testing.T) {
	tests := []struct {
		name   string
		damage func(t *testing.T, path string)
		want   error
	}{
		{"empty", func(t *testing.T, p string) { must(t, os.Truncate(p, 0)) }, ErrCorrupt},
		{"one byte", func(t *testing.T, p string) { must(t, os.Truncate(p, 1)) }, ErrCorrupt},
		{"metas only", func(t *testing.T, p string) { must(t, os.Truncate(p, 2*4096)) }, ErrCorrupt},
		{"three pages", func(t *testing.T, p string) { must(t, os.Truncate(p, 3*4096)) }, ErrCorrupt},
		{"cut in the middle", func(t *testing.T, p string) {
			info, err := os.Stat(p)
			must(t, err)
			must(t, os.Truncate(p, info.Size()/2))
		}, ErrCorrupt},
		{"last page used gone", func(t *testing.T, p string) { must(t, os.Truncate(p, usedSize(t, p)-1)) }, ErrCorrupt},
		{"noise", func(t *testing.T, p string) {
			must(t, os.WriteFile(p, []byte(strings.Repeat("not a store ", 5000)), 0o600))
		}, ErrCorrupt},
		{"both root pages flipped", func(t *testing.T, p string) { flip(t, p, 16+40); flip(t, p, 4096+16+40) }, ErrCorrupt},
		{"folder", func(t *testing.T, p string) { must(t, os.Remove(p)); must(t, os.Mkdir(p, 0o700)) }, ErrFormat},
		{"other bbolt file", func(t *testing.T, p string) {
			must(t, os.Remove(p))
			db, err := bbolt.Open(p, 0o600, nil)
			must(t, err)
			must(t, db.Close())
		}, ErrFormat},
		{"newer format", func(t *testing.T, p string) { setFormat(t, p, record.Number(format+1)) }, ErrFormat},
		{"older format", func(t *testing.T, p string) { setFormat(t, p, record.Number(format-1)) }, ErrFormat},
		{"longer format", func(t *testing.T, p string) { setFormat(t, p, append(record.Number(format), 0)) }, ErrFormat},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			s := reopen(t, dir, Options{})
			s.db.NoSync = true // it is closed in order before it is damaged
			for i := range 300 {
				_, err := s.Commit(Turn{Writes: []Write{{Stream: fmt.Sprint("s", i), Entries: lines(strings.Repeat("x", 400))}}})
				must(t, err)
			}
			must(t, s.Close())
			path := filepath.Join(dir, FileName)
			tt.damage(t, path)
			before, _ := os.ReadFile(path)
			for _, o := range []Options{{}, {ReadOnly: true}, {}} {
				_, err := Open(dir, o)
				wantErr(t, err, tt.want)
			}
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("a refused file was changed")
			}
		})
	}
}

// usedSize is the size up to the last page in use.
func usedSize(t *testing.T, path string) int64 {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{ReadOnly: true, Timeout: time.Second})
	must(t, err)
	defer db.Close()
	var size int64
	must(t, db.View(func(tx *bbolt.Tx) error { size = tx.Size(); return nil }))
	return size
}

func flip(t testing.TB, path string, at int64) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	must(t, err)
	var b [1]byte
	_, err = f.ReadAt(b[:], at)
	must(t, err)
	b[0] ^= 0x10
	_, err = f.WriteAt(b[:], at)
	must(t, errors.Join(err, f.Close()))
}

func setFormat(t *testing.T, path string, v []byte) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, nil)
	must(t, err)
	must(t, db.Update(func(tx *bbolt.Tx) error { return put(tx.Bucket(bMeta), []byte(formatKey), v) }))
	must(t, db.Close())
}

func TestReadOnly(t *testing.T) {
	dir := t.TempDir()
	_, err := Open(dir, Options{ReadOnly: true})
	wantErr(t, err, ErrMissing)
	s := reopen(t, dir, Options{})
	_, err = s.Commit(Turn{Writes: []Write{{Stream: "s", Entries: lines("a")}}})
	must(t, err)
	must(t, s.Close())

	must(t, os.Chmod(s.Path(), 0o400))
	a := reopen(t, dir, Options{ReadOnly: true})
	b := reopen(t, dir, Options{ReadOnly: true})
	for _, s := range []*Store{a, b} {
		if got := contents(t, s, "s", 0); len(got) != 1 || got[0] != "a" {
			t.Errorf("got %q, want the one entry", got)
		}
		wantErr(t, s.Accept("test", 1, nil), ErrReadOnly)
	}
}

func TestClosed(t *testing.T) {
	s := fresh(t, Options{})
	must(t, s.Close())
	_, err := s.Commit(Turn{Writes: []Write{{Stream: "s", Entries: lines("a")}}})
	wantErr(t, err, ErrClosed)
	_, err = s.Chats()
	wantErr(t, err, ErrClosed)
	must(t, s.Close())
}

// What the system says comes out in the store's words, with the cause kept.
func TestPlain(t *testing.T) {
	tests := []struct{ cause, want error }{
		{&fs.PathError{Op: "open", Path: "x", Err: syscall.EACCES}, ErrReadOnly},
		{&fs.PathError{Op: "open", Path: "x", Err: syscall.EROFS}, ErrReadOnly},
		{&fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}, ErrFull},
		{&fs.PathError{Op: "write", Path: "x", Err: syscall.EDQUOT}, ErrFull},
		{fmt.Errorf("file resize error: %s", syscall.ENOSPC), ErrFull},
		{bolterrors.ErrMaxSizeReached, ErrFull},
		{bolterrors.ErrTimeout, ErrLocked},
		{bolterrors.ErrInvalid, ErrCorrupt},
		{bolterrors.ErrDatabaseNotOpen, ErrClosed},
	}
	for _, tt := range tests {
		got := plain("somewhere", tt.cause)
		wantErr(t, got, tt.want)
		if !strings.HasPrefix(got.Error(), "somewhere: ") {
			t.Errorf("%q does not say which file", got)
		}
	}
	other := errors.New("other")
	if got := plain("somewhere", other); got != other {
		t.Errorf("got %v, want an unknown error as it is", got)
	}
}
