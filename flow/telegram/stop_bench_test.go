package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	tg "github.com/go-telegram/bot"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/wording"
	"linetender/store"
)

// How long a stop takes: from its update's arrival at our door to the moment at which the message of
// the last of those who take part is handed to the channel. The network has no part in it: the channel
// here is in memory and answers at once.

// The bare times are of what no stop can do without, in the same run: the update is kept, what is to be
// said is kept, and as many calls of the bot library are begun side by side.

const (
	crowd    = 20    // who take part, each in a chat of their own
	backlog  = 5_000 // messages that wait to be sent, in many chats
	talkers  = 500   // chats in which updates wait for their turns all the while
	benchKey = "s-1" // the webhook's secret
)

// calls is the channel: it answers every call, and notes when a message to each chat was handed over
// that is a stop.
type calls struct {
	mu      sync.Mutex
	next    int
	stopped map[int64]time.Time
	all     chan struct{} // gets one when all of the crowd have theirs
	want    int
}

func (c *calls) RoundTrip(r *http.Request) (*http.Response, error) {
	at := time.Now()
	var chat int64
	text := ""
	if parts, err := r.MultipartReader(); err == nil {
		for {
			p, err := parts.NextPart()
			if err != nil {
				break
			}
			b, err := io.ReadAll(p)
			if err != nil {
				return nil, err
			}
			switch p.FormName() {
			case "chat_id":
				fmt.Sscan(string(b), &chat)
			case "text":
				text = string(b)
			}
		}
	}
	result := `true`
	c.mu.Lock()
	c.next++
	switch {
	case strings.HasSuffix(r.URL.Path, "/getMe"):
		result = `{"id":700100,"is_bot":true,"first_name":"Rope party","username":"rope_party_bot"}`
	case strings.HasSuffix(r.URL.Path, "/sendMessage"):
		result = fmt.Sprintf(`{"message_id":%d,"date":1,"chat":{"id":%d,"type":"private"}}`, c.next, chat)
		if _, had := c.stopped[chat]; !had && strings.HasPrefix(text, "STOP.") {
			c.stopped[chat] = at
			if len(c.stopped) == c.want {
				c.all <- struct{}{}
			}
		}
	}
	c.mu.Unlock()
	return &http.Response{
		StatusCode: http.StatusOK, Request: r, Header: http.Header{"Content-Type": {"application/json"}},
		Body: io.NopCloser(strings.NewReader(`{"ok":true,"result":` + result + `}`)),
	}, nil
}

// last returns when the last of them had it, and forgets them.
func (c *calls) last() (at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, t := range c.stopped {
		if t.After(at) {
			at = t
		}
	}
	clear(c.stopped)
	return at
}

// together is a log in which what is urgent goes to all of a crowd.
type together struct {
	*store.Store
	chats []string
}

func (l *together) Commit(t flow.Turn) ([]uint64, error) {
	var extra []flow.Parcel
	for _, p := range t.Outbox {
		if p.Urgent {
			for _, chat := range l.chats {
				if chat != p.Chat {
					extra = append(extra, flow.Parcel{Chat: chat, Urgent: true, Body: p.Body})
				}
			}
		}
	}
	t.Outbox = append(slices.Clone(t.Outbox), extra...)
	return l.Store.Commit(t)
}

// BenchmarkStop measures stops among a full queue of messages and, in the second case, among hundreds
// of chats whose updates wait for their turns.
func BenchmarkStop(b *testing.B) {
	b.Run("queue full", func(b *testing.B) { stops(b, false) })
	b.Run("queue full, hundreds talk", func(b *testing.B) { stops(b, true) })
}

