package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/store"
)

// TestPrune: jobs and the dead go when they are old, and nothing else.
func TestPrune(t *testing.T) {
	now := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	clock := now.AddDate(0, 0, -100)
	st, err := store.Open(t.TempDir(), store.Options{Now: func() time.Time { return clock }})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	job := func(code string, state flow.State) {
		t.Helper()
		head, err := json.Marshal(flow.Head{Version: 1, Code: code, State: state})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := st.Commit(store.Turn{Writes: []store.Write{{Stream: flow.JobStream(code), Entries: [][]byte{[]byte("{}")}, Head: head}}}); err != nil {
			t.Fatal(err)
		}
	}
	bury := func(key string) {
		t.Helper()
		if err := st.Accept("s", 0, []store.Arrival{{Key: key, Chat: "c", At: clock}}); err != nil {
			t.Fatal(err)
		}
		if err := st.Bury(key, "why"); err != nil {
			t.Fatal(err)
		}
	}
	job("old-01", flow.Closed)
	job("old-02", flow.Halted)
	bury("k1")
	clock = now.AddDate(0, 0, -25)
	job("mid-01", flow.Closed)
	job("mid-02", flow.Halted)
	clock = now.AddDate(0, 0, -1)
	job("new-01", flow.Closed)
	job("new-02", flow.Halted)
	bury("k2")
	p, err := prune(st, now, 20)
	if want := (pruned{jobs: 3, dead: 1}); err != nil || p != want {
		t.Errorf("removed %+v, %v, want %+v", p, err, want)
	}
	// One that is not closed stays for a month whatever is asked for.
	for code, want := range map[string]uint64{"old-01": 0, "old-02": 0, "mid-01": 0, "mid-02": 1, "new-01": 1, "new-02": 1} {
		if _, last, err := st.Head(flow.JobStream(code)); err != nil || last != want {
			t.Errorf("job %s has %d entries, %v, want %d", code, last, err, want)
		}
	}
	if err := st.Check(); err != nil {
		t.Error(err)
	}
}

// TestPruneWords: with an old job go the channel's numbers of its messages and
// the words and names of its chat; the leave to talk stays, and who has gone
// on talking is left alone.
func TestPruneWords(t *testing.T) {
	now := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	clock := now.AddDate(0, 0, -100)
	dir := t.TempDir()
	open := func() (*store.Store, error) {
		return store.Open(dir, store.Options{Now: func() time.Time { return clock }})
	}
	st, err := open()
	if err != nil {
		t.Fatal(err)
	}
	defer func() { st.Close() }()
	desk := &flow.Desk{Log: st, Inbox: st, Engine: newEngine(false), Eraser: eraser{Store: st}}
	n := 0
	say := func(chat, who, text string) {
		t.Helper()
		n++
		desk.Decode = func(a flow.Arrival) (flow.Input, bool, error) {
			return flow.Input{At: clock, Text: text, Direct: true, Person: flow.Person{ID: chat, Name: who}}, true, nil
		}
		if err := st.Accept("s", int64(n), []store.Arrival{{Key: fmt.Sprint("k", n), Chat: chat, At: clock}}); err != nil {
			t.Fatal(err)
		}
		if _, err := desk.Turn(t.Context(), chat); err != nil {
			t.Fatal(err)
		}
		due, err := st.Due(clock, 100, nil)
		for err == nil && len(due) > 0 {
			for _, d := range due {
				m, err := flow.DecodeMessage(d.Body)
				if err != nil {
					t.Fatal(err)
				}
				if err := st.Sent(d.ID, m.Slot, []byte("receipt of "+who)); err != nil {
					t.Fatal(err)
				}
			}
			due, err = st.Due(clock, 100, nil)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	owner, err := desk.Engine.OwnerCode(st, clock)
	if err != nil {
		t.Fatal(err)
	}
	say("c/1", "Ottoline", owner)
	invite := func() string {
		t.Helper()
		var code string
		n++
		desk.Decode = func(a flow.Arrival) (flow.Input, bool, error) {
			return flow.Input{At: clock, Text: "invite", Direct: true, Person: flow.Person{ID: "c/1", Name: "Ottoline"}}, true, nil
		}
		if err := st.Accept("s", int64(n), []store.Arrival{{Key: fmt.Sprint("k", n), Chat: "c/1", At: clock}}); err != nil {
			t.Fatal(err)
		}
		if _, err := desk.Turn(t.Context(), "c/1"); err != nil {
			t.Fatal(err)
		}
		due, err := st.Due(clock, 100, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range due {
			if found := regexp.MustCompile(`\b[a-z]+(-[a-z]+){2,}-[0-9]+\b`).Find(d.Body); found != nil {
				code = string(found)
			}
			if err := st.Sent(d.ID, "", nil); err != nil {
				t.Fatal(err)
			}
		}
		if code == "" {
			t.Fatalf("no code in %v", due)
		}
		return code
	}
	say("c/2", "Annamaria", invite())
	say("c/3", "Bobolink", invite())
	say("c/4", "Stranger", "let me in, said the stranger")
	clock = now.AddDate(0, 0, -1)
	say("c/3", "Bobolink", "nobody is hurt")

	if p, err := prune(st, now, 60); err != nil || p.jobs != 2 || p.chats != 4 {
		t.Errorf("removed %+v, %v, want two jobs and the words of four chats", p, err)
	}
	if p, err := prune(st, now, 60); err != nil || p != (pruned{}) {
		t.Errorf("looked again it removed %+v, %v", p, err)
	}
	if err := st.Check(); err != nil {
		t.Error(err)
	}
	say("c/2", "Anon", "hello again") // let in still, so it begins a job
	jobs := 0
	err = st.Streams(flow.JobStream(""), "", false, func(string, []byte, uint64, time.Time) error { jobs++; return nil })
	if err != nil || jobs != 2 {
		t.Errorf("%d jobs, %v, want hers and his", jobs, err)
	}
	held := func(always, never []string) {
		t.Helper()
		if err := errors.Join(st.Close(), store.Compact(dir, store.Options{})); err != nil {
			t.Fatal(err)
		}
		file, err := os.ReadFile(filepath.Join(dir, store.FileName))
		if err != nil {
			t.Fatal(err)
		}
		if st, err = open(); err != nil {
			t.Fatal(err)
		}
		desk.Log, desk.Inbox, desk.Eraser = st, st, eraser{Store: st}
		for _, s := range never {
			if strings.Contains(string(file), s) {
				t.Errorf("%q is still in the file", s)
			}
		}
		for _, s := range always {
			if !strings.Contains(string(file), s) {
				t.Errorf("%q is no longer in the file", s)
			}
		}
	}
	held([]string{"Bobolink", "nobody is hurt", "Anon"}, []string{"Annamaria", "Stranger", "said the stranger"})
	// What the door knows of one who asks to be forgotten goes at once.
	say("c/5", "Corwin", invite())
	held([]string{"Corwin"}, nil)
	say("c/5", "Corwin", "forget me now")
	held([]string{"Bobolink"}, []string{"Corwin"})
}
