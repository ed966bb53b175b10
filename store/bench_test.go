package store

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"linetender/store/internal/record"
)

// A turn as the conversation makes them: what was heard and what was said, a
// summary, and an answer.
var (
	benchEntry = bytes.Repeat([]byte("e"), 600)
	benchHead  = bytes.Repeat([]byte("h"), 250)
	benchBody  = bytes.Repeat([]byte("b"), 400)
)

func benchTurn(i int, chat string, last uint64) Turn {
	return Turn{Update: fmt.Sprintf("telegram:7:%09d", i), Chat: chat, Outbox: []Parcel{{Body: benchBody}},
		Writes: []Write{{Stream: chat, After: last, Entries: [][]byte{benchEntry, benchEntry}, Head: benchHead}}}
}

// BenchmarkTurn gives a durable turn against a bare bbolt transaction that puts the
// same bytes in one bucket, the two by turns, so that both meet the same disk.
// Both files have been lived in: 1,000 chats, 10,000 turns. A sender keeps up, so the
// outbox is short; taking in the update and marking the answer sent are transactions
// of their own and not counted.
func BenchmarkTurn(b *testing.B) {
	const chats, before = 1000, 10_000
	s := fresh(b, Options{})
	bare := bareDB(b)
	last := make([]uint64, chats)
	turn := func(i int) {
		c := i * 7919 % chats
		n, err := s.Commit(benchTurn(i, fmt.Sprint("chat", c), last[c]))
		must(b, err)
		last[c] = n[0]
	}
	s.db.NoSync, bare.NoSync = true, true
	for i := range before {
		turn(i)
		must(b, s.Sent(uint64(i+1), "live", []byte("12345")))
		bareTurn(b, bare, i)
	}
	s.db.NoSync, bare.NoSync = false, false
	must(b, s.db.Sync())
	must(b, bare.Sync())
	var ours, theirs time.Duration
	i := before
	for b.Loop() {
		key := fmt.Sprintf("telegram:7:%09d", i)
		must(b, s.Accept("telegram:7", int64(i), []Arrival{{Key: key, Chat: fmt.Sprint("chat", i*7919%chats), At: noon, Body: benchBody}}))
		start := time.Now()
		turn(i)
		middle := time.Now()
		bareTurn(b, bare, i)
		ours += middle.Sub(start)
		theirs += time.Since(middle)
		i++
		must(b, s.Sent(uint64(i), "live", []byte("12345")))
	}
	b.ReportMetric(float64(ours)/float64(theirs), "x-bare")
	b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N), "ns/turn")
	b.ReportMetric(0, "ns/op") // it counts both, and the arrival: of no use to anyone
}

func bareDB(b *testing.B) *bbolt.DB {
	b.Helper()
	db, err := bbolt.Open(filepath.Join(b.TempDir(), "bare"), 0o600, &bbolt.Options{Timeout: time.Second, FreelistType: bbolt.FreelistMapType})
	must(b, err)
	b.Cleanup(func() { must(b, db.Close()) })
	must(b, db.Update(func(tx *bbolt.Tx) error { _, err := tx.CreateBucket([]byte("all")); return err }))
	return db
}

func bareTurn(b *testing.B, db *bbolt.DB, i int) {
	b.Helper()
	must(b, db.Update(func(tx *bbolt.Tx) error {
		all := tx.Bucket([]byte("all"))
		for _, v := range [][]byte{benchEntry, benchEntry, benchHead, benchBody, []byte(fmt.Sprintf("telegram:7:%09d", i))} {
			n, err := all.NextSequence()
			if err != nil {
				return err
			}
			if err := all.Put(record.Number(n), v); err != nil {
				return err
			}
		}
		return nil
	}))
}

