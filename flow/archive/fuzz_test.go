package archive_test

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/archive"
)

// shelf is a store in memory: the fuzzer makes thousands.
type shelf struct {
	names   []string // in order of change
	entries map[string][][]byte
	heads   map[string][]byte
}

func newShelf() *shelf {
	return &shelf{entries: map[string][][]byte{}, heads: map[string][]byte{}}
}

func (s *shelf) Commit(t flow.Turn) ([]uint64, error) {
	for _, w := range t.Writes {
		if w.After != uint64(len(s.entries[w.Stream])) || slices.Contains(s.names, w.Stream) {
			return nil, errors.New("moved")
		}
		s.names = append(s.names, w.Stream)
		s.entries[w.Stream], s.heads[w.Stream] = w.Entries, w.Head
	}
	return nil, nil
}

func (s *shelf) Head(name string) ([]byte, uint64, error) {
	return s.heads[name], uint64(len(s.entries[name])), nil
}

func (s *shelf) Replay(name string, after uint64, visit func(uint64, []byte) error) error {
	for i, e := range s.entries[name][after:] {
		if err := visit(after+uint64(i)+1, e); err != nil {
			return err
		}
	}
	return nil
}

func (s *shelf) Streams(prefix, _ string, _ bool, visit func(string, []byte, uint64, time.Time) error) error {
	for _, n := range s.names {
		if strings.HasPrefix(n, prefix) {
			if err := visit(n, s.heads[n], uint64(len(s.entries[n])), time.Time{}); err != nil {
				return err
			}
		}
	}
	return nil
}

// Whatever a file holds: each job that was taken in is whole, holds by its
// chain and its name, and goes out and in again as it is; nothing is taken
// twice, and a refused one leaves nothing behind.
func FuzzRead(f *testing.F) {
	file, err := os.ReadFile(golden)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(file)
	lines := bytes.SplitAfter(file, []byte("\n"))
	f.Add(bytes.Join(lines[:len(lines)/2], nil))
	for _, cut := range []int{1, 3, 7} {
		f.Add(bytes.Join(append(slices.Clone(lines[:cut]), lines[cut+1:]...), nil))
	}
	for _, seed := range []string{
		"{\"linetender_log\":1}\n{\"streams\":0,\"entries\":0}\n",
		"{\"linetender_log\":1}\n{\"stream\":\"job/a-01\",\"n\":1,\"entry64\":\"AA==\"}\n{\"stream\":\"job/a-01\",\"entries\":1,\"head64\":\"AA==\"}\n{\"streams\":1,\"entries\":1}\n",
		"{\"linetender_log\":1}\n{\"stream\":\"door/front\",\"n\":1,\"entry\":{\"v\":1,\"do\":\"made\"}}\n{\"stream\":\"door/front\",\"entries\":1}\n{\"streams\":1,\"entries\":1}\n",
		"{\"linetender_log\":1}\n{\"stream\":\"job/a-01\",\"entries\":18446744073709551615}\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		s := newShelf()
		taken, refused, err := read(s, file, true)
		if taken.New.Streams != uint64(len(s.names)) || taken.Refused != uint64(len(refused)) {
			t.Fatalf("%+v, and %d are there, %d refused", taken, len(s.names), len(refused))
		}
		for name, entries := range s.entries {
			if !strings.HasPrefix(name, "job/") {
				continue
			}
			h, err := flow.DecodeHead(s.heads[name])
			if err != nil || flow.JobStream(h.Code) != name {
				t.Fatalf("%q has the summary of %q, %v", name, h.Code, err)
			}
			p, err := flow.Verify(func(visit func(uint64, []byte) error) error { return s.Replay(name, 0, visit) }, h.Witness())
			if err != nil || p.Fault != nil || p.Entries != uint64(len(entries)) || len(entries) == 0 {
				t.Fatalf("%q was taken in with %v, %v", name, p.Fault, err)
			}
		}
		out := write(t, s, archive.Options{Chats: true})
		again := newShelf()
		if _, refused, err := read(again, out, true); err != nil || len(refused) > 0 {
			t.Fatalf("what was taken in is not taken again: %v, %v", refused, err)
		}
		if !bytes.Equal(write(t, again, archive.Options{Chats: true}), out) {
			t.Fatal("it goes out otherwise than it came in")
		}
		if err != nil {
			return
		}
		if more, _, err := read(s, file, true); err != nil || more.New.Streams != 0 {
			t.Fatalf("the same file again: %+v, %v", more, err)
		}
	})
}
