package main

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/telegram"
	"linetender/flow/telegram/apitest"
	"linetender/store"
	"linetender/store/memory"
)

// cost is what a run took, by the clock and by the processor.
type cost struct{ wall, work time.Duration }

func (c *cost) add(d cost) { c.wall, c.work = c.wall+d.wall, c.work+d.work }

// over is how many times as quick as this cost another is.
func (c cost) over(other cost) (wall, work float64) {
	return float64(c.wall) / float64(other.wall), float64(c.work) / float64(other.work)
}

// worked is the processor's time that this process has used.
func worked(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// A crowd is what so many chats say, each so many lines. Where they are
// polite, each says the next when the last is answered. The opening comes before
// the clock is started, each line of it when all have been answered.
type crowd struct {
	opening      []string
	chats, lines int
	polite       bool
	say          func(chat, line int) string // words, or a label in brackets
}

// A bot answers a crowd on the test channel. begin starts it; answered is to be
// called once for each line of a chat, when all is said to it.
type bot func(srv *apitest.Server, client *http.Client, answered func(chat int64)) (stop func())

// seen is what becomes of a crowd: when each line of a chat was answered, and
// in which chat each press was made.
type seen struct {
	srv     *apitest.Server
	opening int // calls of it
	ends    map[int64][]time.Time
	presses map[string]int64
}

// meet has the crowd meet a bot and returns what it took until all was answered.
func (c crowd) meet(b *testing.B, begin bot) (took cost, became seen) {
	b.Helper()
	srv := apitest.New(b)
	defer srv.Close()
	became = seen{srv: srv, ends: map[int64][]time.Time{}, presses: map[string]int64{}}
	// The channel's client as serve has it, and no more connections than it keeps open: those
	// that many calls at once would open and close cost both bots dear.
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.MaxIdleConnsPerHost, transport.MaxConnsPerHost = 64, 64
	defer transport.CloseIdleConnections()
	answered := make(chan int64, c.chats*c.lines)
	stop := begin(srv, &http.Client{Transport: transport}, func(chat int64) { answered <- chat })
	defer stop()
	seats, said := make([]*apitest.Seat, c.chats), make([]int, c.chats)
	for i := range seats {
		seats[i] = srv.User(firstInHell+int64(i), "Ada").Private()
	}
	next := func(i int) {
		line := c.say(i, said[i])
		said[i]++
		if label, ok := (script.Step{Input: line}).Press(); ok {
			last := srv.Last(seats[i].Chat())
			if _, shown := last.Button(label); shown {
				became.presses[seats[i].Press(last.ID, label).ID] = seats[i].Chat()
				return
			}
			line = label
		}
		seats[i].Say(line)
	}
	for _, line := range c.opening {
		for i := range seats {
			seats[i].Say(line)
		}
		for range seats {
			<-answered
		}
	}
	became.opening = len(srv.Calls(chatCalls...))
	srv.Lighten()
	srv.Date(time.Now().Add(time.Minute)) // what is said now is not of the opening's second
	runtime.GC()
	rounds := c.lines
	if c.polite {
		rounds = 1
	}
	began, before := time.Now(), worked(b)
	for range rounds {
		for i := range seats {
			next(i)
		}
	}
	for range c.chats * c.lines {
		chat := <-answered
		became.ends[chat] = append(became.ends[chat], time.Now())
		if i := int(chat - firstInHell); c.polite && said[i] < c.lines {
			next(i)
		}
	}
	return cost{time.Since(began), worked(b) - before}, became
}

// chatCalls are the calls that somebody sees.
var chatCalls = []string{"sendMessage", "editMessageText", "answerCallbackQuery"}

// tallied tells when all is said that a chat's line has led to: its turn is
// kept, and what was to be said in the chat is marked sent.
type tallied struct {
	share
	answered func(chat int64)

	mu    sync.Mutex
	of    map[uint64]string // parcels, by number
	open  map[string]int    // parcels to be sent, less those sent already
	turns map[string]int    // that are not told
}

func (t *tallied) Commit(turn flow.Turn) ([]uint64, error) {
	n, err := t.share.Commit(turn)
	if err != nil {
		return n, err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, p := range turn.Outbox {
		t.open[p.Chat]++
	}
	t.turns[turn.Chat]++
	t.tell(turn.Chat)
	return n, nil
}

func (t *tallied) Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error) {
	due, err := t.share.Due(now, limit, busy)
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, d := range due {
		t.of[d.ID] = d.Chat
	}
	return due, err
}

func (t *tallied) Sent(id uint64, slot string, receipt []byte) error {
	if err := t.share.Sent(id, slot, receipt); err != nil {
		return err
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	chat := t.of[id]
	delete(t.of, id)
	t.open[chat]--
	t.tell(chat)
	return nil
}

func (t *tallied) tell(chat string) {
	if t.open[chat] != 0 {
		return
	}
	id, err := strconv.ParseInt(strings.TrimPrefix(chat, chatScheme), 10, 64)
	if err != nil {
		panic("chat " + chat)
	}
	for ; t.turns[chat] > 0; t.turns[chat]-- {
		t.answered(id)
	}
}

// program is the whole program, polling, without limits on how often it speaks.
func program(b *testing.B, open func() Store, reckon func(job.Case) calc.Plan) bot {
	return func(srv *apitest.Server, client *http.Client, answered func(int64)) (stop func()) {
		st := open()
		own := &tallied{
			share: share{Store: st, scheme: chatScheme}, answered: answered,
			of: map[uint64]string{}, open: map[string]int{}, turns: map[string]int{},
		}
		ch, err := telegram.New(telegram.Config{
			Token: srv.Token(), Server: srv.URL(), HTTP: client, Inbox: own, Outbox: own, Behind: own.Behind, Limits: &telegram.Limits{},
		})
		if err != nil {
			b.Fatal(err)
		}
		engine := newEngine(true)
		engine.Reckon = reckon
		desk := &flow.Desk{Log: own, Inbox: own, Engine: engine, Decode: ch.Decode, Waiting: st.Waiting, Posted: ch.Sender().Posted}
		ctx, cancel := context.WithCancel(b.Context())
		if err := ch.Start(ctx); err != nil {
			b.Fatal(err)
		}
		ended := make(chan error, 3)
		go func() { ended <- ch.Poll(ctx, desk.Arrived) }()
		go func() { ended <- desk.Run(ctx) }()
		go func() { ended <- ch.Sender().Run(ctx) }()
		return func() {
			cancel()
			for range 3 {
				if err := <-ended; err != nil {
					b.Error(err)
				}
			}
			if n, err := st.Stats(); err != nil || n.Dead > 0 || n.Waiting > 0 || n.Unsent > 0 {
				b.Errorf("at the end: %+v, %v", n, err)
			}
			if err := st.Close(); err != nil {
				b.Error(err)
			}
		}
	}
}

// without is a store that keeps nothing: what is durable is not counted.
func without() Store { return memory.New(nil) }

// onShared is the store as it is, in a folder that no disk stands behind: all
// its transactions, and none of them waits for a disk.
func onShared(b *testing.B) func() Store {
	return func() Store {
		dir, err := os.MkdirTemp("/dev/shm", "linetender-bench-")
		if err != nil {
			b.Skipf("no folder in memory: %v", err)
		}
		b.Cleanup(func() { os.RemoveAll(dir) })
		st, err := store.Open(dir, store.Options{})
		if err != nil {
			b.Fatal(err)
		}
		return st
	}
}

// wholeTalks is what a chat says who plays one golden conversation after the
// other, each chat beginning with another.
func wholeTalks(b *testing.B) func(chat, line int) string {
	scripts, err := script.Folder("../../testdata/talk")
	if err != nil {
		b.Fatal(err)
	}
	var all []string
	var begins []int
	for _, s := range scripts {
		begins = append(begins, len(all))
		all = append(all, "new")
		for _, step := range s.Steps {
			all = append(all, step.Input)
		}
	}
	return func(chat, line int) string { return all[(begins[chat%len(begins)]+line)%len(all)] }
}

// A planner reckons each case once: with it, what was planned before costs
// nothing but to be looked up.
type planner struct {
	mu    sync.Mutex
	plans map[string]calc.Plan
}

func (p *planner) reckon(c job.Case) calc.Plan {
	key, err := json.Marshal(c)
	if err != nil {
		panic("case: " + err.Error()) // words and finite numbers
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	plan, ok := p.plans[string(key)]
	if !ok {
		plan = calc.Reckon(c)
		p.plans[string(key)] = plan
	}
	return plan
}

// BenchmarkTurns gives the turns a second of the whole program against those
// of two echoes on the bot library, on the same test channel, by turns: one that
// makes the same calls for each line as the program does, with the same words
// and buttons, and a bare one that says what it hears. Each by the clock and by
// the processor's time, which what else runs on the machine hardly changes;
// the test channel's own work is in all of them.
//
// "new" is the lightest turn that is one, a job begun, all said at once; "talk"
// are whole golden conversations with their buttons, each line said when the
// last is answered. "none" is a store that is not durable, "file" the store
// itself with no disk under it, "planned" is "none" with every plan known
// beforehand, which is what a conversation costs that has nothing to reckon.
func BenchmarkTurns(b *testing.B) {
	talk := wholeTalks(b)
	for _, k := range []struct {
		name  string
		crowd crowd
	}{
		{"new/1 chats", crowd{nil, 1, 300, false, func(int, int) string { return "new" }}},
		{"new/64 chats", crowd{nil, 64, 12, false, func(int, int) string { return "new" }}},
		{"new/1024 chats", crowd{nil, 1024, 2, false, func(int, int) string { return "new" }}},
		{"talk/1 chats", crowd{nil, 1, 300, true, talk}},
		{"talk/64 chats", crowd{nil, 64, 24, true, talk}},
		{"talk/1024 chats", crowd{nil, 1024, 4, true, talk}},
	} {
		known := &planner{plans: map[string]calc.Plan{}}
		calls := sync.OnceValue(func() recorded { return record(b, k.crowd, program(b, without, known.reckon)) })
		for _, on := range []struct {
			name   string
			open   func() Store
			reckon func(job.Case) calc.Plan
		}{{"none", without, calc.Reckon}, {"file", onShared(b), calc.Reckon}, {"planned", without, known.reckon}} {
			b.Run(k.name+"/"+on.name, func(b *testing.B) {
				calls := calls()
				var ours, same, bare cost
				meet := func(total *cost, bot bot) {
					took, _ := k.crowd.meet(b, bot)
					total.add(took)
				}
				for b.Loop() {
					meet(&bare, bareEcho(b))
					meet(&ours, program(b, on.open, on.reckon))
					meet(&same, calls.echo(b))
				}
				turns := float64(b.N * k.crowd.chats * k.crowd.lines)
				wall, work := same.over(ours)
				b.ReportMetric(wall, "x-same")
				b.ReportMetric(work, "x-same-cpu")
				wall, work = bare.over(ours)
				b.ReportMetric(wall, "x-bare")
				b.ReportMetric(work, "x-bare-cpu")
				b.ReportMetric(turns/ours.wall.Seconds(), "turns/s")
				b.ReportMetric(float64(ours.work.Microseconds())/turns, "cpu-us/turn")
				b.ReportMetric(float64(calls.made)/float64(k.crowd.chats*k.crowd.lines), "calls/turn")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

// BenchmarkTurnsOneCall gives the turns a second of the whole program, without a
// durable store, against a bare echo where the channel has equal work on both
// sides: the turn is one that makes exactly one call, and the echo says a text of
// the same length. It is an answer typed while a stop stands, which names no
// reason to end it: the job's log is read on, the words are heard, what was heard
// and said is kept, and one message without a keyboard says what would end it.
//
// Who writes waits for the answer, as people do; "at once" they send all their
// lines before the first is answered, and the echo, which keeps no order, says
// several things to one chat at a time.
func BenchmarkTurnsOneCall(b *testing.B) {
	opening := []string{"new", "stop"}
	say := func(int, int) string { return "1 in 5" }
	for _, k := range []struct {
		name  string
		crowd crowd
	}{
		{"1 chats", crowd{opening, 1, 2000, true, say}},
		{"64 chats", crowd{opening, 64, 40, true, say}},
		{"1024 chats", crowd{opening, 1024, 4, true, say}},
		{"at once/1 chats", crowd{opening, 1, 2000, false, say}},
		{"at once/64 chats", crowd{opening, 64, 40, false, say}},
		{"at once/1024 chats", crowd{opening, 1024, 4, false, say}},
	} {
		b.Run(k.name, func(b *testing.B) {
			_, became := k.crowd.meet(b, program(b, without, calc.Reckon))
			calls := became.srv.Calls(chatCalls...)[became.opening:]
			turns := k.crowd.chats * k.crowd.lines
			if len(calls) != turns {
				b.Fatalf("%d turns made %d calls, and were to make one each", turns, len(calls))
			}
			text, _ := calls[0].Params["text"].(string)
			for _, c := range calls {
				if c.Method != "sendMessage" || c.Params["text"] != text || c.Params["reply_markup"] != nil {
					b.Fatalf("a turn made another call than the first: %s %v", c.Method, c.Params)
				}
			}
			var ours, bare cost
			for b.Loop() {
				took, _ := k.crowd.meet(b, saysEcho(b, strings.Repeat("e", utf8.RuneCountInString(text))))
				bare.add(took)
				took, _ = k.crowd.meet(b, program(b, without, calc.Reckon))
				ours.add(took)
			}
			wall, work := bare.over(ours)
			b.ReportMetric(wall, "x-bare")
			b.ReportMetric(work, "x-bare-cpu")
			b.ReportMetric(float64(b.N*turns)/ours.wall.Seconds(), "turns/s")
			b.ReportMetric(float64(ours.work.Microseconds())/float64(b.N*turns), "cpu-us/turn")
			b.ReportMetric(0, "ns/op")
		})
	}
}
