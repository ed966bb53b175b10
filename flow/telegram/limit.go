package telegram

import (
	"time"

	"golang.org/x/time/rate"
)

// Limits are how often the program speaks. In any stretch of time it says at most Burst more than one
// each Every.
type Limits struct {
	All   Rate // over all chats
	Chat  Rate // in one chat
	Group Rate // in one group, besides
}

// Rate is one message each Every, with Burst of them at once. The zero Rate is no limit.
type Rate struct {
	Every time.Duration
	Burst int
}

func (r Rate) limiter() *rate.Limiter {
	if r.Every <= 0 {
		return rate.NewLimiter(rate.Inf, 1)
	}
	return rate.NewLimiter(rate.Every(r.Every), max(1, r.Burst))
}

// tidyAt is how many chats are remembered before those that rest are forgotten.
const tidyAt = 1024

// pacer keeps the limits. It has no lock: the sender's loop is its only user.
type pacer struct {
	limits Limits
	all    *rate.Limiter
	chats  map[int64][]*rate.Limiter
	tidy   int
}

func newPacer(l Limits) *pacer {
	return &pacer{limits: l, all: l.All.limiter(), chats: map[int64][]*rate.Limiter{}, tidy: tidyAt}
}

// take reports how long the program must wait before it may speak in a chat; 0 means that it may
// now, and counts it. overall tells that it is the limit over all chats that is in the way.
func (p *pacer) take(chat int64, now time.Time) (wait time.Duration, overall bool) {
	own := p.of(chat, now)
	for _, l := range own {
		wait = max(wait, lack(l, now))
	}
	if wait == 0 {
		wait = lack(p.all, now)
		overall = wait > 0
	}
	if wait == 0 {
		p.count(chat, now)
	}
	return wait, overall
}

// count counts what is said whether it is allowed or not: what is urgent is said, and what is not
// waits the longer.
func (p *pacer) count(chat int64, now time.Time) {
	p.all.ReserveN(now, 1)
	for _, l := range p.of(chat, now) {
		l.ReserveN(now, 1)
	}
}

func lack(l *rate.Limiter, now time.Time) time.Duration {
	have := l.TokensAt(now)
	if l.Limit() == rate.Inf || have >= 1 {
		return 0
	}
	// A millisecond more than it takes, so that rounding does not send the caller round in circles.
	return time.Duration((1-have)/float64(l.Limit())*float64(time.Second)) + time.Millisecond
}

func (p *pacer) of(chat int64, now time.Time) []*rate.Limiter {
	if l, ok := p.chats[chat]; ok {
		return l
	}
	if len(p.chats) >= p.tidy {
		p.forget(now)
	}
	l := []*rate.Limiter{p.limits.Chat.limiter()}
	if chat < 0 {
		l = append(l, p.limits.Group.limiter())
	}
	p.chats[chat] = l
	return l
}

// forget drops the chats whose limits are at rest, so that memory does not grow with all chats ever.
func (p *pacer) forget(now time.Time) {
	for chat, list := range p.chats {
		idle := true
		for _, l := range list {
			idle = idle && (l.Limit() == rate.Inf || l.TokensAt(now) >= float64(l.Burst()))
		}
		if idle {
			delete(p.chats, chat)
		}
	}
	p.tidy = max(tidyAt, 2*len(p.chats))
}
