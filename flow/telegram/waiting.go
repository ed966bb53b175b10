package telegram

import (
	"context"
	"maps"
	"slices"
	"sync"
	"time"

	tg "github.com/go-telegram/bot"
)

// patience is how long a phone is left waiting for the turn that answers its press. The channel
// takes an answer for some ten seconds more.
const patience = 3 * time.Second

// mostSpent bounds what is remembered of presses that were answered without words.
const mostSpent = 1000

// presses are the presses that a phone still waits for. They are kept in memory only: a press that
// is forgotten in a crash has stopped waiting by the time of the next start.
type presses struct {
	answer func(ctx context.Context, id, text string, alert bool) *trouble

	mu    sync.Mutex
	open  map[string]*time.Timer
	spent map[string]bool // answered without words, because the turn took too long
}

// expect sees to it that a press is answered, at the latest after patience.
func (p *presses) expect(id string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.open == nil {
		p.open, p.spent = map[string]*time.Timer{}, map[string]bool{}
	}
	if _, waits := p.open[id]; !waits && !p.spent[id] {
		p.open[id] = time.AfterFunc(patience, func() { p.end(id) })
	}
}

// end answers a press without words, if it still waits.
func (p *presses) end(id string) {
	if !p.take(id, true) {
		return
	}
	p.answer(context.Background(), id, "", false) // best effort: the phone stops waiting by itself
}

// take removes a press from those that wait, and reports whether it did.
func (p *presses) take(id string, silently bool) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	t, waits := p.open[id]
	if !waits {
		return false
	}
	t.Stop()
	delete(p.open, id)
	if silently {
		if len(p.spent) >= mostSpent {
			clear(p.spent)
		}
		p.spent[id] = true
	}
	return true
}

// mute reports whether the press was answered without words: what is to be said about it
// would not be shown.
func (p *presses) mute(id string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.spent[id]
}

// endAll answers every press that still waits; for an orderly stop.
func (p *presses) endAll() {
	p.mu.Lock()
	ids := slices.Collect(maps.Keys(p.open))
	p.mu.Unlock()
	for _, id := range ids {
		p.end(id)
	}
}

// longestNotice is what the channel shows in place, in UTF-16 units; longestToast, what can be read before
// it fades: more is shown until it is dismissed.
const (
	longestNotice = 200
	longestToast  = 60
)

// pressTime is how long an answer to a press may take; what is said after it waits as long.
const pressTime = 5 * time.Second

func (c *Channel) answerPress(ctx context.Context, id, text string, alert bool) *trouble {
	ctx, cancel := context.WithTimeout(ctx, pressTime)
	defer cancel()
	_, err := c.api.AnswerCallbackQuery(ctx, &tg.AnswerCallbackQueryParams{CallbackQueryID: id, Text: text, ShowAlert: alert})
	return judge(err)
}
