package apitest

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

func poll(t *testing.T, s *Server, p map[string]any) []int64 {
	t.Helper()
	r := call(t, s, "getUpdates", p)
	if !r.OK {
		t.Fatalf("getUpdates: %d %s", r.Code, r.Text)
	}
	var list []struct {
		ID int64 `json:"update_id"`
	}
	if err := json.Unmarshal(r.Result, &list); err != nil {
		t.Fatal(err)
	}
	var ids []int64
	for _, u := range list {
		ids = append(ids, u.ID)
	}
	return ids
}

func TestUpdatesStayUntilAHigherOffset(t *testing.T) {
	s := New(t)
	bo := s.User(5, "Bo").Private()
	var ids []int64
	for range 5 {
		ids = append(ids, bo.Say("hi").Update)
	}
	for range 2 { // nothing is confirmed by being fetched
		if got := poll(t, s, nil); !slices.Equal(got, ids) {
			t.Fatalf("got %v, want %v", got, ids)
		}
	}
	if got := poll(t, s, map[string]any{"limit": 2}); !slices.Equal(got, ids[:2]) {
		t.Errorf("limit 2: got %v", got)
	}
	if got := poll(t, s, map[string]any{"offset": ids[2]}); !slices.Equal(got, ids[2:]) {
		t.Errorf("offset: got %v, want %v", got, ids[2:])
	}
	if s.Pending() != 3 {
		t.Errorf("%d pending, want 3", s.Pending())
	}
	if got := poll(t, s, map[string]any{"offset": -1}); !slices.Equal(got, ids[4:]) {
		t.Errorf("offset -1: got %v, want the last", got)
	}
	poll(t, s, map[string]any{"offset": ids[4] + 1})
	s.Redeliver(ids[1])
	if got := poll(t, s, nil); !slices.Equal(got, ids[1:2]) {
		t.Errorf("redelivered: got %v, want %v", got, ids[1:2])
	}
}

func TestAStaleHighOffsetDropsLowerIDs(t *testing.T) {
	s := New(t)
	bo := s.User(5, "Bo").Private()
	high := bo.Say("before the quiet week").Update
	s.NextUpdate(1000)
	bo.Say("after it")
	if got := poll(t, s, map[string]any{"offset": high + 1}); len(got) != 0 || s.Pending() != 0 {
		t.Errorf("got %v, %d pending", got, s.Pending())
	}
}

func TestAllowedUpdatesAreRemembered(t *testing.T) {
	s := New(t)
	seat := s.User(5, "Bo").Private()
	poll(t, s, map[string]any{"allowed_updates": []string{"message"}})
	sent := seat.Say("hi")
	if edited := seat.Edit(sent.Message, "ho"); edited.Update != 0 {
		t.Error("an edit came through")
	}
	poll(t, s, map[string]any{}) // leaves the setting
	if edited := seat.Edit(sent.Message, "hu"); edited.Update != 0 {
		t.Error("an edit came through")
	}
	poll(t, s, map[string]any{"allowed_updates": []string{}})
	if edited := seat.Edit(sent.Message, "ha"); edited.Update == 0 {
		t.Error("no edit after the default was set again")
	}
}

func TestLongPoll(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := New(t, InMemory())
		seat := s.User(5, "Bo").Private()
		start := time.Now()
		if got := poll(t, s, map[string]any{"timeout": 50}); len(got) != 0 || time.Since(start) != 50*time.Second {
			t.Errorf("got %v after %v, want none after 50 s", got, time.Since(start))
		}
		start = time.Now()
		var got []int64
		var wg sync.WaitGroup
		wg.Go(func() { got = poll(t, s, map[string]any{"timeout": 50}) })
		time.Sleep(3 * time.Second)
		seat.Say("now")
		wg.Wait()
		if len(got) != 1 || time.Since(start) != 3*time.Second {
			t.Errorf("got %v after %v, want one after 3 s", got, time.Since(start))
		}
	})
}

