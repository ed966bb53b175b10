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
	"regexp"
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
	caller   = 120   // one of them: who has called a stop is not told of the next one of another
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
	text    string // how the messages begin that count
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
	} else if r.Body != nil { // ours are JSON, the library's are forms
		var said struct {
			Chat int64  `json:"chat_id"`
			Text string `json:"text"`
		}
		if err := json.NewDecoder(r.Body).Decode(&said); err == nil {
			chat, text = said.Chat, said.Text
		}
	}
	result := `true`
	c.mu.Lock()
	c.next++
	switch {
	case strings.HasSuffix(r.URL.Path, "/getMe"):
		result = `{"id":700100,"is_bot":true,"first_name":"Rope party","username":"rope_party_bot"}`
	case strings.HasSuffix(r.URL.Path, "/sendMessage"), strings.HasSuffix(r.URL.Path, "/editMessageText"):
		result = fmt.Sprintf(`{"message_id":%d,"date":1,"chat":{"id":%d,"type":"private"}}`, c.next, chat)
		if _, had := c.stopped[chat]; !had && strings.HasPrefix(text, c.text) {
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

// count begins to count the messages that begin with a text.
func (c *calls) count(text string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.text = text
	clear(c.stopped)
}

// last returns when the last of them had it.
func (c *calls) last() (at time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, t := range c.stopped {
		if t.After(at) {
			at = t
		}
	}
	return at
}

// rig is the program, on a channel that has no network.
type rig struct {
	b       *testing.B
	store   *store.Store
	channel *calls
	ch      *Channel
	desk    *flow.Desk
	door    http.Handler
	chats   []string // of those who take part, the lead first
	n       int      // updates so far
}

func newRig(b *testing.B) *rig {
	st, err := store.Open(b.TempDir(), store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() {
		if err := st.Close(); err != nil {
			b.Error(err)
		}
	})
	r := &rig{b: b, store: st, channel: &calls{stopped: map[int64]time.Time{}, all: make(chan struct{}, 1), want: crowd}}
	r.ch, err = New(Config{
		Token: "700100:AAtest", HTTP: &http.Client{Transport: r.channel}, Inbox: st, Outbox: st, Behind: st.Behind,
		Log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	})
	if err != nil {
		b.Fatal(err)
	}
	engine := &flow.Engine{Reckon: reckoned(), Words: wording.English(), Random: script.Dice(), Anyone: true}
	r.desk = &flow.Desk{Log: st, Inbox: st, Engine: engine, Decode: r.ch.Decode, Waiting: st.Waiting, Posted: r.ch.Sender().Posted}
	if err := r.ch.Start(b.Context()); err != nil {
		b.Fatal(err)
	}
	if r.door, err = r.ch.Webhook(benchKey, r.desk.Arrived); err != nil {
		b.Fatal(err)
	}
	return r
}

// update is what somebody says, as the channel puts it.
func (r *rig) update(chat int64, text string) []byte {
	r.n++
	body, err := json.Marshal(map[string]any{"update_id": r.n, "message": map[string]any{
		"message_id": r.n, "date": time.Now().Unix(), "chat": map[string]any{"id": chat, "type": "private"},
		"from": map[string]any{"id": chat, "first_name": fmt.Sprint("Ann", chat)}, "text": text,
	}})
	if err != nil {
		r.b.Fatal(err)
	}
	return body
}

// knock posts an update, and returns when it came to our door.
func (r *rig) knock(chat int64, text string) time.Time {
	q := httptest.NewRequest(http.MethodPost, "/", bytes.NewReader(r.update(chat, text)))
	q.Header.Set(SecretHeader, benchKey)
	w := httptest.NewRecorder()
	at := time.Now()
	r.door.ServeHTTP(w, q)
	if w.Code != http.StatusOK {
		r.b.Fatalf("an update is answered %d", w.Code)
	}
	return at
}

// say has somebody say something before anything runs, and returns what that led to.
func (r *rig) say(chat int64, text string) (said string) {
	r.b.Helper()
	r.knock(chat, text)
	for more := true; more; {
		var err error
		if more, err = r.desk.Turn(r.b.Context(), ChatKey(chat, 0)); err != nil {
			r.b.Fatal(err)
		}
	}
	for {
		list, err := r.store.Due(time.Now(), dueBatch, nil)
		if err != nil {
			r.b.Fatal(err)
		}
		if len(list) == 0 {
			return said
		}
		for _, d := range list {
			m, err := flow.DecodeMessage(d.Body)
			if err != nil {
				r.b.Fatal(err)
			}
			said += m.Text() + "\n"
			if err := r.store.Sent(d.ID, "", nil); err != nil {
				r.b.Fatal(err)
			}
		}
	}
}

// assemble brings a crowd into one job.
func (r *rig) assemble() {
	r.b.Helper()
	code := regexp.MustCompile(`\b[a-z]+(-[a-z]+){3}-\d\d\b`)
	r.say(101, "/start")
	for i := range crowd {
		chat := int64(101 + i)
		r.chats = append(r.chats, ChatKey(chat, 0))
		if i > 0 {
			r.say(chat, "join "+code.FindString(r.say(101, "crew code")))
		}
	}
}

// fill has messages waiting to be sent, in the chats of the crowd and of the others: at the channel's limits
// they take hours.
func (r *rig) fill() {
	body, err := words("Hold the line.").Encode()
	if err != nil {
		r.b.Fatal(err)
	}
	var parcels []flow.Parcel
	for i := range backlog {
		parcels = append(parcels, flow.Parcel{Chat: ChatKey(int64(101+i%(crowd+talkers)), 0), Body: body})
	}
	if _, err := r.store.Commit(flow.Turn{Outbox: parcels}); err != nil {
		r.b.Fatal(err)
	}
}

// chatter has everybody else say something at once.
func (r *rig) chatter() {
	var list []flow.Arrival
	for i := range talkers {
		chat := int64(1001 + i)
		body := r.update(chat, fmt.Sprint("note ", r.n))
		list = append(list, flow.Arrival{Key: fmt.Sprint("telegram/700100/", r.n), Chat: ChatKey(chat, 0), At: time.Now(), Body: body})
	}
	if err := r.store.Accept("telegram/700100", 0, list); err != nil {
		r.b.Fatal(err)
	}
	r.desk.Arrived(list)
}

// BenchmarkStop (-benchtime 50x) measures stops among a full queue of messages and, in the second case, among hundreds
// of chats whose updates wait for their turns.
func BenchmarkStop(b *testing.B) {
	b.Run("queue full", func(b *testing.B) { stops(b, false) })
	b.Run("queue full, hundreds talk", func(b *testing.B) { stops(b, true) })
}

// stops measures. Each stop makes the log of the job longer, and with it the reading of it: 50 are more
// than a long job has.
func stops(b *testing.B, talk bool) {
	r := newRig(b)
	r.assemble()
	r.fill()
	ctx, cancel := context.WithCancel(b.Context())
	var running sync.WaitGroup
	running.Go(func() { r.desk.Run(ctx) })
	running.Go(func() { r.ch.Sender().Run(ctx) })
	defer running.Wait()
	defer cancel()
	var times, bare []float64
	for b.Loop() {
		bare = append(bare, r.bareStop())
		if talk {
			r.chatter()
		}
		r.channel.count("STOP.")
		came := r.knock(caller, "stop")
		select {
		case <-r.channel.all:
		case <-time.After(time.Minute):
			b.Fatal("not everybody is told")
		}
		times = append(times, float64(r.channel.last().Sub(came).Microseconds())/1000)
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
func (r *rig) bareStop() float64 {
	r.b.Helper()
	body, err := words("STOP. Everybody stop and hold.").Encode()
	if err != nil {
		r.b.Fatal(err)
	}
	r.channel.count("Bare.")
	began := time.Now()
	key := fmt.Sprint("bare/", began.UnixNano())
	if err := r.store.Accept("bare", 0, []flow.Arrival{{Key: key, Chat: "bare", At: began, Body: body}}); err != nil {
		r.b.Fatal(err)
	}
	// Of about the bytes that a stop leaves, but nothing that a sender would find.
	t := flow.Turn{Update: key, Writes: []flow.Write{{Stream: key, Entries: [][]byte{bytes.Repeat(body, crowd)}}}}
	if _, err := r.store.Commit(t); err != nil {
		r.b.Fatal(err)
	}
	for _, chat := range r.chats {
		id, _, _ := readChatKey(chat)
		go r.ch.api.SendMessage(r.b.Context(), &tg.SendMessageParams{ChatID: id, Text: "Bare. Everybody stop and hold."})
	}
	<-r.channel.all
	return float64(r.channel.last().Sub(began).Microseconds()) / 1000
}
