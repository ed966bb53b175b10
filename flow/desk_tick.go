package flow

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"strconv"
	"strings"
	"sync/atomic"
	"time"
)

// A job may want a turn though nobody speaks: to remind, to tell that somebody
// is silent, to reopen what has gone stale. Its head says when ([Head.Wake]).
// The desk notes that of every turn that it commits, and when the time comes
// it puts an arrival of its own into the inbox. From there on it is an arrival
// like any other: durable, in order in its chat, with one effect. What is due
// is in the heads; the desk is told of it again at a start, by Watch.

// tickSource is the source of the desk's own arrivals.
const tickSource = "tick"

// longestSleep bounds how long a timer runs, because one stands still while
// the machine sleeps, and the clock on the wall does not.
const longestSleep = time.Minute

// alarms are the times that jobs wait for, by code. The map is guarded by the
// desk's lock.
type alarms struct {
	set  map[string]alarm
	ring chan struct{}
	next *atomic.Int64 // what Tick sleeps for, Unix nanoseconds
}

type alarm struct {
	chat string
	at   time.Time
}

func newAlarms() alarms {
	return alarms{set: map[string]alarm{}, ring: make(chan struct{}, 1), next: &atomic.Int64{}}
}

// Watch has the desk give the job with this code a turn at a time, in a chat.
// The zero time takes back what it was told before. Turns that the desk
// commits need no word of it; a start does.
func (d *Desk) Watch(code, chat string, at time.Time) {
	d.setup()
	d.mu.Lock()
	if at.IsZero() || chat == "" {
		delete(d.alarms.set, code)
		d.mu.Unlock()
		return
	}
	d.alarms.set[code] = alarm{chat, at}
	d.mu.Unlock()
	if at.UnixNano() >= d.alarms.next.Load() {
		return
	}
	select {
	case d.alarms.ring <- struct{}{}:
	default:
	}
}

// arm notes what the jobs of a turn wait for now.
func (d *Desk) arm(t Turn) {
	for _, w := range t.Writes {
		code, ok := strings.CutPrefix(w.Stream, jobStream(""))
		if !ok || w.Head == nil {
			continue
		}
		if !bytes.Contains(w.Head, []byte(`"wake":`)) { // as most; in words a quote has a stroke before it
			d.Watch(code, "", time.Time{})
			continue
		}
		h, err := DecodeHead(w.Head)
		if err != nil {
			d.report("when a job wants a turn", err, "job", code)
			continue
		}
		at, err := h.wakes()
		if err != nil {
			d.report("when a job wants a turn", err, "job", code)
			continue
		}
		d.Watch(code, cmp.Or(h.Chat, t.Chat), at)
	}
}

// wakes is Wake as a time; the zero time for never.
func (h Head) wakes() (time.Time, error) {
	if h.Wake == "" || h.State == Closed {
		return time.Time{}, nil
	}
	at, err := time.Parse(time.RFC3339, h.Wake)
	if err != nil {
		return time.Time{}, fmt.Errorf("wake of job %q: %w", h.Code, err)
	}
	return at, nil
}

// runTicks lets time pass until ctx ends.
func (d *Desk) runTicks(ctx context.Context) {
	for ctx.Err() == nil {
		if _, err := d.Tick(ctx); err != nil && ctx.Err() == nil {
			d.report("tick", err)
			pause(ctx, retry)
			continue
		}
		d.Wake()
	}
}

func pause(ctx context.Context, long time.Duration) {
	t := time.NewTimer(long)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
}

// Tick waits until a job wants a turn, puts its arrival into the inbox and
// returns the chat that has it waiting. [Desk.Run] does so by itself; it is for
// who calls [Desk.Turn]. An error is that of ctx or of the inbox; of the latter
// the time is not lost, and Tick may be called again.
func (d *Desk) Tick(ctx context.Context) (chat string, err error) {
	d.setup()
	for {
		code, a, ok := d.first()
		sleep := longestSleep
		if ok {
			sleep = min(sleep, a.at.Sub(d.now()))
		}
		if sleep <= 0 {
			if err := d.Inbox.Accept(tickSource, 0, []Arrival{a.arrival(code, d.now())}); err != nil {
				return "", fmt.Errorf("keep that job %q wants a turn: %w", code, err)
			}
			d.passed(code, a)
			return a.chat, nil
		}
		timer := time.NewTimer(sleep)
		select {
		case <-ctx.Done():
			err = ctx.Err()
		case <-d.alarms.ring:
		case <-timer.C:
		}
		timer.Stop()
		if err != nil {
			return "", err
		}
	}
}

// first is the alarm that is next, and what a later Watch must be sooner than
// to be heard at once.
func (d *Desk) first() (code string, next alarm, ok bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for c, a := range d.alarms.set {
		if !ok || a.at.Before(next.at) {
			code, next, ok = c, a, true
		}
	}
	until := d.now().Add(longestSleep)
	if ok && next.at.Before(until) {
		until = next.at
	}
	d.alarms.next.Store(until.UnixNano())
	return code, next, ok
}

// passed takes out an alarm that has had its arrival, unless the job has
// another by now.
func (d *Desk) passed(code string, a alarm) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if now, ok := d.alarms.set[code]; ok && now.at.Equal(a.at) {
		delete(d.alarms.set, code)
	}
}

// arrival is what is put into the inbox. Its key is that of the time that was
// waited for: set twice, it has one effect.
func (a alarm) arrival(code string, now time.Time) Arrival {
	return Arrival{
		Key: tickSource + "/" + code + "/" + strconv.FormatInt(a.at.Unix(), 10), Chat: a.chat, At: now.UTC(), Body: []byte(code),
	}
}

// ticked reads an arrival of the desk's own.
func ticked(a Arrival) (Input, bool) {
	if !strings.HasPrefix(a.Key, tickSource+"/") {
		return Input{}, false
	}
	return Input{Tick: string(a.Body), At: a.At}, true
}
