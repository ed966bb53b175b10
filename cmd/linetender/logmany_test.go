package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/store"
)

// template is the entries of one short job, as the conversation writes them.
func template(t testing.TB) (entries []flow.Entry, head flow.Head) {
	t.Helper()
	st, err := store.Open(t.TempDir(), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	e := newEngine(true)
	for i, text := range []string{"/start", "no one in it, none of that", "3.2 t off the plate", "1 in 5", "dry grass, not sunk, all wheels turn", "uphill",
		"tractor 2.6 t, four wheel drive, on the gravel lane, rope on the drawbar, stamped eye on the trailer", "ash tree by the gate, 20 inch, alive and sound"} {
		turn, err := e.Turn(st, flow.Input{Update: fmt.Sprint("test:", i), Chat: "test/1", Person: flow.Person{ID: "test/1", Name: "Ada Quill"},
			At: time.Date(2026, 5, 4, 9, i, 0, 0, time.UTC), Offset: "+02:00", Text: text, Direct: true})
		if err == nil {
			_, err = st.Commit(turn)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	err = st.Streams(flow.JobStream(""), "", false, func(name string, h []byte, _ uint64, _ time.Time) (err error) {
		if head, err = flow.DecodeHead(h); err != nil {
			return err
		}
		return st.Replay(name, 0, func(_ uint64, body []byte) error {
			entry, err := flow.DecodeEntry(body)
			entries = append(entries, entry)
			return err
		})
	})
	if err != nil || len(entries) < 8 {
		t.Fatal(len(entries), err)
	}
	return entries, head
}

// manyJobs fills a new store with n jobs, each a chain of its own.
func manyJobs(t testing.TB, dir string, n int) {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := st.Close(); err != nil {
			t.Fatal(err)
		}
	}()
	entries, head := template(t)
	old := head.Code
	var turn store.Turn
	for i := range n {
		code, chain := fmt.Sprintf("test-%06d", i), ""
		w := store.Write{Stream: flow.JobStream(code)}
		for _, e := range entries {
			e.Prev = chain
			body, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			body = bytes.ReplaceAll(body, []byte(old), []byte(code))
			chain = flow.Link(chain, body)
			w.Entries = append(w.Entries, body)
		}
		h := head
		h.Code, h.Chain, h.Lead = code, chain, fmt.Sprint("Lead ", i%97)
		h.Decision = []string{"go", "no-go", "open", "refer"}[i%4]
		if w.Head, err = json.Marshal(h); err != nil {
			t.Fatal(err)
		}
		turn.Writes = append(turn.Writes, w)
		if len(turn.Writes) == 500 || i == n-1 {
			if _, err := st.Commit(turn); err != nil {
				t.Fatal(err)
			}
			turn.Writes = nil
		}
	}
}

// gauge passes bytes on and keeps the most live heap seen on the way, once
// every so many bytes.
type gauge struct {
	out  io.Writer
	in   io.Reader
	step int64
	next int64
	at   int64
	most uint64
}

func (g *gauge) look(n int) {
	if g.at += int64(n); g.at < g.next {
		return
	}
	g.next = g.at + g.step
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	g.most = max(g.most, m.HeapAlloc)
}

func (g *gauge) Write(p []byte) (int, error) {
	g.look(len(p))
	return g.out.Write(p)
}

func (g *gauge) Read(p []byte) (int, error) {
	n, err := g.in.Read(p)
	g.look(n)
	return n, err
}

// carried is what a whole way out and in came to.
type carried struct {
	size          int64
	out, in, hold uint64 // most live heap in bytes: export, import, verify
	took          [3]time.Duration
	list, find    time.Duration
}

// carry exports n jobs, imports them elsewhere, verifies them there and
// compares a second export with the first.
func carry(t *testing.T, n int) (c carried) {
	t.Helper()
	dir := t.TempDir()
	from, to, file := filepath.Join(dir, "from"), filepath.Join(dir, "to"), filepath.Join(dir, "jobs.jsonl")
	manyJobs(t, from, n)
	size := func() int64 {
		info, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		return info.Size()
	}
	var shown bytes.Buffer // the meter's, as on a terminal
	work := func(dir string, readOnly bool, do func(logCall) error, call logCall) time.Duration {
		st, err := store.Open(dir, store.Options{ReadOnly: readOnly})
		if err != nil {
			t.Fatal(err)
		}
		call.ctx, call.shelf, call.dir = t.Context(), eraser{Store: st}, dir
		call.meter = &meter{err: &shown, what: "working"}
		call.meter.show(-1, "jobs")
		began := time.Now()
		if err := errors.Join(do(call), st.Close()); err != nil {
			t.Fatal(err)
		}
		took := time.Since(began)
		call.meter.close()
		return took
	}
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	out := &gauge{out: f, step: int64(n) * 400}
	c.took[0] = work(from, true, exportJobs, logCall{ask: url.Values{}, out: out})
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	c.size, c.out = size(), out.most
	if f, err = os.Open(file); err != nil {
		t.Fatal(err)
	}
	var told strings.Builder
	in := &gauge{in: f, step: int64(n) * 400}
	c.took[1] = work(to, false, importJobs, logCall{ask: url.Values{}, in: in, out: &told})
	c.in = in.most
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("taken in %d with ", n); !strings.HasPrefix(told.String(), want) {
		t.Fatalf("the import says %q, want %q", told.String(), want)
	}
	told.Reset()
	seen := &gauge{out: &told, step: 1}
	c.took[2] = work(to, true, func(call logCall) error {
		n := 0
		return call.eachJob(func(code string, head []byte) error {
			p, err := proveJob(call.shelf, code, head, "")
			if p.Fault != nil {
				return p.Fault
			}
			if n++; n%1000 == 0 {
				seen.look(1)
			}
			return err
		})
	}, logCall{ask: url.Values{}, out: seen})
	seen.look(1)
	c.hold = seen.most
	again := &compared{with: file}
	work(to, true, exportJobs, logCall{ask: url.Values{}, out: again})
	if err := again.done(c.size); err != nil {
		t.Error(err)
	}
	if !strings.Contains(shown.String(), "working") || !strings.Contains(shown.String(), "jobs/") {
		t.Errorf("no progress was shown: %.200q", shown.String())
	}
	c.list = work(to, true, listJobs, logCall{ask: url.Values{"limit": {"50"}}, out: io.Discard})
	c.find = work(to, true, listJobs, logCall{ask: url.Values{"limit": {"50"}, "person": {"lead 96"}, "decision": {"no-go"}}, out: io.Discard})
	return c
}

// compared compares what is written with a file, without holding either.
type compared struct {
	with string
	f    *os.File
	n    int64
}

func (c *compared) Write(p []byte) (n int, err error) {
	if c.f == nil {
		if c.f, err = os.Open(c.with); err != nil {
			return 0, err
		}
	}
	want := make([]byte, len(p))
	if _, err := io.ReadFull(c.f, want); err != nil {
		return 0, err
	}
	if !bytes.Equal(p, want) {
		return 0, fmt.Errorf("the second export differs within %d bytes after byte %d", len(p), c.n)
	}
	c.n += int64(len(p))
	return len(p), nil
}

func (c *compared) done(size int64) error {
	if c.n != size {
		return fmt.Errorf("the second export has %d bytes and the first %d", c.n, size)
	}
	return c.f.Close()
}

// Out, in, checked and out again: ten times the jobs take no more memory, and
// the two exports are the same to the byte. LINETENDER_LONG=full has 100,000.
func TestManyJobsStream(t *testing.T) { // not side by side with others, whose heap would be counted
	many := campaign(1000, 5000, 100_000)
	if raced {
		many = campaign(300, 300, 1000) // one goroutine reads and writes: how many says nothing to the race detector
	}
	few := carry(t, many/10)
	all := carry(t, many)
	t.Logf("%d jobs, %d MB: live heap at most %.1f MB out, %.1f in, %.1f checked; with a tenth of them %.1f, %.1f, %.1f; took %v out, %v in, %v checked; a page %v, one of few that fit %v",
		many, all.size>>20, mb(all.out), mb(all.in), mb(all.hold), mb(few.out), mb(few.in), mb(few.hold), all.took[0], all.took[1], all.took[2], all.list, all.find)
	const slack = 8 << 20 // what is committed together may be under way or not
	for what, two := range map[string][2]uint64{"export": {few.out, all.out}, "import": {few.in, all.in}, "verify": {few.hold, all.hold}} {
		if two[1] > two[0]+two[0]/2+slack {
			t.Errorf("%s: %.1f MB for ten times the jobs, and %.1f MB before", what, mb(two[1]), mb(two[0]))
		}
	}
}

func mb(n uint64) float64 { return float64(n) / (1 << 20) }

// BenchmarkLogPage is one page of the list in a store of many jobs against one
// in a store of a hundred; ms/page is the figure itself.
func BenchmarkLogPage(b *testing.B) {
	n := 100_000
	if testing.Short() {
		n = 5000
	}
	open := func(n int) *store.Store {
		dir := b.TempDir()
		manyJobs(b, dir, n)
		st, err := store.Open(dir, store.Options{ReadOnly: true})
		if err != nil {
			b.Fatal(err)
		}
		b.Cleanup(func() { _ = st.Close() })
		return st
	}
	few, many := open(100), open(n)
	page := func(st *store.Store, q url.Values) time.Duration {
		began := time.Now()
		if err := listJobs(logCall{ctx: context.Background(), shelf: eraser{Store: st}, ask: q, out: io.Discard}); err != nil {
			b.Fatal(err)
		}
		return time.Since(began)
	}
	for name, q := range map[string]url.Values{
		"latest":   {"limit": {"50"}},
		"after":    {"limit": {"50"}, "after": {"test-000060"}},
		"decision": {"limit": {"50"}, "decision": {"no-go"}},
		"fewFit":   {"limit": {"50"}, "person": {"nobody"}},
	} {
		b.Run(name, func(b *testing.B) {
			var small, large time.Duration
			for b.Loop() {
				small += page(few, q)
				large += page(many, q)
			}
			b.ReportMetric(float64(large.Microseconds())/1000/float64(b.N), "ms/page")
			b.ReportMetric(float64(large)/float64(small), "ratio")
		})
	}
}
