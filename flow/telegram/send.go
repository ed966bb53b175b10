package telegram

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"sync/atomic"
	"time"

	"linetender/flow"
)

// due is a parcel that may be sent now.
type due = struct {
	ID        uint64
	Chat      string
	Urgent    bool
	Body      []byte
	Tries     int
	NotBefore time.Time
}

// Outbox keeps what is to be said until it was, with what the channel answered.
//
// Due gives at most limit parcels: of every chat that is not busy its first unsent one, urgent ones first, none
// while that one is delayed beyond now. Sent marks one sent and keeps the receipt under its chat and slot.
// Delay counts a try and puts the next off. Drop gives a parcel up and keeps it apart with the reason.
type Outbox interface {
	Due(now time.Time, limit int, busy map[string]bool) ([]due, error)
	Sent(id uint64, slot string, receipt []byte) error
	Receipt(chat, slot string) (receipt []byte, ok bool, err error)
	Delay(id uint64, until time.Time, why string) error
	Drop(id uint64, why string) error
}

const (
	inFlight = 32 // calls at a time, urgent ones not counted
	dueBatch = 64
	look     = time.Second     // between looks at the outbox when nothing wakes the sender
	grace    = 5 * time.Second // for calls under way at a stop

	// Everybody is told what is urgent before anything else is begun, unless a call does not come back.
	headStart = 500 * time.Millisecond
)

// Sender says what the outbox holds: in order in each chat, urgent parcels ahead of everything,
// within the channel's limits.
type Sender struct {
	ch   *Channel
	box  Outbox
	wake chan struct{}
	news atomic.Uint64 // how often something was posted

	mu      sync.Mutex
	looked  uint64 // news when the outbox was last looked into
	pace    *pacer
	works   map[uint64]*work
	flying  map[string]int       // calls under way by chat
	urgent  map[string]bool      // chats with an urgent call under way
	stopped map[string]uint64    // the last urgent parcel of a chat, while older ones of it may wait
	resting map[string]time.Time // chats that the limits hold back
	busy    map[string]bool      // chats that launch passes over, made anew each time in the same map
	hold    time.Time            // nothing but urgent parcels before
	hurried time.Time            // when an urgent call was begun last
	hit     map[int64]bool       // chats that were throttled since the last success
	calls   int
	fatal   error
}

func newSender(ch *Channel, box Outbox, l Limits) *Sender {
	return &Sender{
		ch: ch, box: box, wake: make(chan struct{}, 1), pace: newPacer(l),
		works: map[uint64]*work{}, flying: map[string]int{}, urgent: map[string]bool{}, stopped: map[string]uint64{},
		resting: map[string]time.Time{}, busy: map[string]bool{}, hit: map[int64]bool{},
	}
}

// Sender returns the one sender of the channel.
func (c *Channel) Sender() *Sender { return c.sender }

// Posted tells that the outbox has something new. It does not block.
func (s *Sender) Posted(string) {
	s.news.Add(1)
	s.nudge()
}

// nudge has the loop look again.
func (s *Sender) nudge() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// Run sends until ctx ends; calls under way are finished first. What is left keeps in the outbox.
//
// Errors: ErrToken when the channel refuses the token.
func (s *Sender) Run(ctx context.Context) error { return s.run(ctx, false) }

// Drain sends what is due, as far as it can before ctx ends, and answers the presses that still
// wait. It is for an orderly stop, after Run has returned.
func (s *Sender) Drain(ctx context.Context) error {
	err := s.run(ctx, true)
	s.ch.presses.endAll()
	return err
}

