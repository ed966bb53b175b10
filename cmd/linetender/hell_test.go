package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram"
	"linetender/flow/telegram/apitest"
	"linetender/store"
)

const hellSecret = "agreed-upon"

// A party is the whole program but for its own limits on how often it speaks,
// in this process, with a test channel that posts to it.
type party struct {
	srv   *apitest.Server
	store *store.Store
	hook  *httptest.Server
	stop  func()
}

func newParty(t testing.TB, dir string) *party {
	t.Helper()
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	srv := apitest.New(t)
	own := share{Store: st, scheme: chatScheme}
	ch, err := telegram.New(telegram.Config{
		Token: srv.Token(), Server: srv.URL(), HTTP: srv.Client(), Inbox: own, Outbox: own, Limits: &telegram.Limits{},
	})
	if err != nil {
		t.Fatal(err)
	}
	desk := &flow.Desk{Log: st, Inbox: own, Engine: newEngine(true), Decode: ch.Decode, Posted: ch.Sender().Posted}
	ctx, cancel := context.WithCancel(context.Background())
	if err := ch.Start(ctx); err != nil {
		t.Fatal(err)
	}
	if err := ch.SetWebhook(ctx, "https://bot.example.org/hook", hellSecret); err != nil {
		t.Fatal(err)
	}
	handler, err := ch.Webhook(hellSecret, desk.Arrived)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 2)
	go func() { ended <- desk.Run(ctx) }()
	go func() { ended <- ch.Sender().Run(ctx) }()
	p := &party{srv: srv, store: st, hook: httptest.NewServer(handler)}
	p.stop = func() {
		p.hook.Close()
		cancel()
		for range 2 {
			if err := <-ended; err != nil {
				t.Error(err)
			}
		}
		if err := st.Close(); err != nil {
			t.Error(err)
		}
	}
	return p
}

// quiet waits until nothing waits for its turn and nothing to be sent.
func (p *party) quiet(t testing.TB) {
	t.Helper()
	n := p.until(t, func(n store.Stats) bool { return n.Waiting == 0 && n.Unsent == 0 })
	if n.Dead != 0 {
		t.Errorf("%d updates or messages were given up", n.Dead)
	}
}

// heard waits until nothing waits for its turn.
func (p *party) heard(t testing.TB) {
	t.Helper()
	p.until(t, func(n store.Stats) bool { return n.Waiting == 0 })
}

// until waits until the store stands as is asked.
func (p *party) until(t testing.TB, stands func(store.Stats) bool) store.Stats {
	t.Helper()
	late := time.After(10 * patience)
	for {
		n, err := p.store.Stats()
		if err != nil {
			t.Fatal(err)
		}
		if stands(n) {
			return n
		}
		select {
		case <-late:
			t.Fatalf("%d updates wait and %d messages are unsent, and it does not end", n.Waiting, n.Unsent)
		case <-time.After(10 * time.Millisecond): // looks again; nothing depends on how often
		}
	}
}

// lines are what a person says, one after the other: all golden conversations.
func hellLines(t testing.TB) (lines []string) {
	t.Helper()
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range scripts {
		lines = append(lines, "new")
		for _, step := range s.Steps {
			lines = append(lines, step.Input)
		}
	}
	return lines
}

// ends are what every chat's jobs came to: what was heard, where it led and
// what was said, without the codes, which chance makes.
func ends(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for chat, entries := range jobEntries(t, dir) {
		var b strings.Builder
		for _, e := range entries {
			fmt.Fprintf(&b, "%q %s %s", e.Heard.Text, e.State, e.Topic)
			if e.Decided != nil {
				fmt.Fprintf(&b, " %s %s", e.Decided.Decision, e.Decided.Digest)
			}
			for _, s := range e.Said {
				fmt.Fprintf(&b, "\n  %s: %s", s.Key, s.Text)
			}
			b.WriteString("\n")
		}
		all[chat] = codePattern.ReplaceAllString(b.String(), "larch-42")
	}
	return all
}

