package telegram

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	tg "github.com/go-telegram/bot"
)

// ErrToken means that the channel does not take the token: it was mistyped, or revoked.
var ErrToken = errors.New("the channel refuses the token: it was mistyped or revoked; get the present one from @BotFather")

// trouble says why a call failed, in words that are safe to log: no address (it holds the token),
// no body (it may hold what a person wrote).
type trouble struct {
	kind  kind
	why   string
	after time.Duration // of throttled
	to    int64         // of moved
}

type kind int

const (
	away      kind = iota // no answer, or none that can be read: it may have had its effect
	failing               // the channel answered 5xx
	throttled             // 429
	gone                  // 403: blocked by the user, or out of the group
	moved                 // the group has another id now
	refused               // any other 400 or 404: this call will never do
	badToken              // 401
	conflict              // 409
)

func (t *trouble) Error() string { return t.why }

// says reports whether the channel's description has one of the given parts.
func (t *trouble) says(parts ...string) bool {
	why := strings.ToLower(t.why)
	for _, p := range parts {
		if strings.Contains(why, p) {
			return true
		}
	}
	return false
}

// tooMany is that the channel asks to wait so many seconds.
func tooMany(seconds int) *trouble {
	return &trouble{kind: throttled, why: fmt.Sprintf("too many requests, retry after %d s", seconds), after: time.Duration(seconds) * time.Second}
}

// movedTo is that a group has another id.
func movedTo(chat int64) *trouble {
	return &trouble{kind: moved, why: "the group became a supergroup", to: chat}
}

// judge reads an error of the bot library, or of a call of our own; nil stays nil. The library's own words are kept only where
// they are the channel's description; elsewhere they may hold an address or a body.
func judge(err error) *trouble {
	if err == nil {
		return nil
	}
	var own *trouble
	var many *tg.TooManyRequestsError
	var migrate *tg.MigrateError
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &many):
		return tooMany(many.RetryAfter)
	case errors.As(err, &migrate):
		return movedTo(int64(migrate.MigrateToChatID))
	case errors.Is(err, tg.ErrorForbidden):
		return &trouble{kind: gone, why: err.Error()}
	case errors.Is(err, tg.ErrorBadRequest), errors.Is(err, tg.ErrorNotFound):
		return &trouble{kind: refused, why: err.Error()}
	case errors.Is(err, tg.ErrorUnauthorized):
		return &trouble{kind: badToken, why: "unauthorized"}
	case errors.Is(err, tg.ErrorConflict):
		return &trouble{kind: conflict, why: err.Error()}
	}
	return transport(err)
}

// transport words what went wrong on the way.
func transport(err error) *trouble {
	var answer *badAnswer
	var dns *net.DNSError
	var op *net.OpError
	var address *url.Error
	switch {
	case errors.As(err, &answer):
		return answer.trouble()
	case errors.Is(err, context.DeadlineExceeded):
		return &trouble{kind: away, why: "no answer in time"}
	case errors.Is(err, context.Canceled):
		return &trouble{kind: away, why: "given up"}
	case errors.As(err, &dns):
		return &trouble{kind: away, why: "the channel's name can't be resolved: " + dns.Err}
	case errors.As(err, &op):
		return &trouble{kind: away, why: op.Op + ": " + op.Err.Error()}
	case errors.As(err, &address):
		return &trouble{kind: away, why: "no connection or it broke"}
	}
	return &trouble{kind: away, why: "the answer can't be read"}
}

// badAnswer is an answer that is not one of the Bot API at all.
type badAnswer struct{ status int }

func (e *badAnswer) Error() string { return e.trouble().why }

func (e *badAnswer) trouble() *trouble {
	if e.status == http.StatusRequestEntityTooLarge {
		return &trouble{kind: refused, why: "more than the channel takes at once"}
	}
	if e.status >= 500 {
		return &trouble{kind: failing, why: fmt.Sprintf("the channel answered %d", e.status)}
	}
	return &trouble{kind: away, why: fmt.Sprintf("something on the way answered %d in the channel's place", e.status)}
}