func (s *Sender) run(ctx context.Context, drain bool) error {
	// Calls do not end with ctx: what has begun is finished, but not waited for without end.
	callCtx, cut := context.WithCancel(context.WithoutCancel(ctx))
	defer cut()
	var calls sync.WaitGroup
	defer func() {
		defer time.AfterFunc(grace, cut).Stop()
		calls.Wait()
	}()
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		next, idle, err := s.launch(callCtx, &calls)
		switch {
		case errors.Is(err, ErrToken):
			return err
		case err != nil:
			s.ch.log.Error("the outbox can't be read; trying again", "err", err)
		case drain && idle:
			return nil
		}
		timer.Reset(next)
		select {
		case <-ctx.Done():
			return nil
		case <-s.wake:
		case <-timer.C:
		}
	}
}

// launch starts what may be sent now. next is when to look again at the latest; idle tells that nothing
// is due and nothing under way.
func (s *Sender) launch(ctx context.Context, calls *sync.WaitGroup) (next time.Duration, idle bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	next = look
	if s.fatal != nil {
		return next, false, s.fatal
	}
	now := s.ch.now()
	s.looked = s.news.Load()
	// One is enough to see that nothing is urgent, as it mostly is.
	list, err := s.box.Due(now, 1, s.urgent)
	if err == nil && len(list) > 0 && list[0].Urgent {
		list, err = s.box.Due(now, dueBatch, s.urgent)
	}
	if err != nil {
		return next, false, fmt.Errorf("urgent parcels: %w", err)
	}
	for _, d := range list {
		if !d.Urgent {
			break
		}
		if wait := s.resting[d.Chat]; s.marking(d.ID) && wait.After(now) {
			continue
		}
		if w := s.works[d.ID]; w != nil && w.begun && len(s.urgent) > 0 && s.hurried.Add(headStart).After(now) {
			continue // what comes after STOP waits until everybody has read STOP
		}
		s.start(ctx, calls, d, now)
	}
	if ahead := s.hurried.Add(headStart).Sub(now); len(s.urgent) > 0 && ahead > 0 {
		return min(next, ahead), false, nil
	}

	room := inFlight - s.calls
	if room <= 0 {
		return next, false, nil // a call that ends has the loop look again
	}
	busy := s.busy
	clear(busy)
	for chat := range s.flying {
		busy[chat] = true
	}
	for chat, until := range s.resting {
		if !until.After(now) {
			delete(s.resting, chat)
			continue
		}
		busy[chat] = true
		next = min(next, until.Sub(now))
	}
	if s.hold.After(now) {
		return min(next, s.hold.Sub(now)), false, nil
	}
	for seen := 0; room > 0 && seen < dueBatch; {
		most := min(room, dueBatch-seen) // no body is read that can't be sent now
		if list, err = s.box.Due(now, most, busy); err != nil {
			return next, false, fmt.Errorf("parcels: %w", err)
		}
		if seen == 0 {
			idle = len(list) == 0 && len(s.flying) == 0 && len(s.resting) == 0
		}
		for _, d := range list {
			busy[d.Chat] = true
			wait, overall := s.mayStart(d, now)
			if wait > 0 {
				next = min(next, wait)
				if overall {
					return next, idle, nil
				}
				s.resting[d.Chat] = now.Add(wait)
				continue
			}
			s.start(ctx, calls, d, now)
			room--
		}
		if len(list) < most {
			break
		}
		seen += len(list)
	}
	return next, idle, nil
}

// marking reports whether a parcel was said and only its mark failed.
func (s *Sender) marking(id uint64) bool { return s.works[id] != nil && s.works[id].done }

// mayStart takes the leave of the limits for the next step of a parcel.
func (s *Sender) mayStart(d due, now time.Time) (wait time.Duration, overall bool) {
	chat, _, ok := readChatKey(d.Chat)
	w := s.open(d)
	if !ok || w == nil || w.done {
		return 0, false
	}
	s.skipStale(d, w)
	if len(w.steps) == 0 || !w.steps[0].speaks() {
		return 0, false
	}
	return s.pace.take(chat, now)
}

