package terminal

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"

	"linetender/flow"
)

// Outbox is where what is to be said waits.
type Outbox interface {
	Due(now time.Time, limit int, busy map[string]bool) ([]Due, error)
	Sent(id uint64, slot string, receipt []byte) error
}

// Due is one parcel to be shown now.
type Due = struct {
	ID        uint64
	Chat      string
	Urgent    bool
	Body      []byte
	Tries     int
	NotBefore time.Time
}

// ErrTaken is returned for a chat that a terminal speaks from already.
var ErrTaken = errors.New("another terminal speaks from this chat")

// An Exchange connects the terminals of one data folder, each with a chat of
// its own, in the process that holds the store.
type Exchange struct {
	Desk   *flow.Desk // its Decode must take what this package writes, its Posted tell Posted
	Inbox  flow.Inbox
	Outbox Outbox
	Now    func() time.Time

	// Alarm, when not nil, words what must be said of an arrival though it
	// can't be kept; nothing for most.
	Alarm func(flow.Arrival) string

	mu    sync.Mutex
	seats map[string]*Seat
	under map[string]*sync.Mutex // by chat
}

// Posted tells the terminal of a chat, if one is there, that something waits
// for it. It does not block, and any chat may be named.
func (x *Exchange) Posted(chat string) {
	x.mu.Lock()
	s := x.seats[chat]
	x.mu.Unlock()
	if s != nil {
		s.stir()
	}
}

func (s *Seat) stir() {
	select {
	case s.stirs <- struct{}{}:
	default: // it has been told and has not looked yet
	}
}

// Cry passes a stop on that can't be kept: to every terminal that is there,
// past the outbox. It does not block.
func (x *Exchange) Cry(a flow.Arrival) {
	if x.Alarm == nil {
		return
	}
	text := x.Alarm(a)
	if text == "" {
		return
	}
	body, err := flow.Message{Urgent: true, Parts: []flow.Said{{Key: "stop.unkept", Text: text}}}.Encode()
	if err != nil {
		x.report(a.Chat, err)
		return
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	for _, s := range x.seats {
		s.cries = append(s.cries, Parcel{Body: body})
		s.stir()
	}
}

// CatchUp gives a turn to what was taken in from a terminal and had none,
// because the process died before: it may be a stop. It is meant for the time
// before anybody sits.
func (x *Exchange) CatchUp(ctx context.Context) error {
	chats, err := x.Inbox.Chats()
	if err != nil {
		return fmt.Errorf("look for lines that had no turn: %w", err)
	}
	for _, chat := range chats {
		if strings.HasPrefix(chat, Scheme) {
			if err := x.Turns(ctx, chat); err != nil {
				return err
			}
		}
	}
	return nil
}

// Sit returns the line of one terminal. A chat is one person's: two terminals
// at once would take each other's messages away.
//
// Errors: ErrTaken.
func (x *Exchange) Sit(chat string) (*Seat, error) {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.seats == nil {
		x.seats = map[string]*Seat{}
	}
	if x.seats[chat] != nil {
		return nil, ErrTaken
	}
	s := &Seat{exchange: x, chat: chat, stirs: make(chan struct{}, 1)}
	x.seats[chat] = s
	return s, nil
}

// A Seat is the line of a terminal whose exchange is in this process.
type Seat struct {
	exchange *Exchange
	chat     string
	stirs    chan struct{}
	cries    []Parcel // guarded by the exchange's lock
}

var _ Line = (*Seat)(nil)

// Leave frees the chat for another terminal. What waits for it waits on.
func (s *Seat) Leave() {
	s.exchange.mu.Lock()
	defer s.exchange.mu.Unlock()
	if s.exchange.seats[s.chat] == s {
		delete(s.exchange.seats, s.chat)
	}
}

// Gone has the conversation told that the terminal has closed.
func (s *Seat) Gone(ctx context.Context) error {
	return s.Say(ctx, Written{Person: flow.Person{ID: s.chat}, Away: true})
}

// Stirs yields when there may be something new.
func (s *Seat) Stirs() <-chan struct{} { return s.stirs }

// Say keeps what was entered and gives it its turn.
func (s *Seat) Say(ctx context.Context, w Written) error {
	w.Version = 1
	body, err := json.Marshal(w)
	if err != nil {
		return fmt.Errorf("encode a line: %w", err)
	}
	a := flow.Arrival{Key: Scheme + rand.Text(), Chat: s.chat, At: s.exchange.Now(), Body: body}
	if err := s.exchange.Inbox.Accept("terminal", 0, []flow.Arrival{a}); err != nil {
		s.exchange.Cry(a)
		return fmt.Errorf("keep a line: %w", err)
	}
	return s.exchange.Turns(ctx, s.chat)
}

// Turns gives turns to one chat until nothing waits there. An arrival that
// had to be put aside is no error: the person has been told.
func (x *Exchange) Turns(ctx context.Context, chat string) error {
	own := x.turn(chat)
	own.Lock()
	defer own.Unlock()
	for {
		more, err := x.Desk.Turn(ctx, chat)
		if !more {
			return err
		}
		if err != nil {
			x.report(chat, err)
		}
	}
}

// turn is held while a chat has its turn.
func (x *Exchange) turn(chat string) *sync.Mutex {
	x.mu.Lock()
	defer x.mu.Unlock()
	if x.under == nil {
		x.under = map[string]*sync.Mutex{}
	}
	if x.under[chat] == nil {
		x.under[chat] = &sync.Mutex{}
	}
	return x.under[chat]
}

// Tick gives turns that jobs wait for, to chats of this channel, until ctx
// ends. It is for a process that does not run the desk.
func (x *Exchange) Tick(ctx context.Context) {
	for {
		chat, err := x.Desk.Tick(ctx)
		if err == nil && strings.HasPrefix(chat, Scheme) {
			err = x.Turns(ctx, chat)
		}
		if ctx.Err() != nil {
			return
		}
		if err != nil {
			x.report(chat, err)
			pause(ctx, time.Second)
		}
	}
}

// pause lets what failed rest for a moment.
func pause(ctx context.Context, d time.Duration) {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
	case <-ctx.Done():
	}
}

