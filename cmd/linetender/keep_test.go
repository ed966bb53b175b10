package main

import (
	"encoding/json"
	"testing"
	"time"

	"linetender/flow"
	"linetender/store"
)

// TestPrune: closed jobs and the dead go when they are old, and nothing else.
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
	clock = now.AddDate(0, 0, -1)
	job("new-01", flow.Closed)
	bury("k2")
	jobs, dead, err := prune(st, now.AddDate(0, 0, -30))
	if err != nil || jobs != 1 || dead != 1 {
		t.Errorf("removed %d jobs and %d dead, %v, want one of each", jobs, dead, err)
	}
	for code, want := range map[string]uint64{"old-01": 0, "old-02": 1, "new-01": 1} {
		if _, last, err := st.Head(flow.JobStream(code)); err != nil || last != want {
			t.Errorf("job %s has %d entries, %v, want %d", code, last, err, want)
		}
	}
	if err := st.Check(); err != nil {
		t.Error(err)
	}
}
