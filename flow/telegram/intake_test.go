package telegram

import (
	"context"
	"errors"
	"fmt"
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
		synctest.Wait() // it is noted before it waits, and only one that waits is in the way
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