// open returns what is left of a parcel; nil if its body cannot be read.
func (s *Sender) open(d due) *work {
	overtaken := s.overtaken(d)
	if w, ok := s.works[d.ID]; ok && (w.begun || w.late || !overtaken) {
		return w
	}
	m, err := flow.DecodeMessage(d.Body)
	if err != nil {
		return nil
	}
	if chat, _, ok := readChatKey(d.Chat); ok {
		m = s.ch.me.addressed(m, chat)
	}
	if overtaken {
		m = m.Overtaken(s.ch.words)
	}
	w, left := unpack(m)
	w.late = overtaken
	if left > 0 {
		s.ch.log.Error("choices that do not fit into buttons", "chat", d.Chat, "session", m.Session, "left_out", left)
	}
	s.works[d.ID] = w
	return w
}

// overtaken reports whether an urgent parcel that came after d in its chat was begun
// before it. In its class a chat's parcels keep their order, so the first that came
// after the urgent one is the last that has to be asked.
func (s *Sender) overtaken(d due) bool {
	last, ok := s.stopped[d.Chat]
	if ok && !d.Urgent && d.ID > last {
		delete(s.stopped, d.Chat)
	}
	return ok && !d.Urgent && d.ID < last
}

// start makes the next call of a parcel beside the loop; the caller holds mu.
func (s *Sender) start(ctx context.Context, calls *sync.WaitGroup, d due, now time.Time) {
	chat, thread, ok := readChatKey(d.Chat)
	w := s.open(d)
	if d.Urgent {
		s.urgent[d.Chat], s.hurried = true, now
		s.stopped[d.Chat] = max(s.stopped[d.Chat], d.ID)
		if ok && w != nil && len(w.steps) > 0 && w.steps[0].speaks() {
			s.pace.count(chat, now)
		}
	} else {
		s.calls++
	}
	s.flying[d.Chat]++
	calls.Go(func() {
		present, err := s.ch.homes.present(chat)
		switch {
		case !ok:
			s.give(d, "this is no chat of the channel")
		case err != nil:
			s.delay(d, time.Second, err.Error())
		case w == nil:
			s.give(d, "the message can't be read: it was written by another release")
		default:
			s.advance(ctx, d, present, thread, w)
		}
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.flying[d.Chat]--; s.flying[d.Chat] == 0 {
			delete(s.flying, d.Chat)
		}
		if d.Urgent {
			delete(s.urgent, d.Chat)
		} else {
			s.calls--
		}
		s.nudge()
	})
}

// advance makes the calls that are left of a parcel, as long as nothing is to be looked at between them,
// and marks it sent when none is left.
func (s *Sender) advance(ctx context.Context, d due, chat, thread int64, w *work) {
	for !w.done && len(w.steps) > 0 {
		t := s.do(ctx, d, chat, thread, w, w.steps[0])
		if t != nil {
			s.overcome(ctx, d, chat, thread, w, t)
			return
		}
		w.steps = w.steps[1:]
		w.begun = true
		s.succeeded()
		if len(w.steps) > 0 && !s.goesOn(ctx, d, w) {
			return // the loop goes on with it, unless something urgent is first
		}
	}
	w.done = true
	if err := s.box.Sent(d.ID, w.slot(), w.receipt); err != nil {
		s.ch.log.Error("sent, but the mark failed; it is tried again", "chat", d.Chat, "parcel", d.ID, "err", err)
		s.restUntil(d.Chat, time.Second)
		return
	}
	s.forget(d.ID)
}

// goesOn takes the leave for the next call of a parcel whose last has just come back. Where the loop has
// not seen what was posted meanwhile, which may be urgent, it must look first.
func (s *Sender) goesOn(ctx context.Context, d due, w *work) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := s.ch.now()
	switch {
	case ctx.Err() != nil || s.fatal != nil || s.looked != s.news.Load(), d.Urgent: // what comes after STOP waits for those who have not read it
		return false
	case len(s.urgent) > 0 && s.hurried.Add(headStart).After(now), s.hold.After(now), s.resting[d.Chat].After(now):
		return false
	}
	wait, _ := s.mayStart(d, now)
	return wait == 0
}
