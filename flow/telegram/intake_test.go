package telegram

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow/telegram/apitest"
)

// polling runs Poll in a bubble for as long as body; end stops it and gives what it returned.
func polling(t *testing.T, body func(t *testing.T, g *ground, end func() error)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t)
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 1)
		go func() { ended <- g.ch.Poll(ctx, nil) }()
		var err error
		over := false
		end := func() error {
			stop()
			if !over {
				err, over = <-ended, true
			}
			return err
		}
		body(t, g, end)
		end()
	})
}

func (g *ground) keys() []string {
	var list []string
	for _, a := range g.box.got() {
		list = append(list, a.Key)
	}
	return list
}

func key(id int64) string { return fmt.Sprintf("telegram/700100/%d", id) }

func TestUpdatesAreKeptBeforeTheyAreConfirmed(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		ann := g.srv.User(4, "Ann").Private()
		g.box.failing(errors.New("disk full"))
		var want []string
		for range 3 {
			want = append(want, key(ann.Say("stop").Update))
		}
		for range 20 {
			time.Sleep(time.Second)
		}
		if g.srv.Pending() != 3 || len(g.keys()) != 0 {
			t.Errorf("%d pending, %d kept while nothing can be kept", g.srv.Pending(), len(g.keys()))
		}
		g.box.failing(nil)
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		if got := g.keys(); !slices.Equal(got, want) {
			t.Errorf("kept %v, want %v", got, want)
		}
		if err := end(); err != nil {
			t.Errorf("an orderly end: %v", err)
		}
	})
}

func TestNothingIsConfirmedThatWasNotKept(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		ann := g.srv.User(4, "Ann").Private()
		kept := map[int64]bool{}
		for i := range 200 {
			kept[ann.Say("x").Update] = true
			if i%50 == 0 {
				synctest.Wait()
			}
		}
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		for _, c := range g.srv.Calls("getUpdates") {
			if c.Params["limit"] == nil || c.Params["timeout"] == nil {
				t.Fatalf("poll with %v", c.Params)
			}
		}
		if len(g.keys()) != len(kept) {
			t.Errorf("%d kept of %d", len(g.keys()), len(kept))
		}
	})
}

func TestRedeliveryIsOneArrival(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		sent := g.srv.User(4, "Ann").Private().Say("stop")
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		g.srv.Redeliver(sent.Update)
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		if got := g.keys(); !slices.Equal(got, []string{key(sent.Update)}) {
			t.Errorf("kept %v", got)
		}
	})
}

func TestAQuietWeekLosesNothing(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t)
		var ahead atomic.Int64 // of the server's clock
		g.ch.now = func() time.Time { return time.Now().Add(time.Duration(ahead.Load())) }
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error)
		go func() { ended <- g.ch.Poll(ctx, nil) }()
		ann := g.srv.User(4, "Ann").Private()
		first := ann.Say("hi").Update
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		synctest.Wait()
		ahead.Store(int64(8 * 24 * time.Hour))
		time.Sleep(2 * pollTime)
		g.srv.NextUpdate(1000)
		second := ann.Say("back").Update
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		if got := g.keys(); !slices.Equal(got, []string{key(first), key(second)}) {
			t.Errorf("kept %v, want %v", got, []string{key(first), key(second)})
		}
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
}

func TestPollTakesUpWhereItStopped(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t)
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		ann := g.srv.User(4, "Ann").Private()
		for range 2 {
			ann.Say("hi")
			ctx, stop := context.WithCancel(t.Context())
			ended := make(chan error)
			go func() { ended <- g.ch.Poll(ctx, nil) }()
			n := len(g.keys())
			g.srv.Wait("an arrival", func() bool { return len(g.keys()) > n || g.srv.Pending() == 0 })
			stop()
			if err := <-ended; err != nil {
				t.Error(err)
			}
		}
		if len(g.keys()) != 2 {
			t.Errorf("kept %v", g.keys())
		}
	})
}

func TestAPollThatFailsIsRepeatedWithPauses(t *testing.T) {
	for _, kind := range []apitest.Kind{apitest.Broken, apitest.Half, apitest.Reset, apitest.Hang, apitest.Garbage, apitest.TooMany} {
		t.Run(kind.String(), func(t *testing.T) {
			polling(t, func(t *testing.T, g *ground, end func() error) {
				g.srv.Wait("the first poll", func() bool { return len(g.srv.Calls("getUpdates")) == 1 })
				g.srv.Fail(apitest.Fault{Method: "getUpdates", Kind: kind, Times: 6, RetryAfter: 9 * time.Second})
				ann := g.srv.User(4, "Ann").Private()
				start := time.Now()
				ann.Say("one")
				g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
				ann.Say("two")
				g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
				if len(g.keys()) != 2 {
					t.Errorf("kept %v", g.keys())
				}
				if d := time.Since(start); d < time.Second || kind == apitest.TooMany && d < 54*time.Second {
					t.Errorf("six failures in %v: too eager", d)
				}
			})
		})
	}
}

func TestRevokedTokenEndsThePoll(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		g.srv.Wait("the first poll", func() bool { return len(g.srv.Calls("getUpdates")) == 1 })
		g.srv.Revoke()
		synctest.Wait()
		if err := end(); !errors.Is(err, ErrToken) {
			t.Errorf("ended with %v, want ErrToken", err)
		}
	})
}

