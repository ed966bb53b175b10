package flow

import (
	"sync"
	"time"

	"linetender/flow/wording"
)

// A Pace bounds how fast one chat is listened to: Burst messages at once, and
// one more each Every, by the times at which they were said; in a group, whose
// people share a chat, three times as many. What comes faster has no effect
// but that the chat is told so, once until it has slowed down. A stop is never
// counted and never held back.
//
// It is kept in memory: after a new start every chat begins afresh.
type Pace struct {
	Every time.Duration
	Burst int

	mu    sync.Mutex
	chats map[string]*gait
}

// DefaultPace is beyond what people write and press by hand.
func DefaultPace() *Pace { return &Pace{Every: time.Second, Burst: 60} }

// gait is how fast a chat goes.
type gait struct {
	free time.Time // when its allowance would be whole again
	told bool      // that it is too fast
	key  string    // of the arrival judged last, which may be tried again
	over verdict
}

type verdict int

const (
	inTime verdict = iota
	tooFast
	tooFastAndTold // already
)

// mostGaits is how many chats are remembered before those at rest are forgotten.
const mostGaits = 4096

// judge says whether an input is listened to. Asked again for the same input
// it says the same.
func (p *Pace) judge(in Input) verdict {
	every := p.Every
	if in.Group {
		every /= 3
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	g := p.chats[in.Chat]
	if g == nil {
		p.tidy(in.At)
		g = &gait{}
		p.chats[in.Chat] = g
	}
	if g.key == in.Update {
		return g.over
	}
	g.key = in.Update
	// A time that lies before the last one was is as good as that one.
	behind := g.free.Sub(in.At)
	if behind > every*time.Duration(p.Burst-1) {
		g.over = tooFast
		if g.told {
			g.over = tooFastAndTold
		}
		g.told = true
		return g.over
	}
	if behind <= 0 {
		g.free, g.told = in.At, false
	}
	g.free = g.free.Add(every)
	g.over = inTime
	return inTime
}

func (p *Pace) tidy(now time.Time) {
	if p.chats == nil {
		p.chats = map[string]*gait{}
	}
	if len(p.chats) < mostGaits {
		return
	}
	for chat, g := range p.chats {
		if !g.free.After(now) {
			delete(p.chats, chat)
		}
	}
}

// slowed is the turn of an input that came too fast, if it did.
func (d *Desk) slowed(in Input) (Turn, bool, error) {
	if d.Pace == nil || in.Tick != "" || d.Engine.Urgent(in) {
		return Turn{}, false, nil
	}
	out := Turn{Update: in.Update, Chat: in.Chat}
	switch d.Pace.judge(in) {
	case inTime:
		return Turn{}, false, nil
	case tooFastAndTold:
		return out, true, nil
	}
	text, err := d.Engine.Words.Say(0, wording.RefuseTooFast, nil)
	if err != nil {
		return Turn{}, false, err
	}
	body, err := Message{Parts: []Said{{Key: string(wording.RefuseTooFast), Text: text}}, Handle: in.Handle}.Encode()
	if err != nil {
		return Turn{}, false, err
	}
	out.Outbox = []Parcel{{Chat: in.Chat, Body: body}}
	return out, true, nil
}