func (x *Exchange) report(chat string, err error) {
	if x.Desk.Report != nil {
		x.Desk.Report.Error("turn", "chat", chat, "err", err)
	}
}

// dueAtOnce is how many chats one look at the outbox may name.
const dueAtOnce = 64

// Next returns the chat's first parcel: urgent ones first, then the oldest.
// Those of other chats stay.
func (s *Seat) Next(context.Context) (Parcel, bool, error) {
	if p, ok := s.cry(); ok {
		return p, true, nil
	}
	others := map[string]bool{}
	for {
		due, err := s.exchange.Outbox.Due(s.exchange.Now(), dueAtOnce, others)
		if err != nil {
			return Parcel{}, false, fmt.Errorf("look for what is to be said: %w", err)
		}
		for _, d := range due {
			if d.Chat == s.chat {
				return Parcel{ID: d.ID, Body: d.Body}, true, nil
			}
			others[d.Chat] = true
		}
		if len(due) < dueAtOnce {
			return Parcel{}, false, nil
		}
	}
}

// Parting says what leaving means: for the person's part in the job, and for
// the other terminals where this one is of the process that holds the store.
func (s *Seat) Parting(context.Context) (Parting, error) {
	var p Parting
	if s.chat == Chat {
		s.exchange.mu.Lock()
		p.Others = len(s.exchange.seats) - 1
		s.exchange.mu.Unlock()
		return p, nil
	}
	var err error
	if p.Part, err = s.exchange.Desk.Engine.Part(s.exchange.Desk.Log, s.chat); err != nil {
		return Parting{}, fmt.Errorf("look for the part of %s: %w", s.chat, err)
	}
	return p, nil
}

// cry takes out what was cried. It was never in the outbox and has no number.
func (s *Seat) cry() (Parcel, bool) {
	s.exchange.mu.Lock()
	defer s.exchange.mu.Unlock()
	if len(s.cries) == 0 {
		return Parcel{}, false
	}
	p := s.cries[0]
	s.cries = s.cries[1:]
	return p, true
}

// Heard takes a parcel that has been shown out of the outbox.
func (s *Seat) Heard(_ context.Context, id uint64) error {
	if id == 0 { // cried
		return nil
	}
	if err := s.exchange.Outbox.Sent(id, "", nil); err != nil {
		return fmt.Errorf("mark as said: %w", err)
	}
	return nil
}
