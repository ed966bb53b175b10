package main

import (
	"context"
	"encoding/json"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
	"linetender/store"
)

// TestWatchJobs: a start finds the open jobs that want a turn, those of its
// own chats only, and none of long ago.
func TestWatchJobs(t *testing.T) {
	dir := t.TempDir()
	synctest.Test(t, func(t *testing.T) {
		began := time.Now()
		clock := began
		st, err := store.Open(dir, store.Options{Now: func() time.Time { return clock }})
		if err != nil {
			t.Fatal(err)
		}
		defer st.Close()
		keep := func(h flow.Head) {
			t.Helper()
			h.Version = 1
			head, err := json.Marshal(h)
			if err != nil {
				t.Fatal(err)
			}
			w := store.Write{Stream: flow.JobStream(h.Code), Head: head, Entries: [][]byte{[]byte("{}")}}
			if _, err := st.Commit(store.Turn{Writes: []store.Write{w}}); err != nil {
				t.Fatal(err)
			}
		}
		wake := func(after time.Duration) string { return began.Add(after).UTC().Format(time.RFC3339) }
		clock = began.Add(-wakeful - time.Hour)
		keep(flow.Head{Code: "linen-20", State: flow.Halted, Chat: "telegram/4", Wake: wake(time.Minute)})
		clock = began
		keep(flow.Head{Code: "finch-10", State: flow.Halted, Chat: "telegram/4", Wake: wake(time.Minute)})
		keep(flow.Head{Code: "otter-30", State: flow.Closed, Chat: "telegram/4", Wake: wake(time.Minute)})
		keep(flow.Head{Code: "rowan-40", State: flow.Halted, Chat: "terminal/local", Wake: wake(time.Minute)})
		keep(flow.Head{Code: "tulip-50", State: flow.Halted, Chat: "telegram/4"})
		keep(flow.Head{Code: "larch-60", State: flow.Halted, Chat: "telegram/5", Wake: wake(-time.Hour)})

		desk := &flow.Desk{Log: st, Inbox: st, Engine: newEngine(true)}
		if err := watchJobs(st, desk, chatScheme, began); err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Hour)
		defer cancel()
		woken := map[string]time.Duration{}
		for {
			if _, err := desk.Tick(ctx); err != nil {
				break
			}
			if err := st.Waiting(func(a store.Arrival) bool {
				if _, known := woken[string(a.Body)]; !known {
					woken[string(a.Body)] = time.Since(began)
				}
				return true
			}); err != nil {
				t.Fatal(err)
			}
		}
		if len(woken) != 2 || woken["larch-60"] != 0 || woken["finch-10"] != time.Minute {
			t.Errorf("woken: %v", woken)
		}
	})
}
