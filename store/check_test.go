package store

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// lived fills a store with some of everything and closes it; it returns the bytes of
// the file.
func lived(t testing.TB) []byte {
	t.Helper()
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now})
	s.db.NoSync = true
	for i := range 40 {
		key, chat := fmt.Sprint("k", i), fmt.Sprint("c", i%5)
		must(t, s.Accept("src", int64(i+1), []Arrival{arrival(key, chat, strings.Repeat("in", i))}))
		if i%4 == 0 {
			continue
		}
		_, last, err := s.Head(chat)
		must(t, err)
		_, err = s.Commit(Turn{Update: key, Chat: chat, Outbox: []Parcel{{Body: []byte(key), Urgent: i%3 == 0}, {Body: []byte("b")}},
			Writes: []Write{{Stream: chat, After: last, Entries: lines(key, strings.Repeat("entry ", i)), Head: []byte(key)}}})
		must(t, err)
	}
	for _, id := range []uint64{1, 4, 7} {
		must(t, s.Sent(id, fmt.Sprint("slot", id), []byte("receipt")))
	}
	must(t, s.Delay(2, noon, "later"))
	must(t, s.Drop(3, "why"))
	must(t, s.Bury("k0", "why"))
	must(t, s.SetSecret("owner", []byte("code")))
	must(t, s.Check())
	must(t, s.Close())
	image, err := os.ReadFile(s.Path())
	must(t, err)
	return image
}

// openImage opens a file image as a store, without the check at the end.
func openImage(t testing.TB, image []byte) (*Store, error) {
	t.Helper()
	dir := t.TempDir()
	must(t, os.WriteFile(filepath.Join(dir, FileName), image, 0o600))
	return Open(dir, Options{})
}

// Every row of every bucket, removed or put under a wrong key, is found.
func TestCheckFindsMissingRows(t *testing.T) {
	image := lived(t)
	for _, name := range allBuckets() {
		switch string(name) {
		case "meta", "sources", "receipts", "secrets", "dead":
			continue // they stand alone: what is gone from them can't be told
		}
		for _, last := range []bool{false, true} {
			s, err := openImage(t, image)
			must(t, err)
			must(t, s.db.Update(func(tx *bbolt.Tx) error {
				c := tx.Bucket(name).Cursor()
				if k, _ := c.First(); k == nil {
					t.Fatalf("bucket %s is empty: this shows nothing", name)
				}
				if last {
					c.Last()
				}
				return c.Delete()
			}))
			if err := s.Check(); !errors.Is(err, ErrCorrupt) {
				t.Errorf("a row of %s is gone, last %v: got %v", name, last, err)
			}
			must(t, s.Close())
		}
	}
}

func TestCheckFindsChangedRows(t *testing.T) {
	image := lived(t)
	for _, name := range allBuckets() {
		if string(name) == "queue" {
			continue // its rows have no values
		}
		s, err := openImage(t, image)
		must(t, err)
		must(t, s.db.Update(func(tx *bbolt.Tx) error {
			b := tx.Bucket(name)
			k, v := b.Cursor().First()
			if len(v) < record.SumSize {
				t.Fatalf("bucket %s is empty: this shows nothing", name)
			}
			changed := append([]byte{}, v...)
			changed[len(changed)-record.SumSize-1] ^= 1
			return b.Put(append([]byte{}, k...), changed)
		}))
		if err := s.Check(); !errors.Is(err, ErrCorrupt) {
			t.Errorf("a value of %s was changed: got %v", name, err)
		}
		must(t, s.Close())
	}
}

func TestCheckSaysWhatAndNotForEver(t *testing.T) {
	s, err := openImage(t, lived(t))
	must(t, err)
	must(t, s.db.Update(func(tx *bbolt.Tx) error {
		return tx.Bucket(bEntries).ForEach(func(k, v []byte) error {
			return tx.Bucket(bReceipts).Put(k, v[:len(v)-1])
		})
	}))
	err = s.Check()
	wantErr(t, err, ErrCorrupt)
	if got := strings.Count(err.Error(), "\n"); got != maxFindings+1 {
		t.Errorf("%d lines, want %d findings and one that says how many more:\n%v", got, maxFindings, err)
	}
	if !strings.Contains(err.Error(), "receipts") {
		t.Errorf("%v does not say where", err)
	}
	must(t, s.Close())
}

// A bit flipped anywhere in the file is either refused at opening, found by Check,
// or in a place nobody reads. Whatever is read before the check, no call makes
// up a value: it gives an error or what was stored.
func TestFlippedBits(t *testing.T) {
	image := lived(t)
	s, err := openImage(t, image)
	must(t, err)
	sound := powerState(t, s)
	must(t, s.Close())
	rng := rand.New(rand.NewPCG(3, 4))
	refused, found, unread := 0, 0, 0
	rounds := campaign(600, 3_000, 60_000)
	dir, page := t.TempDir(), os.Getpagesize()
	for range rounds {
		// Most in the beginnings of pages, where lengths and page numbers are.
		at := rng.IntN(len(image)/page)*page + rng.IntN(1+rng.IntN(page))
		bit := byte(1) << rng.IntN(8)
		image[at] ^= bit
		must(t, os.WriteFile(filepath.Join(dir, FileName), image, 0o600))
		s, err := Open(dir, Options{})
		switch {
		case errors.Is(err, ErrCorrupt), errors.Is(err, ErrFormat):
			refused++
		case err != nil:
			t.Errorf("bit %#x of byte %d: %v", bit, at, err)
		default:
			err := s.Check()
			if errors.Is(err, ErrCorrupt) {
				found++
			} else if err != nil {
				t.Errorf("bit %#x of byte %d: %v", bit, at, err)
			} else if unread++; powerState(t, s) != sound {
				t.Errorf("bit %#x of byte %d changed what is read, and Check says all is well", bit, at)
			}
			must(t, s.Close())
		}
		image[at] ^= bit
	}
	t.Logf("%d refused, %d found, %d where nobody reads", refused, found, unread)
	if refused+found < rounds/20 {
		t.Error("hardly any flip was noticed: this shows nothing")
	}
}

func TestDamagedEntryIsNotRead(t *testing.T) {
	dir := t.TempDir()
	s := reopen(t, dir, Options{})
	_, err := s.Commit(Turn{Writes: []Write{{Stream: "s", Entries: lines("first", "mass 24000 kg", "third")}}})
	must(t, err)
	must(t, s.Close())
	path := filepath.Join(dir, FileName)
	image, err := os.ReadFile(path)
	must(t, err)
	at := strings.LastIndex(string(image), "24000")
	flip(t, path, int64(at))

	s, err = Open(dir, Options{})
	must(t, err)
	var got []string
	err = s.Replay("s", 0, func(_ uint64, e []byte) error { got = append(got, string(e)); return nil })
	wantErr(t, err, ErrCorrupt)
	same(t, got)
	wantErr(t, s.Check(), ErrCorrupt)
	backup := filepath.Join(t.TempDir(), "copy")
	wantErr(t, s.Backup(backup), ErrCorrupt)
	if _, err := os.Stat(backup); err == nil {
		t.Error("a damaged copy got its name")
	}
	must(t, s.Close())
	wantErr(t, Compact(dir, Options{}), ErrCorrupt)
}
