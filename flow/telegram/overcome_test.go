package telegram

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow/telegram/apitest"
)

func TestRetryAfterIsHonouredForTheChatOnly(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		for _, chat := range []int64{4, 5} {
			g.srv.User(chat, "Ann").Private().Say("hi")
		}
		g.srv.Fail(apitest.Fault{Kind: apitest.TooMany, Chat: 4, Times: 1, RetryAfter: 40 * time.Second})
		g.box.post(t, 4, words("one"))
		g.box.post(t, 4, words("two"))
		g.box.post(t, 5, words("other"))
		start := time.Now()
		g.srv.Wait("the other chat", func() bool { return len(g.srv.Said(5)) == 1 })
		if time.Since(start) > 2*time.Second {
			t.Errorf("the other chat waited %v", time.Since(start))
		}
		g.settle(t)
		calls := g.srv.Calls("sendMessage")
		var at []time.Duration
		for _, c := range calls {
			if c.Chat() == 4 {
				at = append(at, c.At.Sub(start))
			}
		}
		if len(at) != 3 || at[1] < 40*time.Second || at[1] > 42*time.Second {
			t.Errorf("calls to the throttled chat after %v, want the second just after 40 s", at)
		}
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"one", "two"}) {
			t.Errorf("%q", got)
		}
	})
}

func TestManyThrottledChatsHoldEverythingBack(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		for chat := range int64(10) {
			g.srv.User(100+chat, "Ann").Private().Say("hi")
			g.box.post(t, 100+chat, words("one"))
		}
		g.srv.Fail(apitest.Fault{Kind: apitest.TooMany, Times: 3, RetryAfter: 20 * time.Second})
		start := time.Now()
		g.settle(t)
		early := 0
		for _, c := range g.srv.Calls("sendMessage") {
			if c.At.Sub(start) < 19*time.Second {
				early++
			}
		}
		if early > 10 {
			t.Errorf("%d calls within the time that the channel asked to wait", early)
		}
	})
}

func TestTroubleOnTheWayIsOvercome(t *testing.T) {
	for _, kind := range []apitest.Kind{apitest.Broken, apitest.Half, apitest.Reset, apitest.Hang, apitest.Slow, apitest.Garbage} {
		t.Run(kind.String(), func(t *testing.T) {
			sending(t, func(t *testing.T, g *ground) {
				g.srv.User(4, "Ann").Private().Say("hi")
				g.srv.Fail(apitest.Fault{Kind: kind, Times: 4, Pause: 10 * time.Second})
				var want []string
				for i := range 3 {
					want = append(want, fmt.Sprint("step ", i))
					g.box.post(t, 4, words(want[i]))
				}
				g.settle(t)
				if got := texts(g.srv.Said(4)); !slices.Equal(got, want) {
					t.Errorf("the chat shows %q", got)
				}
			})
		})
	}
}

func TestAnAnswerThatIsLostRepeatsThatOneMessage(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.srv.Fail(apitest.Fault{Kind: apitest.Reset, Late: true, Times: 1})
		g.box.post(t, 4, words("one"))
		g.box.post(t, 4, words("two"))
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"one", "one", "two"}) {
			t.Errorf("the chat shows %q", got)
		}
	})
}

func TestAMarkThatFailsRepeatsNothing(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		g.srv.User(4, "Ann").Private().Say("hi")
		g.box.failing(errors.New("disk full"))
		g.box.post(t, 4, words("one"))
		for range 10 {
			time.Sleep(time.Second)
		}
		g.box.failing(nil)
		g.settle(t)
		if got := texts(g.srv.Said(4)); !slices.Equal(got, []string{"one"}) {
			t.Errorf("the chat shows %q", got)
		}
	})
}

func TestBlockedChatIsGivenUpAndTheOthersAreNot(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann, bo := g.srv.User(4, "Ann"), g.srv.User(5, "Bo")
		ann.Private().Say("hi")
		bo.Private().Say("hi")
		ann.Block()
		lost := g.box.post(t, 4, words("one"))
		g.box.post(t, 5, words("other"))
		g.settle(t)
		if why := g.box.gaveUp(lost); !strings.Contains(why, "blocked") {
			t.Errorf("given up because of %q", why)
		}
		if len(g.srv.Said(5)) != 1 {
			t.Error("the other chat got nothing")
		}
	})
}

func TestGroupThatBecameASupergroupIsFollowed(t *testing.T) {
	sending(t, func(t *testing.T, g *ground) {
		ann := g.srv.User(4, "Ann")
		up := g.srv.Group(-7, "Ditch", ann).Migrate(ann)
		g.box.post(t, -7, words("one"))
		g.box.post(t, -7, words("two"))
		g.settle(t)
		if got := texts(g.srv.Said(up.Chat())); !slices.Equal(got, []string{"one", "two"}) {
			t.Errorf("the supergroup shows %q", got)
		}
	})
}

func TestAGroupKeepsItsNameWhenItsIDChanges(t *testing.T) {
	polling(t, func(t *testing.T, g *ground, _ func() error) {
		ann := g.srv.User(4, "Ann")
		group := g.srv.Group(-7, "Ditch", ann)
		before := group.Seat(ann).Say("/start@" + apitest.BotName)
		up := group.Migrate(ann)
		after := up.Seat(ann).Say("/stop@" + apitest.BotName)
		for _, sent := range []apitest.Sent{before, after} {
			if in, ok := decoded(t, g, sent.Update); !ok || in.Chat != "telegram/-7" {
				t.Errorf("%v, chat %q", ok, in.Chat)
			}
		}
		// A channel that has just been started knows it from the inbox.
		again, err := New(Config{Token: g.srv.Token(), Server: g.srv.URL(), HTTP: g.srv.Client(), Inbox: g.box, Outbox: g.box})
		if err != nil {
			t.Fatal(err)
		}
		g.box.post(t, -7, words("All stop."))
		if err := again.Sender().Drain(t.Context()); err != nil {
			t.Fatal(err)
		}
		if got := texts(g.srv.Said(up.Chat())); !slices.Equal(got, []string{"All stop."}) {
			t.Errorf("the supergroup shows %q", got)
		}
		if n := len(g.srv.Calls("sendMessage")); n != 1 {
			t.Errorf("%d calls, want one, to the new id at once", n)
		}
	})
}