func TestASecondPollerIsExplained(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		g.srv.Wait("the first poll", func() bool { return len(g.srv.Calls("getUpdates")) == 1 })
		resp, err := g.srv.Client().Get(g.srv.URL() + "/bot" + g.srv.Token() + "/getUpdates")
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		synctest.Wait()
		if log := g.log.String(); !strings.Contains(log, "another program polls with the same token") {
			t.Errorf("the log does not explain it:\n%s", log)
		}
		sent := g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		if got := g.keys(); !slices.Equal(got, []string{key(sent.Update)}) {
			t.Errorf("kept %v", got)
		}
	})
}

func TestAWebhookSetWhilePollingEndsThePollAndSaysWhy(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		g.srv.Wait("the first poll", func() bool { return len(g.srv.Calls("getUpdates")) == 1 })
		if err := g.ch.SetWebhook(t.Context(), "https://rope.example/hook", "s-1"); err != nil {
			t.Fatal(err)
		}
		synctest.Wait()
		time.Sleep(time.Minute)
		synctest.Wait()
		if err := end(); err == nil || !strings.Contains(err.Error(), "webhook was set") {
			t.Errorf("ended with %v", err)
		}
	})
}

func TestAnUpdateThatCannotBeReadDoesNotBlockTheOthers(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		g.srv.Inject(`{"message":{"chat":{"id":"a private word"}}}`)
		g.srv.Inject(`{"of_a_later_api":{"chat":{"id":4}}}`)
		sent := g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Wait("the confirmation", func() bool { return g.srv.Pending() == 0 })
		if got := g.keys(); !slices.Equal(got, []string{key(sent.Update)}) {
			t.Errorf("kept %v", got)
		}
		log := g.log.String()
		if !strings.Contains(log, "can't be read") || strings.Contains(log, "a private word") {
			t.Errorf("log:\n%s", log)
		}
	})
}

func TestStartRegistersTheMenu(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		g := setUp(t, func(c *Config) {
			c.Commands = []Command{{"stop", "Everyone stands still"}, {"back", "One question back"}}
		})
		g.srv.Fail(apitest.Fault{Kind: apitest.Broken, Times: 3})
		if err := g.ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		if got := g.srv.Commands("default"); !slices.Equal(got, []string{"stop", "back"}) {
			t.Errorf("menu: %v", got)
		}
		if g.ch.Name() != apitest.BotName {
			t.Errorf("name %q", g.ch.Name())
		}
		g.srv.Revoke()
		if err := g.ch.Start(t.Context()); !errors.Is(err, ErrToken) {
			t.Errorf("revoked: %v", err)
		}
	})
}

func TestBadSettingsAreRefusedWithoutShowingTheToken(t *testing.T) {
	for _, c := range []Config{
		{Token: ""}, {Token: "s3cret"}, {Token: "1:s3cret with space"}, {Token: "1x:s3cret"},
		{Token: "1:s3cret", Server: "rope.example"}, {Token: "1:s3cret", Server: "https://u:p@rope.example"},
	} {
		_, err := New(c)
		if err == nil || strings.Contains(err.Error(), "s3cret") || strings.Contains(err.Error(), "u:p") {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func TestTheTokenIsInNoErrorWhenNothingAnswers(t *testing.T) {
	srv := httptest.NewServer(nil)
	srv.Close()
	log := &logged{}
	g := setUp(t)
	ch, err := New(Config{Token: "77:s3cret", Server: srv.URL, Inbox: g.box, Outbox: g.box})
	if err != nil {
		t.Fatal(err)
	}
	_, e := ch.api.GetMe(t.Context())
	tr := judge(e)
	var batch []int
	direct := ch.call(t.Context(), "getUpdates", nil, &batch)
	if tr == nil || direct == nil {
		t.Fatal("something answered")
	}
	for _, why := range []string{tr.why, direct.why, log.String()} {
		if strings.Contains(why, "s3cret") {
			t.Errorf("the token is in %q", why)
		}
	}
	if !strings.Contains(tr.why, "refused") {
		t.Errorf("%q does not say what went wrong", tr.why)
	}
}

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

func TestEveryPressIsAnswered(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, end func() error) {
		ann := g.srv.User(4, "Ann").Private()
		ann.Say("hi")
		g.box.post(t, 4, question("Sure?", "q", "Yes"))
		ctx, stop := context.WithCancel(t.Context())
		go g.ch.Sender().Run(ctx)
		defer stop()
		g.settle(t)
		press := ann.Press(g.srv.Last(4).ID, "Yes") // no turn ever answers it
		start := time.Now()
		g.srv.Wait("the answer", func() bool { _, ok := press.Answer(); return ok })
		if d := time.Since(start); d != patience {
			t.Errorf("answered after %v, want %v", d, patience)
		}
		late := words("That question has been answered.")
		late.Notice, late.Handle = true, press.ID
		g.box.post(t, 4, late)
		g.settle(t)
		if got := g.srv.Last(4).Text; got != late.Text() {
			t.Errorf("a notice that came too late for the press is lost: %q", got)
		}
	})
}
