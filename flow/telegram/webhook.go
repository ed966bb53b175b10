package telegram

import (
	"context"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
)

// SecretHeader carries the secret that SetWebhook gave the channel.
const SecretHeader = "X-Telegram-Bot-Api-Secret-Token"

// largestUpdate is more than any update; what is larger is not from the channel.
const largestUpdate = 1 << 20

// SetWebhook tells the channel to post updates to address, with secret in a header.
//
// One connection at a time is asked for: with more, two messages of a chat can overtake each other.
func (c *Channel) SetWebhook(ctx context.Context, address, secret string) error {
	u, err := url.Parse(address)
	if err != nil || u.Scheme != "https" || u.Host == "" {
		return fmt.Errorf("the webhook's address must begin with https://, on port 443, 80, 88 or 8443")
	}
	if err := checkSecret(secret); err != nil {
		return err
	}
	return c.persist(ctx, "setWebhook", func(ctx context.Context) error {
		_, err := c.api.SetWebhook(ctx, &tg.SetWebhookParams{URL: address, SecretToken: secret, AllowedUpdates: kinds, MaxConnections: 1})
		return err
	})
}

func checkSecret(secret string) error {
	if secret == "" || len(secret) > 256 || strings.Trim(secret, tokenRunes) != "" {
		return fmt.Errorf("the webhook's secret must have 1 to 256 of the characters A-Z, a-z, 0-9, _ and -")
	}
	return nil
}

// Webhook takes updates that the channel posts: 200 only when the update is durable in the inbox,
// else an answer upon which the channel posts it again, or, to a stranger, a plain refusal.
// arrived, if not nil, is called with each that was kept.
func (c *Channel) Webhook(secret string, arrived func([]flow.Arrival)) (http.Handler, error) {
	if err := checkSecret(secret); err != nil {
		return nil, err
	}
	want := sha256.Sum256([]byte(secret))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodPost {
			w.Header().Set("Allow", http.MethodPost)
			http.Error(w, "updates are posted", http.StatusMethodNotAllowed)
			return
		}
		// Hashes have one length, so that the comparison does not tell how long the secret is.
		got := sha256.Sum256([]byte(r.Header.Get(SecretHeader)))
		if subtle.ConstantTimeCompare(got[:], want[:]) != 1 {
			http.Error(w, "the secret is not the one that was agreed", http.StatusUnauthorized)
			return
		}
		status, err := c.take(http.MaxBytesReader(w, r.Body, largestUpdate), arrived)
		if err != nil {
			c.log.Error("posted update not taken", "status", status, "err", err)
			http.Error(w, http.StatusText(status), status)
			return
		}
		w.WriteHeader(http.StatusOK)
	}), nil
}

func (c *Channel) take(body io.Reader, arrived func([]flow.Arrival)) (status int, err error) {
	raw, err := io.ReadAll(body)
	if err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return http.StatusRequestEntityTooLarge, fmt.Errorf("update of more than %d bytes", large.Limit)
		}
		return http.StatusBadRequest, fmt.Errorf("update broke off")
	}
	u, err := readUpdate(raw)
	switch {
	case err != nil && u.ID == 0:
		return http.StatusBadRequest, err
	case err != nil: // refused, it would be posted again and again, ahead of all others
		c.log.Error("an update can't be read; it is skipped", "update", u.ID, "why", err)
		return http.StatusOK, nil
	}
	c.notice(u)
	a, ok, err := c.arrival(u, raw)
	switch {
	case err != nil:
		return http.StatusServiceUnavailable, err
	case !ok:
		return http.StatusOK, nil // of a kind that was not asked for
	}
	if err := c.inbox.Accept(c.source(), 0, []flow.Arrival{a}); err != nil {
		c.Cry(context.Background(), a)
		return http.StatusServiceUnavailable, fmt.Errorf("keep update: %w", err)
	}
	if u.Press != nil {
		c.presses.expect(u.Press.ID)
	}
	c.tell(arrived, []flow.Arrival{a}, map[string]update{a.Key: u})
	return http.StatusOK, nil
}
