package telegram

import (
	"context"
	"errors"
	"fmt"
	"net/url"

	"github.com/go-telegram/bot/models"
)

// Standing is what the channel says of the program's account.
type Standing struct {
	Name    string // user name without @
	Webhook string // host that updates are posted to; empty when they are asked for
	Pending int    // updates that wait there
	Trouble string // what went wrong with the latest post, in the channel's words
}

// ErrAway means that the channel was not reached, or not in a state to answer.
var ErrAway = errors.New("the channel cannot be reached")

// Ask asks the channel once how the program stands with it, and changes nothing.
//
// Errors: ErrToken when the token is refused; ErrAway with the reason when nothing, or nothing that makes
// sense, answers.
func (c *Channel) Ask(ctx context.Context) (Standing, error) {
	ctx, cancel := context.WithTimeout(ctx, callTime)
	defer cancel()
	var me *models.User
	var hook *models.WebhookInfo
	me, err := c.api.GetMe(ctx)
	if err == nil {
		hook, err = c.api.GetWebhookInfo(ctx)
	}
	switch t := judge(err); {
	case t == nil:
	case t.kind == badToken, t.kind == refused: // a malformed token is not found
		return Standing{}, ErrToken
	default:
		return Standing{}, fmt.Errorf("%w: %s", ErrAway, t.why)
	}
	s := Standing{Name: me.Username, Pending: hook.PendingUpdateCount, Trouble: hook.LastErrorMessage}
	if u, err := url.Parse(hook.URL); err == nil {
		s.Webhook = u.Host
	}
	return s, nil
}
