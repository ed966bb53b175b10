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
	codes map[string]bool
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
	return &waking{memory: newMemory(), after: after, began: time.Now(), codes: map[string]bool{}}
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

// begin begins a job in a chat, and returns its code.
func (w *waking) begin(t *testing.T, d *flow.Desk, n int, chat string) (code string) {
	t.Helper()
	if err := w.Accept("test", 0, []flow.Arrival{plainArrival(n, chat, "/start")}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Turn(t.Context(), chat); err != nil {
		t.Fatal(err)
	}
	for stream, head := range w.heads {
		h, err := flow.DecodeHead(head)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(stream, "job/") && !w.codes[h.Code] {
			w.codes[h.Code], code = true, h.Code
		}
	}
	d.Watch(code, chat, time.Time{})
	return code
}

// TestATimeThatPassedMeanwhileIsKept: what a start is told of is woken at once
// if its time has passed; told twice it has one effect, and what was taken
// back has none.
func TestATimeThatPassedMeanwhileIsKept(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		w := newWaking(time.Hour)
		d := newDesk(w.memory)
		d.Log = w
		first, second, third := w.begin(t, d, 1, "c"), w.begin(t, d, 1, "d"), w.begin(t, d, 1, "e")
		past := time.Now().Add(-time.Hour)
		for range 2 {
			d.Watch(first, "c", past)
		}
		d.Watch(second, "d", time.Now().Add(time.Minute))
		d.Watch(second, "d", time.Time{})
		running(t, d, func() {
			d.Watch(first, "c", past)
			time.Sleep(30 * time.Minute)
			synctest.Wait()
			d.Watch(third, "e", time.Now().Add(5*time.Second))
			time.Sleep(time.Minute)
			synctest.Wait()
		})
		if len(w.at) != 2 || w.at[0] != 0 || w.at[1] != 30*time.Minute+5*time.Second ||
			!strings.HasPrefix(w.ticks[0], "tick/"+first+"/") || !strings.HasPrefix(w.ticks[1], "tick/"+third+"/") {
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
		box := &fullInbox{memory: w.memory}
		d.Log, d.Inbox = w, box
		var asleep time.Duration // the machine's, whose timers stood still meanwhile
		d.Now = func() time.Time { return time.Now().Add(asleep) }
		code := w.begin(t, d, 1, "c")
		box.err = full
		d.Watch(code, "c", time.Now().Add(8*time.Hour))
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
		if want := []string{"tick/" + code + "/" + timeKey(w.began.Add(8*time.Hour))}; !slices.Equal(w.ticks, want) {
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
