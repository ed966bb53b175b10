package flow

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strings"
	"sync"
	"time"
)

// A Desk gives every arrival its turn: one at a time in each chat, chats side
// by side, a stop ahead of and beside them all. It keeps nothing that is not in
// the log: a turn begins by reading and ends by committing, and if another writer
// was first it begins again. What a job waits for it is given when the time comes.
type Desk struct {
	Log    Log
	Inbox  Inbox
	Engine *Engine

	// Decode reads an arrival as its channel wrote it down. False means that
	// there is nothing in it for the conversation.
	Decode func(Arrival) (Input, bool, error)

	// Complete, when not nil, adds to an input that brings files into a job
	// what its channel finds out of them, such as their digests. It returns
	// soon, and the input as it was where nothing was found. No stop waits
	// for it.
	Complete func(context.Context, Input) Input

	// Waiting, when not nil, shows all that waits in the inbox until visit
	// returns false, so that at the start too the stops among it go first.
	Waiting func(visit func(Arrival) bool) error

	// Posted, when not nil, is called after a turn has left something in the
	// outbox of chat. It must not block.
	Posted func(chat string)

	// Eraser, when not nil, lets people have removed what is kept of them.
	Eraser Eraser

	// Pace, when not nil, bounds how fast a chat is listened to.
	Pace *Pace

	// Unkept, when not nil, is called with an arrival whose turn could not be
	// kept, for what must be said all the same. It must not block.
	Unkept func(context.Context, Arrival)

	// Now is the clock; nil means time.Now.
	Now func() time.Time

	// Report, when not nil, gets what the operator must know: errors in full.
	Report *slog.Logger

	once   sync.Once
	wake   chan struct{}
	mu     sync.Mutex
	line   line
	failed map[string]int // tries of an arrival, by key
	stops  stops
	alarms alarms
	came   latest[string, reading] // by key
}

// Tries is how often an arrival is tried before it is buried.
const Tries = 3

// races is how often a turn begins again because another writer was first.
const races = 50

// afresh is after how many of them the log is read from its beginning.
const afresh = 5

// retry is how long a chat rests when the log or the inbox failed it.
const retry = time.Second

func (d *Desk) setup() {
	d.once.Do(func() {
		d.wake = make(chan struct{}, 1)
		d.line = newLine(&d.mu)
		d.failed = map[string]int{}
		d.stops = newStops()
		d.alarms = newAlarms()
	})
}

// Wake says that something may have arrived.
func (d *Desk) Wake() {
	d.setup()
	select {
	case d.wake <- struct{}{}:
	default:
	}
}

// Run gives turns until ctx ends, and returns when the turns under way are
// done. What has arrived and had no turn keeps for the next run.
func (d *Desk) Run(ctx context.Context) error {
	d.setup()
	var turns sync.WaitGroup
	shut := d.open(ctx, &turns)
	defer shut()
	defer turns.Wait()
	if err := d.findStops(); err != nil {
		d.report("start", err)
	}
	turns.Go(func() { d.runStops(ctx) })
	turns.Go(func() { d.runTicks(ctx) })
	d.Wake()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-d.wake:
		}
		chats, err := d.Inbox.Chats()
		if err != nil {
			d.report("list waiting chats", err)
			time.AfterFunc(retry, d.Wake)
			continue
		}
		for _, chat := range chats {
			d.queue(chat)
		}
	}
}

// Turn gives the oldest arrival of chat its turn. It reports whether another
// look is worth while. An arrival that can't be worked on stays first in line
// for [Tries] tries, then it is buried and the person is told; a failing log
// or inbox buries nothing.
//
// The caller sees to it that one chat has one turn at a time; a stop that
// [Desk.Arrived] was told of is the exception.
func (d *Desk) Turn(ctx context.Context, chat string) (bool, error) {
	d.setup()
	a, ok, err := d.Inbox.Next(chat)
	if err != nil {
		return false, fmt.Errorf("next arrival of %q: %w", chat, err)
	}
	if !ok {
		return false, nil
	}
	if ended, ok := d.ahead(a.Key); ok {
		d.aside(func() {
			select { // it is a stop, and has its turn already
			case <-ended:
			case <-ctx.Done():
			}
		})
		return ctx.Err() == nil, nil
	}
	_, more, err := d.give(ctx, a)
	return more, err
}

// give gives an arrival its turn. over reports that it is out of the inbox;
// more, that log and inbox do what they should.
func (d *Desk) give(ctx context.Context, a Arrival) (over, more bool, err error) {
	err = d.attempt(ctx, a)
	var failed *storageError
	switch {
	case err == nil:
		d.forget(a.Key)
		return true, true, nil
	case errors.As(err, &failed):
		if d.Unkept != nil {
			d.Unkept(ctx, a)
		}
		return false, false, fmt.Errorf("arrival %q: %w", a.Key, err)
	case d.count(a.Key) < Tries:
		return false, true, fmt.Errorf("arrival %q: %w", a.Key, err)
	}
	d.forget(a.Key)
	if buried := d.bury(a, err); buried != nil {
		return false, false, buried
	}
	return true, true, fmt.Errorf("arrival %q buried after %d tries: %w", a.Key, Tries, err)
}

