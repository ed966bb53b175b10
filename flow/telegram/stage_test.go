package telegram

import (
	"context"
	"encoding/json"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"linetender/calc/unit"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram/apitest"
	"linetender/flow/wording"
	"linetender/store"
)

// stage is the whole conversation on this channel: a real store, the desk, the poll and the sender, on a
// channel in memory inside a synctest bubble, so that no limit on how often we speak is waited for.
type stage struct {
	srv   *apitest.Server
	store *store.Store
	box   *outgoing
	desk  *flow.Desk
}

// staged runs body on a stage of its own, and holds all calls to what the channel carries.
func staged(t *testing.T, body func(t *testing.T, st *stage)) {
	t.Helper()
	dir := t.TempDir()
	synctest.Test(t, func(t *testing.T) {
		s, err := store.Open(dir, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		st := &stage{srv: apitest.New(t, apitest.InMemory()), store: s, box: newOutgoing(s)}
		engine := &flow.Engine{Reckon: reckoned(), Words: wording.English(), Random: script.Dice(), Anyone: true}
		ch, err := New(Config{
			Token: st.srv.Token(), Server: st.srv.URL(), HTTP: st.srv.Client(),
			Commands: commands(t, engine), Inbox: s, Outbox: st.box,
		})
		if err != nil {
			t.Fatal(err)
		}
		st.desk = &flow.Desk{Log: s, Inbox: s, Engine: engine, Decode: ch.Decode, Posted: ch.Sender().Posted}
		if err := ch.Start(t.Context()); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan error, 3)
		go func() { ended <- ch.Poll(ctx, st.desk.Arrived) }()
		go func() { ended <- st.desk.Run(ctx) }()
		go func() { ended <- ch.Sender().Run(ctx) }()
		body(t, st)
		stop()
		for range cap(ended) {
			if err := <-ended; err != nil {
				t.Error(err)
			}
		}
		if err := s.Check(); err != nil {
			t.Error(err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		st.fits(t)
	})
}

func commands(t *testing.T, e *flow.Engine) (list []Command) {
	t.Helper()
	items, err := e.Menu()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range items {
		list = append(list, Command{Name: m.Word, Does: m.Does})
	}
	return list
}

// fits holds every message to the channel's lengths. The channel itself would refuse most of what
// is too long; this says so where the answer to a refusal would hide it.
func (st *stage) fits(t *testing.T) {
	t.Helper()
	for _, c := range st.srv.Calls() {
		if n := units(c.Text()); n > 4096 {
			t.Errorf("%s: %d units in one message", c.Method, n)
		}
		if !c.OK() && !strings.Contains(c.Outcome, unchanged) { // a message that is kept up to date may be so already
			t.Errorf("%s was answered %q", c.Method, c.Outcome)
		}
		markup, _ := c.Params["reply_markup"].(map[string]any)
		rows, _ := markup["inline_keyboard"].([]any)
		for _, row := range rows {
			for _, b := range row.([]any) {
				if data, _ := b.(map[string]any)["callback_data"].(string); len(data) < 1 || len(data) > 64 {
					t.Errorf("a button carries %d bytes: %q", len(data), data)
				}
			}
		}
	}
}

// quiet waits until all that was said to the program has been answered. A person takes a while for the next
// message; until then the limits on how often we speak are at rest again.
func (st *stage) quiet(t *testing.T) {
	t.Helper()
	st.answered(t)
	time.Sleep(time.Minute)
	synctest.Wait()
}

// answered waits until all that was said to the program has been answered, and no longer.
func (st *stage) answered(t *testing.T) {
	t.Helper()
	for range 100 {
		synctest.Wait()
		n, err := st.store.Stats()
		if err != nil {
			t.Fatal(err)
		}
		if st.srv.Pending() == 0 && n.Waiting == 0 && n.Unsent == 0 {
			if n.Dead != 0 {
				t.Errorf("%d updates or messages were given up", n.Dead)
			}
			return
		}
		time.Sleep(time.Second)
	}
	t.Fatal("not all is answered after a hundred seconds")
}

func (st *stage) words(t *testing.T, k wording.Key) string {
	t.Helper()
	text, err := st.desk.Engine.Words.Say(unit.Metric, k, nil)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// mark is a place in the conversation.
type mark struct {
	sent int                     // parcels
	said int                     // calls that show words
	open map[int64]apitest.Shown // by chat, the question that has buttons
}

func (st *stage) mark() mark {
	m := mark{sent: len(st.box.sent), said: len(st.srv.Calls("sendMessage", "answerCallbackQuery")), open: map[int64]apitest.Shown{}}
	for chat := range st.box.chats {
		if last := st.srv.Last(chat); len(last.Buttons) > 0 {
			m.open[chat] = last
		}
	}
	return m
}

// shownAs is the id of the message that shows m's buttons, or did.
func (st *stage) shownAs(chat int64, m flow.Message) int64 {
	raw, _, err := st.store.Receipt(ChatKey(chat, 0), m.Slot)
	var at receipt
	if err != nil || json.Unmarshal(raw, &at) != nil {
		return 0
	}
	return int64(at.Message)
}

// outgoing is the store's outbox with an eye on what leaves it. The tests look only while the bubble rests.
type outgoing struct {
	*store.Store
	mu     sync.Mutex // of the writers
	bodies map[uint64]due
	sent   []flow.Message
	to     []int64 // the chat of each
	chats  map[int64]bool
}

func newOutgoing(s *store.Store) *outgoing {
	return &outgoing{Store: s, bodies: map[uint64]due{}, chats: map[int64]bool{}}
}

func (o *outgoing) Due(now time.Time, limit int, busy map[string]bool) ([]due, error) {
	list, err := o.Store.Due(now, limit, busy)
	o.mu.Lock()
	defer o.mu.Unlock()
	for _, d := range list {
		o.bodies[d.ID] = d
	}
	return list, err
}

func (o *outgoing) Sent(id uint64, slot string, receipt []byte) error {
	err := o.Store.Sent(id, slot, receipt)
	o.mu.Lock()
	defer o.mu.Unlock()
	if err == nil {
		m, bad := flow.DecodeMessage(o.bodies[id].Body)
		if bad != nil {
			return bad
		}
		chat, _, _ := readChatKey(o.bodies[id].Chat)
		o.sent, o.to, o.chats[chat] = append(o.sent, m), append(o.to, chat), true
	}
	return err
}