func TestConflicts(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := New(t, InMemory())
		first := make(chan reply)
		go func() { first <- call(t, s, "getUpdates", map[string]any{"timeout": 50}) }()
		synctest.Wait()
		second := make(chan struct{})
		go func() {
			defer close(second)
			if resp, err := s.Client().Get(s.URL() + "/bot" + s.Token() + "/getUpdates?timeout=1"); err == nil {
				resp.Body.Close()
			}
		}()
		if r := <-first; r.Code != http.StatusConflict {
			t.Errorf("first of two pollers: %+v, want 409", r)
		}
		<-second
		call(t, s, "setWebhook", map[string]any{"url": "https://rope.example/hook"})
		if r := call(t, s, "getUpdates", nil); r.Code != http.StatusConflict {
			t.Errorf("poll with a webhook: %+v, want 409", r)
		}
		call(t, s, "deleteWebhook", nil)
		if r := call(t, s, "getUpdates", nil); !r.OK {
			t.Errorf("poll after the webhook: %+v", r)
		}
	})
}

func TestDeliver(t *testing.T) {
	s := New(t)
	call(t, s, "setWebhook", map[string]any{"url": "https://rope.example/hook", "secret_token": "s-1"})
	seat := s.User(5, "Bo").Private()
	for range 6 {
		seat.Say("hi")
	}
	var mu sync.Mutex
	seen := map[string]int{}
	code := http.StatusServiceUnavailable
	hook := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		defer mu.Unlock()
		seen[r.Header.Get(SecretHeader)]++
		w.WriteHeader(code)
	}))
	defer hook.Close()
	if s.Deliver(t.Context(), hook.URL, Delivery{}); s.Pending() != 6 {
		t.Errorf("%d pending after 503, want 6", s.Pending())
	}
	code = http.StatusOK
	if got := s.Deliver(t.Context(), hook.URL, Delivery{Copies: 2, Shuffle: 3}); len(got) != 12 || s.Pending() != 0 {
		t.Errorf("%d posts, %d pending, want 12 and 0", len(got), s.Pending())
	}
	if seen["s-1"] != 18 {
		t.Errorf("posts by secret: %v, want 18 with s-1", seen)
	}
}

func TestGroupPrivacy(t *testing.T) {
	s := New(t)
	ann, bo := s.User(4, "Ann"), s.User(5, "Bo")
	g := s.Group(-7, "Ditch", ann)
	seat := g.Seat(bo)
	reaches := func(what string, sent Sent, want bool) {
		t.Helper()
		if got := sent.Update != 0; got != want {
			t.Errorf("%s: reaches the bot %v, want %v", what, got, want)
		}
	}
	reaches("free text", seat.Say("2.4 t"), false)
	reaches("bare command before the bot spoke", seat.Say("/stop"), false)
	command := seat.Say("/stop@" + BotName + " now")
	reaches("command by name", command, true)
	reaches("another bot's command", seat.Say("/stop@other_bot"), false)
	reaches("command in mid-text", seat.Say("then /stop@"+BotName), false)
	reaches("reply to a command to the bot", seat.Reply(command.Message, "please"), true)
	keyboard := map[string]any{"inline_keyboard": [][]any{{map[string]any{"text": "Yes", "callback_data": "y"}}}}
	call(t, s, "sendMessage", map[string]any{"chat_id": -7, "text": "sure", "reply_markup": keyboard})
	reaches("bare command after the bot spoke", seat.Say("/stop"), true)
	reaches("reply to the bot", seat.Reply(s.Last(-7).ID, "yes"), true)
	reaches("free text after the bot spoke", seat.Say("yes"), false)
	reaches("service message", g.Title(ann, "Ditch 2"), true)
	if press := seat.Press(s.Last(-7).ID, "Yes"); press.Update == 0 {
		t.Error("a press did not reach the bot")
	}
	g.OtherBotSpoke()
	reaches("bare command after another bot spoke", seat.Say("/stop"), false)
	s.Privacy(false)
	reaches("free text without privacy", seat.Say("yes"), true)
}

func TestCommandsAreMarkedInUnits(t *testing.T) {
	got := commandsIn("é🚙 /help@a_bot and/or /x\n/y /")
	want := []Entity{{"bot_command", 4, 11}, {"bot_command", 23, 2}, {"bot_command", 26, 2}}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestBusiest(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := New(t, InMemory())
		s.User(5, "Bo").Private().Say("hi")
		for range 10 {
			call(t, s, "sendMessage", map[string]any{"chat_id": 5, "text": "a"})
			time.Sleep(300 * time.Millisecond)
		}
		if got := s.Busiest(time.Second, Call.Speaks); got != 4 {
			t.Errorf("busiest second had %d calls, want 4", got)
		}
	})
}