// storms are the faults of the channel from hell. Each is set now and then
// and strikes a few calls; those that strike late leave the program in doubt
// whether the call had its effect.
var storms = []apitest.Fault{
	{Method: "sendMessage", Kind: apitest.TooMany, RetryAfter: time.Second, Times: 5},
	{Method: "sendMessage", Kind: apitest.Broken, Code: 502, Times: 5},
	{Method: "sendMessage", Kind: apitest.Broken, Times: 3, Late: true},
	{Method: "sendMessage", Kind: apitest.Half, Times: 3, Late: true},
	{Method: "sendMessage", Kind: apitest.Reset, Times: 3},
	{Method: "sendMessage", Kind: apitest.Reset, Times: 3, Late: true},
	{Method: "sendMessage", Kind: apitest.Slow, Pause: 20 * time.Millisecond, Times: 10},
	{Method: "sendMessage", Kind: apitest.Garbage, Times: 3},
	{Method: "editMessageText", Kind: apitest.TooMany, RetryAfter: time.Second, Times: 2},
	{Method: "editMessageText", Kind: apitest.Half, Times: 3, Late: true},
}

// TestChannelFromHell: whatever the channel repeats, reorders across chats,
// throttles, breaks off or delays, every job ends as it does on a channel
// without a fault, and everything is said.
func TestChannelFromHell(t *testing.T) {
	waves, chats := campaign(12, 40, 500), campaign(10, 40, 200)
	lines := hellLines(t)
	calm, hell := t.TempDir(), t.TempDir()
	// Chats play one of a few parts, so that what is expected is soon known.
	const parts = 10
	converse(t, calm, lines, waves, parts, parts, false)
	posts := converse(t, hell, lines, waves, chats, parts, true)
	want, got := ends(t, calm), ends(t, hell)
	if len(want) != parts || len(got) != chats {
		t.Fatalf("%d and %d chats have a job, want %d and %d", len(want), len(got), parts, chats)
	}
	for i := range chats {
		chat, like := hellChat(i), hellChat(i%parts)
		if got[chat] != want[like] {
			t.Errorf("chat %s ends otherwise than on a channel without a fault:\n%s", chat, firstDifference(want[like], got[chat]))
		}
	}
	t.Logf("%d updates, posted %d times, in %d chats", waves*chats, posts, chats)
}

// firstInHell is the first chat's number there.
const firstInHell = 5001

func hellChat(i int) string { return fmt.Sprintf("telegram/%d", firstInHell+i) }

// converse plays waves: in each, every chat says its next line, all at once.
// It returns how many posts there were.
func converse(t *testing.T, dir string, lines []string, waves, chats, parts int, faults bool) (posts int) {
	t.Helper()
	p := newParty(t, dir)
	defer p.stop()
	var seats []*apitest.Seat
	for i := range chats {
		seats = append(seats, p.srv.User(firstInHell+int64(i), "Ada").Private())
	}
	began := time.Now()
	rng := rand.New(rand.NewPCG(7, uint64(waves)))
	engine := newEngine(true)
	var past []int64
	for wave := range waves {
		// People take their time, the same on every channel, so that nothing hangs on how long a slow one takes.
		p.srv.Date(began.Add(time.Duration(wave) * 12 * time.Second))
		var stops bool
		for i, s := range seats {
			line := lines[(i%parts*131+wave)%len(lines)]
			stops = stops || engine.Urgent(flow.Input{Text: line})
			past = append(past, s.Say(line).Update)
		}
		if stops {
			p.heard(t) // a stop goes ahead of what its chat has said and waits, which is then no order to compare
		}
		how := apitest.Delivery{Parallel: 1}
		if faults {
			how = apitest.Delivery{Parallel: 8, Copies: 2, Shuffle: rng.Uint64()}
			p.srv.Redeliver(past[rng.IntN(len(past))])
			if wave%7 == 6 {
				p.srv.Heal()
			} else {
				p.srv.Fail(storms[rng.IntN(len(storms))])
			}
		}
		for p.srv.Pending() > 0 {
			posted := p.srv.Deliver(t.Context(), p.hook.URL, how)
			posts += len(posted)
		}
	}
	p.srv.Heal()
	p.quiet(t)
	return posts
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return fmt.Sprintf("line %d is\n%s\nwant\n%s", i+1, g[i], w[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(g), len(w))
}
