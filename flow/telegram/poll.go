package telegram

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
)

// kinds are the updates that are asked for.
var kinds = []string{"message", "edited_message", "callback_query", "my_chat_member"}

const (
	pollTime  = 50 * time.Second // that the channel holds a poll open
	pollSlack = 15 * time.Second // beyond which no answer will come
	pollBatch = 100

	// After a week without updates the channel starts its ids anywhere. An offset from before would
	// then confirm, and so lose, updates that nobody has seen.
	staleAfter = 6 * 24 * time.Hour
)

// Poll fetches updates until ctx ends, and then returns nil. Each batch is durable in the inbox
// before the next poll confirms it; arrived, if not nil, is called with what was in it.
//
// Errors: ErrToken when the channel refuses the token, and one that says so when a webhook is set
// while polling. Everything else is tried again.
func (c *Channel) Poll(ctx context.Context, arrived func([]flow.Arrival)) error {
	if err := c.persist(ctx, "deleteWebhook", func(ctx context.Context) error {
		_, err := c.api.DeleteWebhook(ctx, &tg.DeleteWebhookParams{})
		return err
	}); err != nil {
		return silence(ctx, err)
	}
	offset, set, err := c.inbox.Cursor(c.source())
	if err != nil {
		return fmt.Errorf("how far updates were read: %w", err)
	}
	wait := newBackoff()
	for ctx.Err() == nil {
		if !set.IsZero() && c.now().Sub(set) > staleAfter {
			c.log.Info("no updates for days: asking without an offset", "since", set)
			offset, set = 0, time.Time{}
		}
		next, err := c.pollOnce(ctx, offset, arrived)
		switch t, _ := err.(*trouble); {
		case err == nil:
			wait.Reset()
			if next != offset {
				offset, set = next, c.now()
			}
			continue
		case ctx.Err() != nil:
			return nil
		case t == nil: // the inbox: the updates are not confirmed and come again
			c.log.Error("updates can't be kept; they stay with the channel", "err", err)
			rest(ctx, wait.NextBackOff())
		case t.kind == badToken:
			return ErrToken
		case t.kind == conflict && t.says("webhook"):
			return fmt.Errorf("a webhook was set for this bot while it polls, so something else uses the same token: stop that, or serve with a webhook here")
		case t.kind == conflict:
			c.log.Error("another program polls with the same token; only one can get the updates", "why", t.why)
			rest(ctx, max(5*time.Second, wait.NextBackOff()))
		default:
			c.log.Warn("poll failed; trying again", "why", t.why)
			rest(ctx, max(t.after, wait.NextBackOff()))
		}
	}
	return nil
}

// silence makes an orderly end of ctx no error.
func silence(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// pollOnce fetches one batch, keeps it, and returns the offset that confirms it.
func (c *Channel) pollOnce(ctx context.Context, offset int64, arrived func([]flow.Arrival)) (next int64, err error) {
	once, cancel := context.WithTimeout(ctx, pollTime+pollSlack)
	defer cancel()
	params := struct {
		Offset  int64    `json:"offset,omitempty"`
		Limit   int      `json:"limit"`
		Timeout int      `json:"timeout"`
		Allowed []string `json:"allowed_updates"`
	}{offset, pollBatch, int(pollTime / time.Second), kinds}
	var batch []json.RawMessage
	if t := c.call(once, "getUpdates", params, &batch); t != nil {
		return 0, t
	}
	next = offset
	var high int64
	var list []flow.Arrival
	var pressed []string
	read := make(map[string]update, len(batch))
	for _, raw := range batch {
		u, err := readUpdate(raw)
		if err != nil {
			c.log.Error("an update can't be read; it is skipped", "update", u.ID, "why", err)
		}
		high = max(high, u.ID)
		a, ok, err := c.arrival(u, raw)
		if err != nil {
			return 0, err
		}
		if ok {
			list = append(list, a)
			read[a.Key] = u
		}
		c.notice(u)
		if u.Press != nil {
			pressed = append(pressed, u.Press.ID)
		}
	}
	if len(batch) > 0 && high == 0 {
		return 0, &trouble{kind: away, why: "the channel gave updates without ids"}
	}
	if len(batch) > 0 {
		next = high + 1
		if err := c.inbox.Accept(c.source(), next, list); err != nil {
			for _, a := range list {
				c.Cry(ctx, a)
			}
			return 0, fmt.Errorf("keep %d updates: %w", len(list), err)
		}
		for _, id := range pressed {
			c.presses.expect(id)
		}
	}
	c.tell(arrived, list, read)
	return next, nil
}

// notice logs what the operator wants to know of an update: where the program came and went.
func (c *Channel) notice(u update) {
	switch {
	case u.Member != nil:
		c.log.Info("standing in a chat changed", "chat", ChatKey(u.Member.Chat.ID, 0), "now", u.Member.New.Status)
	case u.Message != nil && u.Message.MovedTo != 0:
		c.log.Info("the group has a new id", "chat", ChatKey(u.Message.Chat.ID, 0), "now", u.Message.MovedTo)
	}
}