func stops(b *testing.B, talk bool) {
	st, err := store.Open(b.TempDir(), store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer st.Close()
	log := &together{Store: st}
	for i := range crowd {
		log.chats = append(log.chats, ChatKey(int64(101+i), 0))
	}
	channel := &calls{stopped: map[int64]time.Time{}, all: make(chan struct{}, 1), want: crowd}
	ch, err := New(Config{
		Token: "700100:AAtest", HTTP: &http.Client{Transport: channel}, Inbox: st, Outbox: st, Behind: st.Behind,
		Log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	})
	if err != nil {
		b.Fatal(err)
	}
	engine := &flow.Engine{Reckon: reckoned(), Words: wording.English(), Random: script.Dice(), Anyone: true}
	desk := &flow.Desk{Log: log, Inbox: st, Engine: engine, Decode: ch.Decode, Waiting: st.Waiting, Posted: ch.Sender().Posted}
	if err := ch.Start(b.Context()); err != nil {
		b.Fatal(err)
	}
	door, err := ch.Webhook(benchKey, desk.Arrived)
	if err != nil {
		b.Fatal(err)
	}
	n := 0
	knock := func(chat int, text string) time.Time {
		n++
		body, err := json.Marshal(map[string]any{"update_id": n, "message": map[string]any{
			"message_id": n, "date": time.Now().Unix(), "chat": map[string]any{"id": chat, "type": "private"},
			"from": map[string]any{"id": chat, "first_name": "Ann"}, "text": text,
		}})
		if err != nil {
			b.Fatal(err)
		}
		r := httptest.NewRequest(http.MethodPost, "/", bytes.NewReader(body))
		r.Header.Set(SecretHeader, benchKey)
		w := httptest.NewRecorder()
		at := time.Now()
		door.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatalf("an update is answered %d", w.Code)
		}
		return at
	}
	// One job, and as many messages waiting as fill the channel's limits for hours.
	var parcels []flow.Parcel
	body, err := words("Hold the line.").Encode()
	if err != nil {
		b.Fatal(err)
	}
	for i := range backlog {
		parcels = append(parcels, flow.Parcel{Chat: ChatKey(int64(101+i%(crowd+talkers)), 0), Body: body})
	}
	if _, err := st.Commit(flow.Turn{Outbox: parcels}); err != nil {
		b.Fatal(err)
	}
	ctx, cancel := context.WithCancel(b.Context())
	var running sync.WaitGroup
	running.Go(func() { desk.Run(ctx) })
	running.Go(func() { ch.Sender().Run(ctx) })
	defer running.Wait()
	defer cancel()
	for i := range crowd {
		knock(101+i, "/start")
	}
	var times, bare []float64
	for b.Loop() {
		bare = append(bare, bareStop(b, st, ch, channel, log.chats))
		if talk {
			b.StopTimer()
			var list []flow.Arrival
			for i := range talkers {
				n++
				raw := fmt.Sprintf(`{"update_id":%d,"message":{"message_id":%d,"date":5,"chat":{"id":%d,"type":"private"},"from":{"id":4,"first_name":"Bo"},"text":"note %d"}}`, n, n, 1001+i, n)
				list = append(list, flow.Arrival{Key: fmt.Sprint("telegram/700100/", n), Chat: ChatKey(int64(1001+i), 0), At: time.Now(), Body: []byte(raw)})
			}
			if err := st.Accept("telegram/700100", 0, list); err != nil {
				b.Fatal(err)
			}
			desk.Arrived(list)
			b.StartTimer()
		}
		came := knock(101+len(times)%crowd, "stop")
		select {
		case <-channel.all:
		case <-time.After(time.Minute):
			b.Fatal("not everybody is told")
		}
		times = append(times, float64(channel.last().Sub(came).Microseconds())/1000)
	}
	b.ReportMetric(quantile(times, 0.5), "p50-ms")
	b.ReportMetric(quantile(times, 0.99), "p99-ms")
	b.ReportMetric(quantile(bare, 0.99), "p99-bare-ms")
	b.ReportMetric(quantile(times, 0.5)/quantile(bare, 0.5), "x-bare")
	b.ReportMetric(0, "ns/op")
}

func quantile(list []float64, share float64) float64 {
	list = slices.Sorted(slices.Values(list))
	return list[min(len(list)-1, int(share*float64(len(list))))]
}

// bareStop is the time in milliseconds of two durable writes and the calls, with nothing around them.
func bareStop(b *testing.B, st *store.Store, ch *Channel, channel *calls, chats []string) float64 {
	b.Helper()
	body, err := words("STOP. Everybody stop and hold.").Encode()
	if err != nil {
		b.Fatal(err)
	}
	began := time.Now()
	key := fmt.Sprint("bare/", began.UnixNano())
	if err := st.Accept("bare", 0, []flow.Arrival{{Key: key, Chat: "bare", At: began, Body: body}}); err != nil {
		b.Fatal(err)
	}
	// Of the same bytes as a stop leaves, but nothing that a sender would find.
	t := flow.Turn{Update: key, Writes: []flow.Write{{Stream: key, Entries: [][]byte{bytes.Repeat(body, crowd)}}}}
	if _, err := st.Commit(t); err != nil {
		b.Fatal(err)
	}
	for _, chat := range chats {
		id, _, _ := readChatKey(chat)
		go ch.api.SendMessage(b.Context(), &tg.SendMessageParams{ChatID: id, Text: "STOP. Everybody stop and hold."})
	}
	<-channel.all
	return float64(channel.last().Sub(began).Microseconds()) / 1000
}
