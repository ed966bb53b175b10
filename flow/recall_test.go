package flow

import (
	"encoding/json"
	"fmt"
	"slices"
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
		if d := cmp.Diff(chatOf(t, &Engine{}, log), chatOf(t, e, log), ofChat...); d != "" {
			t.Fatalf("after %q the chat is another (-replayed +recalled):\n%s", text, d)
		}
	}
	other := &pinned{shelf{}}
	if s, err := e.load(other, "acorn-00"); err != nil || s.Last != 0 {
		t.Errorf("another log is taken for the one that was read: %+v, %v", s, err)
	}
}

var ofChat = []cmp.Option{cmpopts.EquateEmpty(), cmp.AllowUnexported(chatState{}, doorState{}, lesson{}, likeness{})}

func chatOf(t *testing.T, e *Engine, log Log) *chatState {
	t.Helper()
	c, err := e.loadChat(log, "c")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestARecalledChatIsItsOwn: what a turn does to its chat stays with it, and
// what was taken out of the log is gone once that was said.
func TestARecalledChatIsItsOwn(t *testing.T) {
	log := &pinned{shelf{}}
	entry := func(acts ...Act) []byte {
		body, err := json.Marshal(chatEntry{Version: entryVersion, Acts: acts, Kit: []Fact{{Path: "gear", Value: "a rope"}}})
		if err != nil {
			t.Fatal(err)
		}
		return body
	}
	w := Write{Stream: chatStream("c"), Entries: [][]byte{
		entry(Act{Do: DoEnter, Value: "larch-42"}, Act{Do: DoTry}, Act{Do: DoKit, Value: "box"}, Act{Do: DoLesson, Value: "slow", Topic: "larch-42"}),
		entry(Act{Do: DoEnter, Value: "acorn-00"}, Act{Do: DoTry}),
	}}
	if _, err := log.Commit(Turn{Writes: []Write{w}}); err != nil {
		t.Fatal(err)
	}
	e := &Engine{}
	want := chatOf(t, e, log)
	if len(want.jobs) != 2 || len(want.kits) != 1 || len(want.front.tries) != 2 || len(want.lessons) != 1 {
		t.Fatalf("the chat is %+v", want)
	}
	c := chatOf(t, e, log)
	c.jobs[0], c.order[0], c.front.tries[0], c.lessons[0].text = "", "", "x", ""
	c.keep("another", nil)
	if d := cmp.Diff(want, chatOf(t, e, log), ofChat...); d != "" {
		t.Errorf("what a turn did to its chat has stayed (-want +got):\n%s", d)
	}
	log.shelf[chatStream("c")][0] = entry()
	e.Forget()
	if c := chatOf(t, e, log); !slices.Equal(c.jobs, []string{"acorn-00"}) {
		t.Errorf("after the first was taken out the chat's jobs are %q", c.jobs)
	}
}

// TestLatest: what was asked for last is kept, and no more than was said.
func TestLatest(t *testing.T) {
	var l latest[int, string]
	if _, ok := l.get(1); ok {
		t.Error("something is kept of nothing")
	}
	for i, v := range []string{"a", "b", "c"} {
		l.put(i, v, 3)
	}
	l.get(0)
	l.put(3, "d", 3)
	l.put(2, "C", 3)
	for i, want := range []string{"a", "", "C", "d"} {
		if v, ok := l.get(i); v != want || ok != (want != "") {
			t.Errorf("%d is %q, %v, want %q", i, v, ok, want)
		}
	}
	if v, ok := l.take(2); v != "C" || !ok {
		t.Errorf("taken is %q, %v", v, ok)
	}
	if _, ok := l.get(2); ok {
		t.Error("what was taken is kept")
	}
	l.clear()
	if _, ok := l.get(3); ok {
		t.Error("something is kept after all was forgotten")
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

// What a message tells of danger is read once in a turn, also where that is nothing,
// and anew for other words and another crew.
func TestDangerIsReadOnce(t *testing.T) {
	turn := newTurn(&Engine{}, Input{})
	turn.s = newSession()
	text := "bo is by the rope"
	if found := turn.told(text); len(found) != 0 {
		t.Fatalf("of nobody's crew: %+v", found)
	}
	if again := testing.AllocsPerRun(10, func() { turn.told(text) }); again > 0 {
		t.Errorf("nothing is found anew with %v allocations", again)
	}
	turn.s.Crew = []string{"Bo"}
	if found := turn.told(text); len(found) != 1 || !found[0].Crew {
		t.Errorf("of the crew: %+v", found)
	}
	if found := turn.told("kids at the rope"); len(found) == 0 || found[0].Crew {
		t.Errorf("of other words: %+v", found)
	}
}
