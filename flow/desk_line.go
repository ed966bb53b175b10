package flow

import (
	"context"
	"runtime"
	"sync"
	"time"
)

// Chats wait in one line. As many hands as keep processors and log busy take the
// first of it, give it one turn and put it at the end again, so that a chat that
// says much does not keep those that say little. A hand that has nothing to do
// waits for the next: a new one would begin with a small stack, which the first turn
// makes grow step by step, and that took a seventh of a turn where one chat speaks.

// line is who waits for a turn. It is guarded by the desk's lock.
type line struct {
	waits []string        // chats, in order
	busy  map[string]bool // chats that wait or have a turn
	hands int             // at work or idle, those not counted that stand aside
	idle  int             // of them, who wait for a chat and are not called yet
	call  *sync.Cond      // calls one that is idle, or all when the desk shuts
	lend  func()          // puts one more to work; nil while nobody runs the desk
}

// atOnce is how many turns are worked on at a time, stops not counted. More
// would only make a queue at the log, which a stop that comes in would have to
// stand in.
func atOnce() int { return max(4, 2*runtime.GOMAXPROCS(0)) }

// open puts hands to work until ctx ends; the returned function ends that when
// none of turns is left.
func (d *Desk) open(ctx context.Context, turns *sync.WaitGroup) (shut func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.line.lend = func() { turns.Go(func() { d.work(ctx) }) }
	freed := context.AfterFunc(ctx, func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		d.line.idle = 0
		d.line.call.Broadcast()
	})
	return func() {
		freed()
		d.mu.Lock()
		defer d.mu.Unlock()
		d.line = newLine(&d.mu) // what waits keeps in the inbox
	}
}

func newLine(guard sync.Locker) line {
	return line{busy: map[string]bool{}, call: sync.NewCond(guard)}
}

// queued puts the chats of what has just arrived in the line, and reports whether
// there is one: nobody need look for who waits.
func (d *Desk) queued(list []Arrival) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.line.lend == nil {
		return false
	}
	for _, a := range list {
		d.stand(a.Chat)
	}
	return true
}

// queue puts a chat at the end of the line.
func (d *Desk) queue(chat string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.stand(chat)
}

// stand puts a chat at the end of the line, unless it is there or has a turn; the
// caller holds the lock.
func (d *Desk) stand(chat string) {
	if d.line.busy[chat] {
		return
	}
	d.line.busy[chat] = true
	d.line.waits = append(d.line.waits, chat)
	d.help()
}

// help calls an idle hand if somebody waits, or puts one more to work where there is
// room; the caller holds the lock.
func (d *Desk) help() {
	switch {
	case len(d.line.waits) == 0:
	case d.line.idle > 0:
		d.line.idle--
		d.line.call.Signal()
	case d.line.hands < atOnce() && d.line.lend != nil:
		d.line.hands++
		d.line.lend()
	}
}

// work gives turns to whoever is first in the line, until ctx ends or others do the
// work.
func (d *Desk) work(ctx context.Context) {
	for {
		chat, ok := d.nextChat(ctx)
		if !ok {
			return
		}
		more, err := d.Turn(ctx, chat)
		if err != nil {
			d.report("turn", err, "chat", chat)
		}
		d.done(chat, more && ctx.Err() == nil)
		switch {
		case more:
		case err != nil: // the log or the inbox failed it
			time.AfterFunc(retry, d.Wake)
		default:
			// Something may have arrived between the last look and the
			// chat being out of the line.
			if _, waits, err := d.Inbox.Next(chat); err == nil && waits && ctx.Err() == nil {
				d.Wake()
			}
		}
	}
}

// nextChat takes the first of the line, and waits for one; false says that the hand
// may go.
func (d *Desk) nextChat(ctx context.Context) (chat string, ok bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for len(d.line.waits) == 0 && d.line.hands <= atOnce() && ctx.Err() == nil {
		d.line.idle++
		d.line.call.Wait()
	}
	if d.line.hands > atOnce() || ctx.Err() != nil {
		d.line.hands--
		if ctx.Err() == nil {
			d.help() // what it would have taken
		}
		return "", false
	}
	chat, d.line.waits = d.line.waits[0], d.line.waits[1:]
	return chat, true
}

// done puts a chat that had its turn at the end of the line, or out of it.
func (d *Desk) done(chat string, again bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if again {
		d.line.waits = append(d.line.waits, chat)
	} else {
		delete(d.line.busy, chat)
	}
}

// aside runs what only waits, while another hand does the work.
func (d *Desk) aside(wait func()) {
	d.mu.Lock()
	d.line.hands--
	d.help()
	d.mu.Unlock()
	wait()
	d.mu.Lock()
	d.line.hands++
	d.mu.Unlock()
}
