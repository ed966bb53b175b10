package flow_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
)

// held is a log that holds back the turns of some updates, before they are
// kept, until they are let go.
type held struct {
	*memory
	held map[string]chan struct{}
}

func (h *held) Commit(t flow.Turn) ([]uint64, error) {
	if let, ok := h.held[t.Update]; ok {
		<-let
	}
	return h.memory.Commit(t)
}

// running runs a desk on m inside a bubble for as long as body.
func running(t *testing.T, d *flow.Desk, body func()) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- d.Run(ctx) }()
	synctest.Wait()
	body()
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
}

func arrive(t *testing.T, d *flow.Desk, m *memory, list ...flow.Arrival) {
	t.Helper()
	if err := m.Accept("test", 0, list); err != nil {
		t.Fatal(err)
	}
	d.Arrived(list)
}

// heard is what the jobs heard, in the order of their logs.
func (m *memory) heard(t *testing.T) (texts []string) {
	t.Helper()
	m.mu.Lock()
	defer m.mu.Unlock()
	for stream, entries := range m.streams {
		if !strings.HasPrefix(stream, "job/") {
			continue
		}
		for _, body := range entries {
			e, err := flow.DecodeEntry(body)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, e.Heard.Text)
		}
	}
	return texts
}

// TestAStopWaitsForNoTurn: a stop has its turn while one of the same chat is
// under way and others wait behind it; the one under way begins again after it,
// and each has one effect.
func TestAStopWaitsForNoTurn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := newMemory()
		let := make(chan struct{})
		d := newDesk(m)
		d.Log = &held{m, map[string]chan struct{}{"c/2": let}}
		running(t, d, func() {
			arrive(t, d, m, plainArrival(1, "c", "/start"))
			synctest.Wait()
			arrive(t, d, m, plainArrival(2, "c", "note two"), plainArrival(3, "c", "note three"))
			synctest.Wait()
			m.sent()
			stop := plainArrival(4, "c", "wait, stop")
			arrive(t, d, m, stop)
			synctest.Wait()
			said := m.sent()
			if len(said) == 0 || !said[0].Urgent || !says(said, "stop.called") {
				t.Errorf("while a turn is under way a stop says %v", keys(said))
			}
			arrive(t, d, m, stop) // delivered again
			synctest.Wait()
			close(let)
			synctest.Wait()
		})
		if got, want := m.heard(t), []string{"/start", "wait, stop", "note two", "note three"}; !slices.Equal(got, want) {
			t.Errorf("the job heard %q, want %q", got, want)
		}
	})
}

// TestAStopIsFoundAtTheStart: what an earlier run has left is looked through
// for stops before anything else has its turn.
func TestAStopIsFoundAtTheStart(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := newMemory()
		let := make(chan struct{})
		d := newDesk(m)
		if err := m.Accept("test", 0, []flow.Arrival{plainArrival(1, "c", "/start")}); err != nil {
			t.Fatal(err)
		}
		if _, err := d.Turn(t.Context(), "c"); err != nil {
			t.Fatal(err)
		}
		d.Log = &held{m, map[string]chan struct{}{"c/2": let}}
		d.Waiting = func(visit func(flow.Arrival) bool) error {
			for _, a := range m.waiting["c"] {
				if !visit(a) {
					break
				}
			}
			return nil
		}
		left := []flow.Arrival{plainArrival(2, "c", "note two"), plainArrival(3, "c", "panic"), plainArrival(4, "c", "STOP")}
		if err := m.Accept("test", 0, left); err != nil {
			t.Fatal(err)
		}
		running(t, d, func() {
			if got := m.heard(t); !slices.Equal(got, []string{"/start", "STOP"}) {
				t.Errorf("the job heard %q before all else", got)
			}
			close(let)
			time.Sleep(time.Minute)
		})
	})
}

// TestAStopIsTriedUntilItIsKept: while the log fails, the stop is cried and
// tried again; it is buried by no number of such failures.
func TestAStopIsTriedUntilItIsKept(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := newMemory()
		d := newDesk(m)
		var cried atomic.Int32
		d.Unkept = func(context.Context, flow.Arrival) { cried.Add(1) }
		running(t, d, func() {
			arrive(t, d, m, plainArrival(1, "c", "/start"), plainArrival(2, "c", "note two"))
			synctest.Wait()
			m.mu.Lock()
			m.refuse = func(flow.Turn) error { return errors.New("disk full") }
			m.mu.Unlock()
			arrive(t, d, m, plainArrival(3, "c", "stop"))
			time.Sleep(10 * time.Second)
			m.mu.Lock()
			m.refuse = nil
			m.mu.Unlock()
			time.Sleep(2 * time.Second)
		})
		if got := m.heard(t); got[len(got)-1] != "stop" || len(got) != 3 || cried.Load() < 5 || len(m.buried) > 0 {
			t.Errorf("the job heard %q, cried %d times, buried %v", got, cried.Load(), m.buried)
		}
	})
}

// TestAStopFindsNoQueue: with a turn under way in each of many chats, not all
// of them are at the log.
func TestAStopFindsNoQueue(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		m := newMemory()
		d := newDesk(m)
		let := make(chan struct{})
		h := &held{m, map[string]chan struct{}{}}
		d.Log = h
		var list []flow.Arrival
		for i := range 100 {
			a := plainArrival(1, fmt.Sprint("c", i), "/start")
			h.held[a.Key] = let
			list = append(list, a)
		}
		running(t, d, func() {
			arrive(t, d, m, list...)
			synctest.Wait()
			arrive(t, d, m, plainArrival(1, "d", "stop"))
			synctest.Wait()
			if said := m.sent(); !says(said, "stop.called") || len(said) != 1 {
				t.Errorf("a hundred turns are under way, and a stop says %v", keys(said))
			}
			close(let)
			synctest.Wait()
		})
		if len(m.done) != 101 {
			t.Errorf("%d turns had their effect", len(m.done))
		}
	})
}
