package telegram

import (
	"context"
	"time"
)

// Backoff limits: what is urgent is tried again soon.
const (
	urgentPause = 3 * time.Second
	mostFailing = 50 // answers of 5xx to one parcel before it is given up; being away is never given up
)

// overcome deals with a call that failed.
func (s *Sender) overcome(ctx context.Context, d due, chat, thread int64, w *work, t *trouble) {
	t = w.uploadOver(t)
	log := s.ch.log.With("chat", d.Chat, "parcel", d.ID, "why", t.why, "tries", d.Tries+1)
	if w.skip(t) {
		s.finish(ctx, d, chat, thread, w)
		return
	}
	switch t.kind {
	case throttled:
		pause := max(t.after, time.Second)
		log.Warn("the channel asks to slow down", "wait", pause)
		s.throttled(chat, pause)
		s.delay(d, pause, t.why)
	case away, failing:
		if t.kind == failing && d.Tries >= mostFailing {
			s.give(d, t.why)
			return
		}
		limit := longestPause
		if d.Urgent {
			limit = urgentPause
		}
		pause := pauseAfter(d.Tries, limit)
		log.Warn("not sent; trying again", "wait", pause)
		s.delay(d, pause, t.why)
	case badToken:
		log.Error("the channel refuses the token")
		s.mu.Lock()
		s.fatal = ErrToken
		s.mu.Unlock()
	case moved:
		log.Info("the group has a new id", "now", t.to)
		if err := s.ch.homes.moved(chat, t.to); err != nil {
			log.Error("the new id can't be noted; trying again", "err", err)
			s.delay(d, time.Second, t.why)
		}
	default:
		if w.adapt(t) || s.showOtherwise(w, t) {
			s.finish(ctx, d, chat, thread, w)
			return
		}
		s.give(d, t.why)
	}
}

// finish marks the parcel if a failed call was its last and is done with; else the loop goes on with it.
func (s *Sender) finish(ctx context.Context, d due, chat, thread int64, w *work) {
	if len(w.steps) == 0 {
		s.advance(ctx, d, chat, thread, w)
	}
}

// delay puts the next try off. If the outbox cannot note it, the chat rests all the same.
func (s *Sender) delay(d due, pause time.Duration, why string) {
	if err := s.box.Delay(d.ID, s.ch.now().Add(pause), why); err != nil {
		s.ch.log.Error("the outbox can't be written; waiting", "chat", d.Chat, "err", err)
		s.restUntil(d.Chat, pause)
	}
}

// give gives a parcel up. It is kept apart with the reason.
func (s *Sender) give(d due, why string) {
	s.ch.log.Error("not sent, given up", "chat", d.Chat, "parcel", d.ID, "urgent", d.Urgent, "why", why)
	if err := s.box.Drop(d.ID, why); err != nil {
		s.ch.log.Error("the outbox can't be written; waiting", "chat", d.Chat, "err", err)
		s.restUntil(d.Chat, time.Second)
		return
	}
	s.forget(d.ID)
}

func (s *Sender) forget(id uint64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.works, id)
}

func (s *Sender) restUntil(chat string, pause time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.resting[chat] = s.ch.now().Add(pause)
}

// manyHit is how many chats are throttled in a row before it is taken as meant for all: the channel
// does not say which it is.
const manyHit = 3

func (s *Sender) throttled(chat int64, pause time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hit[chat] = true
	if until := s.ch.now().Add(pause); len(s.hit) >= manyHit && until.After(s.hold) {
		s.hold = until
	}
}

func (s *Sender) succeeded() {
	s.mu.Lock()
	defer s.mu.Unlock()
	clear(s.hit)
}
