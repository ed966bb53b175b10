package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"testing"
	"time"
)

// TestMain lets the test binary play another process: see child.
func TestMain(m *testing.M) {
	switch os.Getenv("STORE_TEST_ROLE") {
	case "":
		os.Exit(m.Run())
	case "holder":
		holdOpen(os.Getenv("STORE_TEST_DIR"))
	case "worker":
		workUntilKilled(os.Getenv("STORE_TEST_DIR"))
	}
}

// child is the command that runs this test binary in another role on dir.
func child(t testing.TB, role, dir string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), "STORE_TEST_ROLE="+role, "STORE_TEST_DIR="+dir)
	cmd.Stderr = os.Stderr
	return cmd
}

// holdOpen keeps the store open until standard input ends.
func holdOpen(dir string) {
	if _, err := Open(dir, Options{}); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	fmt.Println("open")
	_, _ = io.Copy(io.Discard, os.Stdin)
	os.Exit(0)
}

// fresh opens a store in a folder of its own; at the end of the test it must pass
// its check.
func fresh(t testing.TB, o Options) *Store {
	t.Helper()
	return reopen(t, t.TempDir(), o)
}

func reopen(t testing.TB, dir string, o Options) *Store {
	t.Helper()
	s, err := Open(dir, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { shut(t, s) })
	return s
}

// shut checks and closes; a store closed before is left alone.
func shut(t testing.TB, s *Store) {
	t.Helper()
	if err := s.Check(); errors.Is(err, ErrClosed) {
		return
	} else if err != nil {
		t.Errorf("check at the end: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("close: %v", err)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// wantErr fails unless err is want.
func wantErr(t testing.TB, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Fatalf("got error %v, want %v", err, want)
	}
}

var noon = time.Date(2026, 11, 25, 12, 0, 0, 5, time.UTC)

// hands is a clock moved by hand.
type hands struct{ t time.Time }

func (h *hands) now() time.Time { return h.t }

func arrival(key, chat, body string) Arrival {
	return Arrival{Key: key, Chat: chat, At: noon, Body: []byte(body)}
}

func accept1(t testing.TB, s *Store, key, chat, body string) {
	t.Helper()
	must(t, s.Accept("test", 0, []Arrival{arrival(key, chat, body)}))
}

func lines(entries ...string) [][]byte {
	var b [][]byte
	for _, e := range entries {
		b = append(b, []byte(e))
	}
	return b
}

// contents returns the entries of a stream after number after.
func contents(t testing.TB, s *Store, stream string, after uint64) []string {
	t.Helper()
	var got []string
	must(t, s.Replay(stream, after, func(n uint64, entry []byte) error {
		if after++; n != after {
			t.Fatalf("stream %q: entry %d where %d was due", stream, n, after)
		}
		got = append(got, string(entry))
		return nil
	}))
	return got
}

func queueUp(t testing.TB, s *Store, parcels ...Parcel) {
	t.Helper()
	_, err := s.Commit(Turn{Outbox: parcels})
	must(t, err)
}

func plainParcel(chat, body string) Parcel { return Parcel{Chat: chat, Body: []byte(body)} }
func urgentParcel(chat, body string) Parcel {
	return Parcel{Chat: chat, Urgent: true, Body: []byte(body)}
}

func idOf(t testing.TB, s *Store, chat string) uint64 {
	t.Helper()
	due, err := s.Due(noon.AddDate(9, 0, 0), 1000, nil)
	must(t, err)
	for _, d := range due {
		if d.Chat == chat {
			return d.ID
		}
	}
	t.Fatalf("nothing is due in chat %q", chat)
	return 0
}

func same(t testing.TB, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// list returns the names that Streams visits.
func list(t testing.TB, s *Store, prefix, from string, newestFirst bool) []string {
	t.Helper()
	var names []string
	must(t, s.Streams(prefix, from, newestFirst, func(name string, head []byte, last uint64, _ time.Time) error {
		if h, n, err := s.Head(name); err != nil || !bytes.Equal(h, head) || n != last {
			t.Errorf("stream %q is listed with %q, %d and has %q, %d (%v)", name, head, last, h, n, err)
		}
		names = append(names, name)
		return nil
	}))
	return names
}

// firstLine waits for the first line a child prints.
func firstLine(t testing.TB, out io.Reader) string {
	t.Helper()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("child said %q: %v", line, err)
	}
	return line
}

// campaign returns how many rounds a test runs that gets better with more:
// quick by itself, short in the guarding run, full when it is given an hour.
func campaign(quick, short, full int) int {
	switch os.Getenv("LINETENDER_LONG") {
	case "":
		return quick
	case "short":
		return short
	}
	return full
}
