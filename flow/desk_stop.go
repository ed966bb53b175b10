package flow

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"sync"
	"time"
)

// A stop waits for nothing. Where arrivals are made known as they come in, one
// that calls a stop has its turn at once, ahead of what its chat said before
// and beside the turn that the chat has under way. It is committed by its own
// key, so it has one effect however often it is met; the turn beside it then
// finds that another writer was first, and begins again after the stop.

// stops are the stops that have come in and have not had their turn. It is
// guarded by the desk's lock.
type stops struct {
	hurry   chan struct{}
	running bool                     // somebody gives them their turns
	waiting map[string][]Arrival     // by chat, in order
	busy    map[string]bool          // chats that a stop has its turn in
	tries   map[string]chan struct{} // of those that wait, by key: closed when the turn that it has next, or now, has ended
	now     map[string]chan struct{} // those that have their turn now
}

func newStops() stops {
	return stops{
		hurry: make(chan struct{}, 1), waiting: map[string][]Arrival{}, busy: map[string]bool{},
		tries: map[string]chan struct{}{}, now: map[string]chan struct{}{},
	}
}

// Arrived says what has come into the inbox, once it is durable there. What
// calls a stop has its turn at once, the rest as after [Desk.Wake]. It does
// not block.
func (d *Desk) Arrived(list []Arrival) {
	d.setup()
	for _, a := range list {
		if d.halts(a) {
			d.hurried(a)
		}
	}
	if !d.queued(list) {
		d.Wake()
	}
}

// halts reports whether an arrival calls a stop. One that can't be read does
// not; its own turn will say so.
func (d *Desk) halts(a Arrival) (yes bool) {
	defer func() {
		if recover() != nil {
			yes = false
		}
	}()
	r, err := d.read(a)
	if err == nil {
		d.came.put(a.Key, r, mostRead)
	}
	return err == nil && r.stop
}

func (d *Desk) hurried(a Arrival) {
	d.mu.Lock()
	if d.stops.tries[a.Key] == nil && d.stops.running {
		d.stops.waiting[a.Chat] = append(d.stops.waiting[a.Chat], a)
		d.stops.tries[a.Key] = make(chan struct{})
	}
	d.mu.Unlock()
	d.hasten()
}

func (d *Desk) hasten() {
	select {
	case d.stops.hurry <- struct{}{}:
	default:
	}
}

// findStops looks for stops among what an earlier run has left.
func (d *Desk) findStops() error {
	d.mu.Lock()
	d.stops.running = true
	d.mu.Unlock()
	if d.Waiting == nil {
		return nil
	}
	err := d.Waiting(func(a Arrival) bool {
		if d.halts(a) {
			d.hurried(a)
		}
		return true
	})
	if err != nil {
		return fmt.Errorf("look for stops that wait: %w", err)
	}
	return nil
}

// runStops gives stops their turns until ctx ends.
func (d *Desk) runStops(ctx context.Context) {
	var turns sync.WaitGroup
	defer turns.Wait()
	for {
		select {
		case <-ctx.Done():
			d.mu.Lock()
			d.stops.running = false
			d.mu.Unlock()
			return
		case <-d.stops.hurry:
		}
		d.mu.Lock()
		for chat := range d.stops.waiting {
			if !d.stops.busy[chat] {
				d.stops.busy[chat] = true
				turns.Go(func() { d.stopsOf(ctx, chat) })
			}
		}
		d.mu.Unlock()
	}
}

// stopsOf gives the stops of one chat their turns, in order, until there is
// none or the log fails it.
func (d *Desk) stopsOf(ctx context.Context, chat string) {
	for {
		a, ok := d.firstStop(ctx, chat)
		if !ok {
			return
		}
		over, more, err := d.give(ctx, a)
		if err != nil {
			d.report("turn of a stop", err, "chat", chat)
		}
		d.endStop(a, over, more)
		if !more {
			time.AfterFunc(retry, d.hasten)
			return
		}
	}
}

// firstStop takes the next stop of a chat into hand; none frees the chat.
func (d *Desk) firstStop(ctx context.Context, chat string) (Arrival, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	list := d.stops.waiting[chat]
	if len(list) == 0 || ctx.Err() != nil {
		delete(d.stops.busy, chat)
		return Arrival{}, false
	}
	d.stops.now[list[0].Key] = d.stops.tries[list[0].Key]
	return list[0], true
}

// endStop ends the turn of a stop. One that is not over stays first; without
// more the chat is free until it is tried again.
func (d *Desk) endStop(a Arrival, over, more bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	close(d.stops.tries[a.Key])
	delete(d.stops.now, a.Key)
	if !more {
		delete(d.stops.busy, a.Chat)
	}
	if !over {
		d.stops.tries[a.Key] = make(chan struct{})
		return
	}
	delete(d.stops.tries, a.Key)
	if list := d.stops.waiting[a.Chat]; len(list) > 1 {
		d.stops.waiting[a.Chat] = list[1:]
	} else {
		delete(d.stops.waiting, a.Chat)
	}
}

// ahead returns what ends with the turn that an arrival has as a stop, if it
// has one or is about to.
func (d *Desk) ahead(key string) (ended <-chan struct{}, ok bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	ended, ok = d.stops.tries[key]
	return ended, ok && d.stops.running
}

// letStopsPass waits for the stops that have their turns now, for those only,
// so that a stream of them keeps nobody waiting for ever.
func (d *Desk) letStopsPass() {
	d.mu.Lock()
	turns := slices.Collect(maps.Values(d.stops.now))
	d.mu.Unlock()
	for _, ended := range turns {
		<-ended
	}
}
