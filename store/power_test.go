package store

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// Loss of power, played on the file: bbolt writes the pages of a transaction in no
// promised order, syncs, then writes one root page and syncs again. So the disk may
// be left with any part of the pages without the root, or all of them with the root
// whole or torn. Each such file must open as it was before the turn or as it is
// after it, and must pass its check.
func TestPowerLossInsideATurn(t *testing.T) {
	page := os.Getpagesize()
	dir := t.TempDir()
	s := reopen(t, dir, Options{})
	path := s.Path()
	for i := range 60 {
		key, chat := powerArrive(t, s, i)
		powerCommit(t, s, i, key, chat)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	states, torn := 0, 0
	for i := 60; i < 66; i++ {
		key, chat := powerArrive(t, s, i)
		before, err := os.ReadFile(path)
		must(t, err)
		was := powerState(t, s)
		powerCommit(t, s, i, key, chat)
		after, err := os.ReadFile(path)
		must(t, err)
		is := powerState(t, s)
		if was == is {
			t.Fatal("the turn changed nothing")
		}
		roots, pages := changedPages(before, after, page)
		if len(roots) != 1 || len(pages) < 5 {
			t.Fatalf("a turn wrote roots %v and %d pages: bbolt doesn't write as this test takes it to", roots, len(pages))
		}
		try := func(image []byte, want ...string) {
			t.Helper()
			states++
			if got := stateOf(t, image); !slices.Contains(want, got) {
				t.Errorf("turn %d: the store is neither as before nor as after", i)
			}
		}
		for k := range pages { // each write of the turn the last one made, and each the one left out
			try(mixed(before, after, page, pages[:k+1]), was)
			try(mixed(before, after, page, slices.Delete(slices.Clone(pages), k, k+1)), was)
		}
		for range 20 {
			some := slices.DeleteFunc(slices.Clone(pages), func(int) bool { return rng.IntN(2) == 0 })
			image := mixed(before, after, page, some)
			if len(some) > 0 { // and one of them torn
				at := some[rng.IntN(len(some))] * page
				cut := at + rng.IntN(page)
				copy(image[cut:at+page], bytes.Repeat([]byte{0xa5}, page))
			}
			try(image, was)
		}
		for cut := 16; cut < 80; cut += 4 { // the root torn behind its page header
			image := mixed(before, after, page, pages)
			copy(image[roots[0]*page:], after[roots[0]*page:roots[0]*page+cut])
			torn++
			try(image, was, is)
		}
		try(mixed(before, after, page, append(pages, roots...)), is)
	}
	t.Logf("%d files left behind by a loss of power, %d with a torn root", states, torn)
}

func powerArrive(t *testing.T, s *Store, i int) (key, chat string) {
	t.Helper()
	key, chat = fmt.Sprint("k", i), fmt.Sprint("c", i%5)
	accept1(t, s, key, chat, "body")
	return key, chat
}

func powerCommit(t *testing.T, s *Store, i int, key, chat string) {
	t.Helper()
	_, last, err := s.Head(chat)
	must(t, err)
	_, err = s.Commit(Turn{Update: key, Chat: chat, Outbox: []Parcel{{Body: []byte(key), Urgent: i%3 == 0}},
		Writes: []Write{{Stream: chat, After: last, Entries: [][]byte{bytes.Repeat([]byte(key), 100*(i%9)), []byte(key)}, Head: []byte(key)}}})
	must(t, err)
}

// powerState is all that a caller can see of the store, in one text.
func powerState(t *testing.T, s *Store) string {
	t.Helper()
	var b bytes.Buffer
	for i := range 5 {
		chat := fmt.Sprint("c", i)
		head, last, err := s.Head(chat)
		must(t, err)
		next, ok, err := s.Next(chat)
		must(t, err)
		fmt.Fprintf(&b, "%s %q %d %v %v %q\n", chat, head, last, next, ok, contents(t, s, chat, 0))
	}
	due, err := s.Due(noon, 1000, nil)
	must(t, err)
	st, err := s.Stats()
	must(t, err)
	fmt.Fprintf(&b, "%v %d %d %d %q", due, st.Waiting, st.Unsent, st.Marks, list(t, s, "", "", true))
	return b.String()
}

// stateOf opens a file image as a store of its own, which must pass its check.
func stateOf(t *testing.T, image []byte) string {
	t.Helper()
	dir := t.TempDir()
	must(t, os.WriteFile(filepath.Join(dir, FileName), image, 0o600))
	s, err := Open(dir, Options{})
	must(t, err)
	defer shut(t, s)
	return powerState(t, s)
}

func changedPages(before, after []byte, page int) (roots, pages []int) {
	for i := 0; i*page < len(after); i++ {
		if i*page < len(before) && bytes.Equal(before[i*page:(i+1)*page], after[i*page:(i+1)*page]) {
			continue
		}
		if i < 2 {
			roots = append(roots, i)
		} else {
			pages = append(pages, i)
		}
	}
	return roots, pages
}

// mixed is the file before with the given pages as they are after.
func mixed(before, after []byte, page int, pages []int) []byte {
	image := make([]byte, len(after))
	copy(image, before)
	for _, p := range pages {
		copy(image[p*page:(p+1)*page], after[p*page:])
	}
	return image
}
