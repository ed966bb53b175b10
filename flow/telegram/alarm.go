package telegram

import (
	"context"
	"sync"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
)

// mostCried bounds what is remembered of alarms.
const mostCried = 1000

// cries are the alarms that were given: what must be said though nothing can be kept. They are in memory
// only; after a crash an alarm may be given again.
type cries struct {
	words func(flow.Arrival) string
	reach func(flow.Arrival) []string

	mu   sync.Mutex
	said map[string]bool // by key of the arrival
}

// Cry gives the alarm for an arrival that can't be kept, if its words call for one, once each: past the
// outbox, its order and its limits. It returns at once; what fails on the way is tried as often as any
// call at the start of the program.
func (c *Channel) Cry(ctx context.Context, a flow.Arrival) {
	if c.cries.words == nil {
		return
	}
	text := c.cries.words(a)
	if text == "" || !c.cries.first(a.Key) {
		return
	}
	chats := []string{a.Chat}
	if c.cries.reach != nil {
		chats = c.cries.reach(a)
	}
	c.log.Error("a stop can't be kept; it is passed on without a record", "chat", a.Chat, "chats", len(chats))
	for _, key := range chats {
		if chat, thread, ok := readChatKey(key); ok {
			go c.cry(context.WithoutCancel(ctx), chat, thread, text)
		}
	}
}

func (c *Channel) cry(ctx context.Context, chat, thread int64, text string) {
	if now, err := c.homes.present(chat); err == nil {
		chat = now
	}
	err := c.persist(ctx, "sendMessage", func(ctx context.Context) error {
		_, err := c.say(ctx, "sendMessage", &tg.SendMessageParams{ChatID: chat, MessageThreadID: int(thread), Text: plain(text)})
		return err
	})
	if err != nil {
		c.log.Error("a stop that can't be kept could not be passed on", "chat", ChatKey(chat, thread), "err", err)
	}
}

func (c *cries) first(key string) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.said == nil || len(c.said) >= mostCried {
		c.said = map[string]bool{}
	}
	if c.said[key] {
		return false
	}
	c.said[key] = true
	return true
}
