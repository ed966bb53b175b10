package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/hear"
	"linetender/flow/telegram"
	"linetender/flow/terminal"
)

// A service is one run of serve.
type service struct {
	serveOptions
	dir   string
	store *keeper
	log   *slog.Logger
	out   io.Writer
	ears  *ear
	hook  atomic.Pointer[string] // where what the channel posts is taken, once it is
	ch    *telegram.Channel
	desk  *flow.Desk
}

func serve(c *cobra.Command, o serveOptions, s streams) (err error) {
	if err := o.check(c); err != nil {
		return err
	}
	token, err := o.token(c)
	if err != nil {
		return err
	}
	dir, err := dataFolder(c, o.data)
	if err != nil {
		return err
	}
	st, err := openKeeper(c, o.store, dir, processName())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()

	v := &service{serveOptions: o, dir: dir, store: st, out: s.out, log: o.logger(s.err)}
	v.ears = newEar(transport(), time.Now)
	meters := newMeters(st, st.figures)
	drafts := newDraftsman(st, dir)
	joined := &seats{render: drafts.render}
	own := metered{share{Store: st.own, scheme: chatScheme, other: joined.turn}, meters}
	engine := newEngine(o.anyone)
	hear.Ready() // nobody who calls a stop waits for it
	commands, err := menu(engine)
	if err != nil {
		return err
	}
	channel := telegram.Config{
		Token: token, Server: o.apiURL, HTTP: &http.Client{Transport: v.ears},
		Commands: commands, Inbox: own, Outbox: own, Behind: st.Behind, Render: drafts.render, Log: v.log, Alarm: v.alarm(engine), Reach: v.reach(engine, st),
	}
	joined.render, engine.Pictures = drawing(newDraftsman(st, dir).render, v.log), true
	channel.Render = joined.render
	if o.photos {
		channel.Photos = photosIn(dir)
		joined.photos = channel.Photos
	}
	if v.ch, err = telegram.New(channel); err != nil {
		return wrongCall("%s: %v", c.CommandPath(), err)
	}
	engine.Link, engine.Command = v.ch.Link, joinCommand(dir)
	v.desk = &flow.Desk{
		Log: own, Inbox: own, Engine: engine,
		Decode: v.decode, Complete: v.complete, Waiting: st.own.Waiting, Posted: v.posted(joined), Pace: flow.DefaultPace(),
		Eraser: eraser{st, engine.Forget}, Unkept: v.unkept(joined), Report: v.log,
	}
	joined.exchange = &terminal.Exchange{Desk: v.desk, Inbox: st, Outbox: st, Now: time.Now, Alarm: v.alarm(engine)}
	if err := joined.exchange.CatchUp(c.Context()); err != nil {
		return err
	}
	if err := watchJobs(st, v.desk, "", time.Now()); err != nil {
		return err
	}
	if st.events != nil {
		st.events(v.desk.Wake, func() { v.ch.Sender().Posted("") }, v.watchAgain)
	}
	h, err := openHatch(dir, hatchRoutes(st.Store, engine.Forget, dir, v.heard, joined))
	if err != nil {
		return err
	}
	defer func() { joined.close(); err = errors.Join(err, h.close()) }()
	if o.keep > 0 {
		ctx, cancel := context.WithCancel(c.Context())
		pruned := make(chan struct{})
		go func() {
			defer close(pruned)
			_ = st.leading(ctx, "keep", func(ctx context.Context) error {
				keepFor(ctx, eraser{st, engine.Forget}, o.keep, v.log)
				return nil
			})
		}()
		defer func() { cancel(); <-pruned }()
	}
	if o.metrics != "" {
		end, err := openMetrics(o.metrics, meters, http.HandlerFunc(newCheckup(st, v.heard).answer), v.log)
		if err != nil {
			return err
		}
		defer func() {
			if err := end(); err != nil {
				v.log.Error("end of the metrics", "err", err)
			}
		}()
	}
	return v.run(c.Context())
}

// watchAgain has the desk told of the jobs that came to this process: who worked on them before may be
// gone, and what they wait for must not go with it.
func (v *service) watchAgain() {
	go func() {
		if err := watchJobs(v.store, v.desk, "", time.Now()); err != nil {
			v.log.Error("jobs that came from another replica", "err", err)
		}
	}()
}

// processName is what this process is called among others on the same store.
func processName() string {
	host, err := os.Hostname()
	if err != nil {
		host = "unknown"
	}
	return fmt.Sprintf("%s/%d", host, os.Getpid())
}

// decode reads an arrival of the channel, or of a terminal that has joined.
func (v *service) decode(a flow.Arrival) (flow.Input, bool, error) {
	if strings.HasPrefix(a.Chat, terminal.Scheme) {
		return terminal.Decode(a)
	}
	return v.ch.Decode(a)
}

// complete finds out what a picture is that came over the channel; a terminal
// says so itself.
func (v *service) complete(ctx context.Context, in flow.Input) flow.Input {
	if strings.HasPrefix(in.Chat, terminal.Scheme) {
		return in
	}
	return v.ch.Complete(ctx, in)
}

// unkept passes a stop on that can't be kept, to whom it can be told.
func (v *service) unkept(joined *seats) func(context.Context, flow.Arrival) {
	return func(ctx context.Context, a flow.Arrival) {
		v.ch.Cry(ctx, a)
		joined.exchange.Cry(a)
	}
}

// posted tells the one who shows a chat's messages that there is one.
func (v *service) posted(joined *seats) func(string) {
	return func(chat string) {
		if strings.HasPrefix(chat, terminal.Scheme) {
			joined.exchange.Posted(chat)
			return
		}
		v.ch.Sender().Posted(chat)
	}
}

// alarm words what must be said of an arrival though the store fails it.
func (v *service) alarm(e *flow.Engine) func(flow.Arrival) string { return alarm(e, v.decode, v.log) }

// reach finds the chats that an arrival concerns which can't be kept.
func (v *service) reach(e *flow.Engine, log flow.Log) func(flow.Arrival) []string {
	return func(a flow.Arrival) []string {
		in, ok, err := v.decode(a)
		if err != nil || !ok {
			return []string{a.Chat}
		}
		in.Chat = a.Chat
		return e.AlarmChats(log, in)
	}
}

// menu is what the channel lists as commands.
func menu(e *flow.Engine) ([]telegram.Command, error) {
	items, err := e.Menu()
	var commands []telegram.Command
	for _, m := range items {
		commands = append(commands, telegram.Command{Name: m.Word, Does: m.Does})
	}
	return commands, err
}

// place is where the jobs are kept.
func (v *service) place() string {
	if v.serveOptions.store == "" {
		return v.dir
	}
	return v.store.Path()
}

// greet says where the jobs are kept and, while there is no owner, by which
// code one is made. The code goes to standard output and into no log.
func (v *service) greet() error {
	code, err := v.desk.Engine.OwnerCode(v.store, time.Now())
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(v.out, "Serving as @%s; jobs are kept in %s\n", v.ch.Name(), v.place()); err != nil {
		return err
	}
	if code == "" {
		return nil
	}
	_, err = fmt.Fprintf(v.out, "To become the owner, send this code to @%s from your own chat: %s\n", v.ch.Name(), code)
	return err
}

// transport keeps a connection open for each call that may be under way.
func transport() http.RoundTripper {
	t, ok := http.DefaultTransport.(*http.Transport)
	if !ok {
		return http.DefaultTransport
	}
	t = t.Clone()
	t.MaxIdleConnsPerHost = 64
	return t
}
