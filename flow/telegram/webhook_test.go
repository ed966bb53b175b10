package telegram

import (
	"errors"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"linetender/flow/telegram/apitest"
)

// hookGround is a channel with its webhook served on loopback.
func hookGround(t *testing.T) (*ground, *httptest.Server) {
	t.Helper()
	g := &ground{srv: apitest.New(t), box: newMemory(), log: &logged{}}
	var err error
	g.ch, err = New(Config{Token: g.srv.Token(), Server: g.srv.URL(), Inbox: g.box, Outbox: g.box})
	if err != nil {
		t.Fatal(err)
	}
	if err := g.ch.SetWebhook(t.Context(), "https://rope.example/hook", "s-1"); err != nil {
		t.Fatal(err)
	}
	h, err := g.ch.Webhook("s-1", nil)
	if err != nil {
		t.Fatal(err)
	}
	hook := httptest.NewServer(h)
	t.Cleanup(hook.Close)
	return g, hook
}

func TestWebhookKeepsBeforeItConfirms(t *testing.T) {
	g, hook := hookGround(t)
	ann := g.srv.User(4, "Ann").Private()
	for range 20 {
		ann.Say("hi")
	}
	g.box.failing(errors.New("disk full"))
	for _, p := range g.srv.Deliver(t.Context(), hook.URL, apitest.Delivery{}) {
		if p.Status != http.StatusServiceUnavailable {
			t.Errorf("status %d while nothing can be kept, want 503", p.Status)
		}
	}
	g.box.failing(nil)
	for _, p := range g.srv.Deliver(t.Context(), hook.URL, apitest.Delivery{Copies: 3, Parallel: 16, Shuffle: 9}) {
		if p.Status != http.StatusOK {
			t.Errorf("status %d %v", p.Status, p.Err)
		}
	}
	if len(g.keys()) != 20 || g.srv.Pending() != 0 {
		t.Errorf("%d kept, %d pending", len(g.keys()), g.srv.Pending())
	}
}

func TestWebhookAsksForOneConnection(t *testing.T) {
	g, hook := hookGround(t)
	ann := g.srv.User(4, "Ann").Private()
	var want []string
	for range 30 {
		want = append(want, key(ann.Say("hi").Update))
	}
	g.srv.Deliver(t.Context(), hook.URL, apitest.Delivery{})
	if got := g.keys(); !slices.Equal(got, want) {
		t.Errorf("kept %v, want the order in which they were said", got)
	}
}

func TestWebhookRefusals(t *testing.T) {
	g, hook := hookGround(t)
	post := func(method, secret, body string) int {
		t.Helper()
		req, err := http.NewRequestWithContext(t.Context(), method, hook.URL, strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set(SecretHeader, secret)
		resp, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		return resp.StatusCode
	}
	good := `{"update_id":5,"message":{"message_id":1,"date":1,"chat":{"id":4,"type":"private"},"text":"hi"}}`
	for _, tc := range []struct {
		name, method, secret, body string
		want                       int
	}{
		{"method", http.MethodGet, "s-1", "", http.StatusMethodNotAllowed},
		{"no secret", http.MethodPost, "", good, http.StatusUnauthorized},
		{"wrong secret", http.MethodPost, "s-2", good, http.StatusUnauthorized},
		{"longer secret", http.MethodPost, "s-11", good, http.StatusUnauthorized},
		{"no JSON", http.MethodPost, "s-1", "update", http.StatusBadRequest},
		{"no id", http.MethodPost, "s-1", "{}", http.StatusBadRequest},
		{"too large", http.MethodPost, "s-1", `{"update_id":5,"x":"` + strings.Repeat("x", 1<<20) + `"}`, http.StatusRequestEntityTooLarge},
		{"of another shape", http.MethodPost, "s-1", `{"update_id":6,"message":7}`, http.StatusOK},
	} {
		if got := post(tc.method, tc.secret, tc.body); got != tc.want {
			t.Errorf("%s: %d, want %d", tc.name, got, tc.want)
		}
	}
	if len(g.keys()) != 0 {
		t.Errorf("kept %v", g.keys())
	}
	if got := post(http.MethodPost, "s-1", good); got != http.StatusOK || len(g.keys()) != 1 {
		t.Errorf("a good one: %d, kept %v", got, g.keys())
	}
	for _, secret := range []string{"", "with space", strings.Repeat("x", 257)} {
		if _, err := g.ch.Webhook(secret, nil); err == nil {
			t.Errorf("secret %q was taken", secret)
		}
	}
	if err := g.ch.SetWebhook(t.Context(), "http://rope.example", "s"); err == nil {
		t.Error("a webhook without TLS was taken")
	}
}
