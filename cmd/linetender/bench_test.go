package main

import (
	"encoding/json"
	"fmt"
	"runtime"
	"syscall"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// stocked makes a data folder with so many jobs of so many entries each.
func stocked(b *testing.B, jobs, entries int) (dir string) {
	b.Helper()
	dir = b.TempDir()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer st.Close()
	entry, err := json.Marshal(flow.Entry{Version: 1, At: "2026-05-04T09:00:00Z", State: flow.Start, Heard: flow.Heard{Text: "about two tonnes"}})
	if err != nil {
		b.Fatal(err)
	}
	const most = 1000 // entries in one transaction
	var t store.Turn
	for i := range jobs {
		code := fmt.Sprintf("stored-%06d", i)
		head, err := json.Marshal(flow.Head{Version: 1, Code: code, State: flow.Closed})
		if err != nil {
			b.Fatal(err)
		}
		w := store.Write{Stream: flow.JobStream(code), Head: head}
		for range entries {
			w.Entries = append(w.Entries, entry)
		}
		t.Writes = append(t.Writes, w)
		if len(t.Writes)*entries < most && i+1 < jobs {
			continue
		}
		if _, err := st.Commit(t); err != nil {
			b.Fatal(err)
		}
		t = store.Turn{}
	}
	return dir
}

// BenchmarkStart gives the start of the whole process, up to its serving, on a
// store of 1,000,000 entries against an empty one, the two by turns: the
// quickest of each, because what else the machine does only ever adds, and the
// processor's time of all. The page cache holds both.
func BenchmarkStart(b *testing.B) {
	full, empty := stocked(b, 1000, 1000), stocked(b, 0, 0)
	srv := apitest.New(b)
	serve := func(dir string) (took, work time.Duration) {
		began := time.Now()
		p := start(b, []string{"LINETENDER_TOKEN=" + srv.Token(), "LINETENDER_DATA=" + dir}, "serve", "--api-url", srv.URL())
		p.out.see(b, "Serving as @")
		took = time.Since(began)
		p.signal(syscall.SIGTERM)
		p.end()
		return took, p.cmd.ProcessState.UserTime() + p.cmd.ProcessState.SystemTime()
	}
	var large, none, largeWork, noneWork time.Duration
	for b.Loop() {
		for _, of := range []struct {
			dir         string
			least, work *time.Duration
		}{{full, &large, &largeWork}, {empty, &none, &noneWork}} {
			took, work := serve(of.dir)
			if *of.least == 0 || took < *of.least {
				*of.least = took
			}
			*of.work += work
		}
	}
	b.ReportMetric(float64(large)/float64(none), "x-empty")
	b.ReportMetric(float64(largeWork)/float64(noneWork), "x-empty-cpu")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkMemory gives the heap with 1,000 live jobs beside 100,000 stored
// ones against the same beside none.
func BenchmarkMemory(b *testing.B) {
	for b.Loop() {
		many, few := live(b, stocked(b, 100_000, 1)), live(b, stocked(b, 0, 0))
		b.ReportMetric(float64(many)/float64(few), "x-none")
		b.ReportMetric(float64(many)/(1<<20), "MB")
	}
	b.ReportMetric(0, "ns/op")
}

// live gives 1,000 chats a turn each and returns what the heap then holds.
func live(b *testing.B, dir string) uint64 {
	b.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer st.Close()
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	var arrivals []store.Arrival
	for i := range 1000 {
		arrivals = append(arrivals, store.Arrival{Key: fmt.Sprint("k/", i), Chat: fmt.Sprint("bench/", i), At: at})
	}
	if err := st.Accept("bench", 1, arrivals); err != nil {
		b.Fatal(err)
	}
	desk := &flow.Desk{Log: st, Inbox: st, Engine: newEngine(true), Pace: flow.DefaultPace(), Decode: func(a flow.Arrival) (flow.Input, bool, error) {
		return flow.Input{At: a.At, Text: "/start", Direct: true, Person: flow.Person{ID: a.Chat}}, true, nil
	}}
	for _, a := range arrivals {
		if _, err := desk.Turn(b.Context(), a.Chat); err != nil {
			b.Fatal(err)
		}
	}
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	runtime.KeepAlive(desk)
	return m.HeapAlloc
}
