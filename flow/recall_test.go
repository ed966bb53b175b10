package flow

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"linetender/calc"
	"linetender/flow/wording"
)

// pinned is a log that can be told from another.
type pinned struct{ shelf }

// TestRecalledIsReplayed: a job that is read on from where it was left is the
// job read from its beginning, and a log that was taken back is read anew.
func TestRecalledIsReplayed(t *testing.T) {
	log := &pinned{shelf{}}
	n := 0
	e := &Engine{Reckon: calc.Reckon, Words: wording.English(), Random: func(int) int { return 0 }, Anyone: true}
	say := func(text string) *turn {
		n++
		x, out, err := e.work(log, Input{Update: fmt.Sprint(n), Chat: "c", Person: Person{ID: "a", Name: "Ada"}, At: time.Unix(int64(n), 0), Text: text, Direct: true})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := log.Commit(out); err != nil {
			t.Fatal(err)
		}
		return x
	}
	for _, text := range []string{"/start", "none", "2.4 t weighed", "14 deg", "grass, not sunk, wheels turn", "uphill", "crew code", "stop", "a dog", "note: rain", "tractor 4.5 t 4wd gravel"} {
		code := say(text).s.Code
		warm, err := e.load(log, code)
		if err != nil {
			t.Fatal(err)
		}
		cold, err := load(log, code)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(cold, warm, cmpopts.EquateEmpty()); d != "" {
			t.Fatalf("after %q (-replayed +recalled):\n%s", text, d)
		}
	}
	other := &pinned{shelf{}}
	if s, err := e.load(other, "acorn-00"); err != nil || s.Last != 0 {
		t.Errorf("another log is taken for the one that was read: %+v, %v", s, err)
	}
}

// BenchmarkLoad compares reading a long job anew with reading it on.
func BenchmarkLoad(b *testing.B) {
	log := &pinned{shelf{}}
	e := &Engine{Reckon: calc.Reckon, Words: wording.English(), Random: func(int) int { return 0 }, Anyone: true}
	code := ""
	for i := range 400 {
		text := []string{"/start", "none", "note: seen it", "so far"}[min(i, 2+i%2)]
		x, out, err := e.work(log, Input{Update: fmt.Sprint(i), Chat: "c", Person: Person{ID: "a"}, At: time.Unix(int64(i), 0), Text: text, Direct: true})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := log.Commit(out); err != nil {
			b.Fatal(err)
		}
		code = x.s.Code
	}
	timed := func(read func() (*Session, error)) time.Duration {
		from := time.Now()
		for range 20 {
			if _, err := read(); err != nil {
				b.Fatal(err)
			}
		}
		return time.Since(from)
	}
	var warm, cold time.Duration
	for b.Loop() {
		cold += timed(func() (*Session, error) { return load(log, code) })
		warm += timed(func() (*Session, error) { return e.load(log, code) })
	}
	b.ReportMetric(float64(warm)/float64(cold), "of-replayed")
}