// BenchmarkPage gives the first page of a list of 100,000 sessions against one of
// 1,000, over all and for one crew's.
func BenchmarkPage(b *testing.B) {
	big, small := withSessions(b, 100_000), withSessions(b, 1000)
	for _, prefix := range []string{"", "crew1/", "crew"} {
		b.Run("prefix="+prefix, func(b *testing.B) {
			var many, few time.Duration
			for b.Loop() {
				start := time.Now()
				firstPage(b, big, prefix)
				middle := time.Now()
				firstPage(b, small, prefix)
				many += middle.Sub(start)
				few += time.Since(middle)
			}
			b.ReportMetric(float64(many)/float64(few), "x-small")
			b.ReportMetric(float64(many.Nanoseconds())/float64(b.N), "ns/page")
		})
	}
}

func withSessions(b *testing.B, n int) *Store {
	b.Helper()
	s := fresh(b, Options{})
	s.db.NoSync = true
	rng := rand.New(rand.NewPCG(5, 6))
	const at = 500 // streams in a turn, to be quick
	for i := 0; i < n; i += at {
		var t Turn
		for j := range at {
			t.Writes = append(t.Writes, Write{Stream: fmt.Sprintf("crew%d/%d", rng.IntN(n/10), i+j), Entries: [][]byte{benchEntry}, Head: benchHead})
		}
		_, err := s.Commit(t)
		must(b, err)
	}
	return s
}

var errEnough = errors.New("enough")

func firstPage(b *testing.B, s *Store, prefix string) {
	n := 0
	err := s.Streams(prefix, "", true, func(string, []byte, uint64, time.Time) error {
		if n++; n == 20 {
			return errEnough
		}
		return nil
	})
	if err != nil && err != errEnough {
		b.Fatal(err)
	}
}

// BenchmarkDue gives what is due with 1,000 chats and 100 parcels waiting in each
// against one waiting in each.
func BenchmarkDue(b *testing.B) {
	const chats = 1000
	deep, flat := fresh(b, Options{}), fresh(b, Options{})
	for s, each := range map[*Store]int{deep: 100, flat: 1} {
		s.db.NoSync = true
		for c := range chats {
			t := Turn{Chat: fmt.Sprint("chat", c)}
			for range each {
				t.Outbox = append(t.Outbox, Parcel{Body: benchBody})
			}
			_, err := s.Commit(t)
			must(b, err)
		}
	}
	var many, few time.Duration
	for b.Loop() {
		start := time.Now()
		_, err := deep.Due(noon, 30, nil)
		must(b, err)
		middle := time.Now()
		_, err = flat.Due(noon, 30, nil)
		must(b, err)
		many += middle.Sub(start)
		few += time.Since(middle)
	}
	b.ReportMetric(float64(many)/float64(few), "x-flat")
	b.ReportMetric(float64(many.Nanoseconds())/float64(b.N), "ns/due")
}

// BenchmarkOpen gives opening a store of 1,000,000 entries against an empty one.
func BenchmarkOpen(b *testing.B) {
	full, empty := fresh(b, Options{}), fresh(b, Options{})
	full.db.NoSync = true
	const streams, each = 1000, 1000
	for i := range streams {
		t := Turn{Update: fmt.Sprint("k", i), Writes: []Write{{Stream: fmt.Sprint("s", i)}}}
		for range each {
			t.Writes[0].Entries = append(t.Writes[0].Entries, benchEntry[:200])
		}
		_, err := full.Commit(t)
		must(b, err)
	}
	must(b, full.db.Sync())
	must(b, full.Close())
	must(b, empty.Close())
	open := func(dir string) time.Duration {
		start := time.Now()
		s, err := Open(dir, Options{})
		must(b, err)
		took := time.Since(start)
		must(b, s.Close())
		return took
	}
	var large, none time.Duration
	for b.Loop() {
		large += open(filepath.Dir(full.Path()))
		none += open(filepath.Dir(empty.Path()))
	}
	b.ReportMetric(float64(large)/float64(none), "x-empty")
	b.ReportMetric(float64(large.Nanoseconds())/float64(b.N), "ns/open")
}
