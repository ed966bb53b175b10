package flow_test

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
)

// waking is a log whose jobs want a turn after each turn that did not come by
// itself.
type waking struct {
	*memory
	after time.Duration
	ticks []string // updates
	at    []time.Duration
	began time.Time
}

func (w *waking) Commit(t flow.Turn) ([]uint64, error) {
	tick := strings.HasPrefix(t.Update, "tick/")
	for i := range t.Writes {
		h, err := flow.DecodeHead(t.Writes[i].Head)
		if err != nil {
			continue
		}
		h.Wake = ""
		if !tick {
			h.Wake = time.Now().Add(w.after).UTC().Format(time.RFC3339)
		}
		if t.Writes[i].Head, err = json.Marshal(h); err != nil {
			return nil, err
		}
	}
	n, err := w.memory.Commit(t)
	w.mu.Lock()
	defer w.mu.Unlock()
	if err == nil && tick {
		w.ticks, w.at = append(w.ticks, t.Update), append(w.at, time.Since(w.began))
	}
	return n, err
}

func newWaking(after time.Duration) *waking {
	return &waking{memory: newMemory(), after: after, began: time.Now()}
}

func (w *waking) woken() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return len(w.ticks)
}

// TestAJobIsWoken: a job has its turn when the time comes that it waits for,
// not before, and once; a turn before that puts the time off.
func TestAJobIsWoken(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		w := newWaking(10 * time.Minute)
		d := newDesk(w.memory)
		d.Log = w
		running(t, d, func() {
			arrive(t, d, w.memory, plainArrival(1, "c", "/start"))
			time.Sleep(7 * time.Minute)
			arrive(t, d, w.memory, plainArrival(2, "c", "note two"))
			time.Sleep(9 * time.Minute)
			synctest.Wait()
			if n := w.woken(); n != 0 {
				t.Errorf("woken %d times before the time has come", n)
			}
			time.Sleep(time.Hour)
			synctest.Wait()
		})
		if len(w.at) != 1 || w.at[0] != 17*time.Minute {
			t.Errorf("woken after %v, want 17 minutes", w.at)
		}
		if len(w.buried) > 0 {
			t.Errorf("buried: %v", w.buried)
		}
	})
}

// TestATimeThatPassedMeanwhileIsKept: what a start is told of is woken at once
// if its time has passed; told twice it has one effect, and what was taken
// back has none.
func TestATimeThatPassedMeanwhileIsKept(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		w := newWaking(time.Hour)
		d := newDesk(w.memory)
		d.Log = w
		past := time.Now().Add(-time.Hour)
		for range 2 {
			d.Watch("larch-42", "c", past)
		}
		d.Watch("otter-10", "d", time.Now().Add(time.Minute))
		d.Watch("otter-10", "d", time.Time{})
		running(t, d, func() {
			d.Watch("larch-42", "c", past)
			time.Sleep(30 * time.Minute)
			synctest.Wait()
			d.Watch("finch-77", "e", time.Now().Add(5*time.Second))
			time.Sleep(time.Minute)
			synctest.Wait()
		})
		if len(w.at) != 2 || w.at[0] != 0 || w.at[1] != 30*time.Minute+5*time.Second ||
			!strings.HasPrefix(w.ticks[0], "tick/larch-42/") || !strings.HasPrefix(w.ticks[1], "tick/finch-77/") {
			t.Errorf("woken %v after %v", w.ticks, w.at)
		}
	})
}

// TestTickForWhoGivesTurns: who calls Turn is told of the chat, loses no time
// to an inbox that fails, and goes by the clock on the wall.
func TestTickForWhoGivesTurns(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		w := newWaking(time.Hour)
		d := newDesk(w.memory)
		full := errors.New("disk full")
		box := &fullInbox{memory: w.memory, err: full}
		d.Log, d.Inbox = w, box
		var asleep time.Duration // the machine's, whose timers stood still meanwhile
		d.Now = func() time.Time { return time.Now().Add(asleep) }
		d.Watch("larch-42", "c", time.Now().Add(8*time.Hour))
		asleep = 8 * time.Hour
		if _, err := d.Tick(t.Context()); !errors.Is(err, full) {
			t.Fatalf("a full disk gives %v", err)
		}
		box.err = nil
		chat, err := d.Tick(t.Context())
		if err != nil || chat != "c" || time.Since(w.began) > time.Minute {
			t.Fatalf("%q, %v, after %v", chat, err, time.Since(w.began))
		}
		if more, err := d.Turn(t.Context(), chat); !more || err != nil {
			t.Fatalf("its turn gives %v, %v", more, err)
		}
		if want := []string{"tick/larch-42/" + timeKey(w.began.Add(8*time.Hour))}; !slices.Equal(w.ticks, want) {
			t.Errorf("woken %v, want %v", w.ticks, want)
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Hour)
		defer cancel()
		if chat, err := d.Tick(ctx); !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("with nothing to wait for: %q, %v", chat, err)
		}
	})
}

func timeKey(at time.Time) string {
	b, _ := json.Marshal(at.Unix())
	return string(b)
}

type fullInbox struct {
	*memory
	err error
}

func (f *fullInbox) Accept(source string, cursor int64, list []flow.Arrival) error {
	if f.err != nil {
		return f.err
	}
	return f.memory.Accept(source, cursor, list)
}
