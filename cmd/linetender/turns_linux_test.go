package main

import (
	"context"
	"fmt"
	"os"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	tg "github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"linetender/flow"
	"linetender/flow/telegram"
	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// inMemory is a folder that no disk stands behind, so that durability costs
// nothing there.
func inMemory(tb testing.TB) string {
	tb.Helper()
	const shared = "/dev/shm"
	dir, err := os.MkdirTemp(shared, "linetender-bench-")
	if err != nil {
		tb.Skipf("no folder in memory: %v", err)
	}
	tb.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// cost is what a run took, by the clock and by the processor.
type cost struct{ wall, work time.Duration }

func (c *cost) add(d cost) { c.wall, c.work = c.wall+d.wall, c.work+d.work }

// worked is the processor's time that this process has used.
func worked(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// crowd has every chat of so many say so many lines, all at once, to whom runs
// on the test channel, and returns how long it takes until all is answered.
func crowd(b *testing.B, chats, lines int, say func(chat, line int) string, run func(*apitest.Server) (done func(messages int) bool, stop func())) cost {
	b.Helper()
	srv := apitest.New(b)
	done, stop := run(srv)
	defer stop()
	var seats []*apitest.Seat
	for i := range chats {
		seats = append(seats, srv.User(firstInHell+int64(i), "Ada").Private())
	}
	began, before := time.Now(), worked(b)
	for l := range lines {
		for i, s := range seats {
			s.Say(say(i, l))
		}
	}
	for !done(chats * lines) {
		<-time.After(5 * time.Millisecond) // looks again; a run takes some hundred of these
	}
	return cost{time.Since(began), worked(b) - before}
}

// bare is the least that answers on the bot library: it says what it hears.
func bare(b *testing.B) func(*apitest.Server) (func(int) bool, func()) {
	return func(srv *apitest.Server) (func(int) bool, func()) {
		var said atomic.Int64
		echo, err := tg.New(srv.Token(), tg.WithServerURL(srv.URL()), tg.WithHTTPClient(time.Minute, srv.Client()),
			tg.WithDefaultHandler(func(ctx context.Context, bot *tg.Bot, u *models.Update) {
				if _, err := bot.SendMessage(ctx, &tg.SendMessageParams{ChatID: u.Message.Chat.ID, Text: u.Message.Text}); err != nil {
					b.Error(err)
				}
				said.Add(1)
			}))
		if err != nil {
			b.Fatal(err)
		}
		ctx, cancel := context.WithCancel(b.Context())
		ended := make(chan struct{})
		go func() { defer close(ended); echo.Start(ctx) }()
		return func(n int) bool { return said.Load() >= int64(n) }, func() { cancel(); <-ended }
	}
}

// whole is the program, polling, without limits on how often it speaks and on
// a disk that is none.
func whole(b *testing.B) func(*apitest.Server) (func(int) bool, func()) {
	return func(srv *apitest.Server) (func(int) bool, func()) {
		st, err := store.Open(inMemory(b), store.Options{})
		if err != nil {
			b.Fatal(err)
		}
		own := share{Store: st, scheme: chatScheme}
		ch, err := telegram.New(telegram.Config{
			Token: srv.Token(), Server: srv.URL(), HTTP: srv.Client(), Inbox: own, Outbox: own, Limits: &telegram.Limits{},
		})
		if err != nil {
			b.Fatal(err)
		}
		desk := &flow.Desk{Log: st, Inbox: own, Engine: newEngine(true), Decode: ch.Decode, Posted: ch.Sender().Posted}
		ctx, cancel := context.WithCancel(b.Context())
		if err := ch.Start(ctx); err != nil {
			b.Fatal(err)
		}
		ended := make(chan error, 3)
		go func() { ended <- ch.Poll(ctx, desk.Arrived) }()
		go func() { ended <- desk.Run(ctx) }()
		go func() { ended <- ch.Sender().Run(ctx) }()
		done := func(n int) bool {
			if srv.Pending() > 0 { // what is confirmed to the channel is in the inbox
				return false
			}
			s, err := st.Stats()
			if err != nil {
				b.Fatal(err)
			}
			return s.Waiting == 0 && s.Unsent == 0 && s.Marks >= n
		}
		return done, func() {
			cancel()
			for range 3 {
				if err := <-ended; err != nil && ctx.Err() == nil {
					b.Error(err)
				}
			}
			if err := st.Close(); err != nil {
				b.Error(err)
			}
		}
	}
}

// BenchmarkTurns gives the turns a second of the whole program against those
// of a bare echo on the bot library, on the same test channel, by turns, no
// disk under either: by the clock, and by the processor's time, which what
// else runs on the machine hardly changes; the test channel's own work is in
// both. "new" is the lightest turn that is one, a job begun;
// "talk" are the lines of the golden conversations, most of which are
// reckoned with.
func BenchmarkTurns(b *testing.B) {
	talk := hellLines(b)
	kinds := []struct {
		name string
		say  func(chat, line int) string
	}{
		{"new", func(int, int) string { return "new" }},
		{"talk", func(chat, line int) string { return talk[(chat*131+line)%len(talk)] }},
	}
	for _, k := range kinds {
		for _, n := range []struct{ chats, lines int }{{1, 200}, {64, 8}, {1024, 2}} {
			b.Run(fmt.Sprintf("%s/%d chats", k.name, n.chats), func(b *testing.B) {
				var ours, theirs cost
				for b.Loop() {
					theirs.add(crowd(b, n.chats, n.lines, k.say, bare(b)))
					ours.add(crowd(b, n.chats, n.lines, k.say, whole(b)))
				}
				turns := float64(b.N * n.chats * n.lines)
				b.ReportMetric(float64(theirs.wall)/float64(ours.wall), "x-echo")
				b.ReportMetric(float64(theirs.work)/float64(ours.work), "x-echo-cpu")
				b.ReportMetric(turns/ours.wall.Seconds(), "turns/s")
				b.ReportMetric(turns/theirs.wall.Seconds(), "echoes/s")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}