// storageError marks what the log or the inbox did wrong, not the arrival.
type storageError struct{ err error }

func (e *storageError) Error() string { return e.err.Error() }
func (e *storageError) Unwrap() error { return e.err }

// attempt runs one turn. A panic in it is ours, and must not end the others.
func (d *Desk) attempt(ctx context.Context, a Arrival) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic in a turn: %v\n%s", p, debug.Stack())
		}
	}()
	r, err := d.read(a)
	if err != nil {
		return fmt.Errorf("decode: %w", err)
	}
	in, stop := r.in, r.stop
	if !stop {
		d.letStopsPass()
	}
	if !r.ok {
		return d.commit(Turn{Update: a.Key, Chat: a.Chat})
	}
	if slow, is, err := d.slowed(in); err != nil {
		return err
	} else if is {
		return d.commit(slow)
	}
	if gone, is, err := d.forgetting(in); err != nil {
		return err
	} else if is {
		return d.commit(gone)
	}
	if !stop {
		if in, err = d.completed(ctx, in); err != nil {
			return err
		}
	}
	for n := range races {
		if n == afresh {
			d.Engine.Forget() // something may have been taken out of the log
		}
		turn, err := d.Engine.Turn(d.Log, in)
		if err != nil {
			return err
		}
		if err = d.commit(turn); !Moved(err) {
			return err
		}
		if ctx.Err() != nil {
			return &storageError{ctx.Err()}
		}
	}
	return &storageError{fmt.Errorf("another writer was first %d times", races)}
}

// completed is an input with what can be found out of the pictures that came
// with it. Those that go into no job, because a stranger sent them, are left
// alone.
func (d *Desk) completed(ctx context.Context, in Input) (Input, error) {
	if d.Complete == nil || len(in.Files) == 0 {
		return in, nil
	}
	turn, err := d.Engine.Turn(d.Log, in)
	if err != nil {
		return in, err
	}
	for _, w := range turn.Writes {
		if strings.HasPrefix(w.Stream, jobStream("")) {
			d.aside(func() { in = d.Complete(ctx, in) })
			d.letStopsPass()
			return in, nil
		}
	}
	return in, nil
}

// reading is an arrival as it was read.
type reading struct {
	in   Input
	ok   bool // there is something in it for the conversation
	stop bool
}

// mostRead is how many arrivals are kept as they were read when they came in,
// until their turn: some megabyte, and more than wait but in a flood.
const mostRead = 4096

// read reads an arrival, if it was not read when it came in.
func (d *Desk) read(a Arrival) (reading, error) {
	if r, ok := d.came.take(a.Key); ok && r.in.Chat == a.Chat {
		return r, nil
	}
	in, ok, err := d.decode(a)
	if err != nil {
		return reading{}, err
	}
	return reading{in: in, ok: ok, stop: ok && d.Engine.Urgent(in)}, nil
}

// decode reads an arrival: our own, or one of the channel.
func (d *Desk) decode(a Arrival) (Input, bool, error) {
	in, ok := ticked(a)
	if !ok {
		var err error
		if in, ok, err = d.Decode(a); err != nil || !ok {
			return Input{}, false, err
		}
	}
	in.Update, in.Chat = a.Key, a.Chat
	return in, true, nil
}

func (d *Desk) commit(t Turn) error {
	_, err := d.Log.Commit(t)
	if Done(err) {
		return nil
	}
	if err != nil {
		return &storageError{fmt.Errorf("commit turn: %w", err)}
	}
	d.arm(t)
	if d.Posted != nil {
		told := map[string]bool{}
		for _, p := range t.Outbox {
			if !told[p.Chat] {
				told[p.Chat] = true
				d.Posted(p.Chat)
			}
		}
	}
	return nil
}

// bury takes the arrival out of the way and tells the person, in that order:
// a message about a failure must not fail the chat again.
func (d *Desk) bury(a Arrival, cause error) error {
	if err := d.Inbox.Bury(a.Key, cause.Error()); err != nil {
		return fmt.Errorf("bury arrival %q: %w", a.Key, err)
	}
	turn, err := d.Engine.sorry(a)
	if err == nil {
		err = d.commit(turn)
	}
	if err != nil {
		return fmt.Errorf("tell chat %q of buried arrival: %w", a.Chat, err)
	}
	return nil
}

func (d *Desk) count(key string) int {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.failed[key]++
	return d.failed[key]
}

func (d *Desk) forget(key string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.failed, key)
}

func (d *Desk) now() time.Time {
	if d.Now != nil {
		return d.Now()
	}
	return time.Now()
}

func (d *Desk) report(what string, err error, args ...any) {
	if d.Report != nil {
		d.Report.Error(what, append(args, "err", err)...)
	}
}
