package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"strings"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/telegram"
	"linetender/flow/terminal"
)

const (
	tokenEnv   = "LINETENDER_TOKEN"
	chatScheme = "telegram/"
	hookSecret = "telegram/webhook" // its name in the store
	drainTime  = 10 * time.Second   // for answers still to be sent at a stop
	hookTime   = 30 * time.Second   // for one posted update, in and out
)

type serveOptions struct {
	data, store, tokenFile, apiURL, webhook, listen, metrics, logAs string
	anyone, photos                                                  bool
	keep                                                            int // days; 0 is for ever
}

func newServe(s streams) *cobra.Command {
	var o serveOptions
	c := &cobra.Command{
		Use:   "serve",
		Short: "Hold the conversation on Telegram",
		Long: `Hold the conversation on Telegram until SIGTERM or Ctrl-C; what is being answered then is answered first.

The bot's token comes from ` + tokenEnv + ` or from the file that --token-file names. Only invited chats are let in:
the owner sends the code that is printed at the start, others a code that the owner hands out.

The program asks the channel for messages. With --webhook the channel posts them to that address instead, and
--listen says where the program takes them from whatever speaks TLS in front of it.`,
		Example: `  linetender serve --token-file token
  linetender serve --token-file token --anyone
  linetender serve --token-file token --webhook https://bot.example.org/hook --listen 127.0.0.1:8443
  linetender serve --token-file token --api-url http://127.0.0.1:8081`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := fromEnvironment(c); err != nil {
				return err
			}
			return serve(c, o, s)
		},
	}
	dataFlag(c, &o.data)
	f := c.Flags()
	f.StringVar(&o.store, "store", "", "keep the jobs at `ADDRESS`, such as etcd://10.0.0.1,10.0.0.2, with other replicas (default: in the data folder)")
	f.StringVar(&o.tokenFile, "token-file", "", "read the bot's token from `FILE` (default: "+tokenEnv+")")
	f.StringVar(&o.webhook, "webhook", "", "have the channel post to this https `URL`, with --listen")
	f.StringVar(&o.listen, "listen", "", "take what is posted at `ADDR`, such as 127.0.0.1:8443, with --webhook")
	f.StringVar(&o.apiURL, "api-url", "", "use the Bot API server at this `URL` instead of the channel's own")
	f.BoolVar(&o.anyone, "anyone", false, "let any chat start a job")
	f.StringVar(&o.metrics, "metrics", "", "answer /metrics and /health at `ADDR`, such as 127.0.0.1:9177 (default: nowhere)")
	f.StringVar(&o.logAs, "log", "text", "write the log as `FORM`: text or json")
	f.BoolVar(&o.photos, "keep-photos", false, "keep a copy of every picture that is sent, in the data folder")
	f.IntVar(&o.keep, "keep", 0, "remove what nobody has touched for so many `DAYS`: jobs, a chat's words, what was given up on (0: never)")
	return c
}

// check refuses options that cannot be meant.
func (o serveOptions) check(c *cobra.Command) error {
	if (o.webhook == "") != (o.listen == "") {
		return wrongCall("%s: --webhook and --listen belong together; give both, such as --webhook https://bot.example.org/hook --listen 127.0.0.1:8443", c.CommandPath())
	}
	if o.webhook != "" {
		if u, err := url.Parse(o.webhook); err != nil || u.Scheme != "https" || u.Host == "" {
			return wrongCall("%s: --webhook %q is no https address; write one such as https://bot.example.org/hook", c.CommandPath(), o.webhook)
		}
		if _, _, err := net.SplitHostPort(o.listen); err != nil {
			return wrongCall("%s: --listen %q is no address with a port; write one such as 127.0.0.1:8443", c.CommandPath(), o.listen)
		}
	}
	if o.keep < 0 {
		return wrongCall("%s: --keep %d is no number of days; write one such as 90, or 0 for ever", c.CommandPath(), o.keep)
	}
	if _, _, err := net.SplitHostPort(o.metrics); o.metrics != "" && err != nil {
		return wrongCall("%s: --metrics %q is no address with a port; write one such as 127.0.0.1:9177", c.CommandPath(), o.metrics)
	}
	if o.logAs != "" && o.logAs != "text" && o.logAs != "json" {
		return wrongCall("%s: --log %q is no form of a log; write text or json", c.CommandPath(), o.logAs)
	}
	if u, err := url.Parse(o.apiURL); o.apiURL != "" && (err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Host == "") {
		return wrongCall("%s: --api-url %q is no http address; write one such as http://127.0.0.1:8081", c.CommandPath(), o.apiURL)
	}
	return nil
}

// token reads the bot's token. No message of it shows any part of one.
func (o serveOptions) token(c *cobra.Command) (string, error) {
	if o.tokenFile == "" {
		token := strings.TrimSpace(os.Getenv(tokenEnv))
		if token == "" {
			return "", wrongCall("%s: there is no token; put the one from @BotFather into a file and name it with --token-file, or into %s", c.CommandPath(), tokenEnv)
		}
		return token, nil
	}
	text, err := os.ReadFile(o.tokenFile)
	if err != nil {
		cause := err
		var path *fs.PathError
		if errors.As(err, &path) {
			cause = path.Err
		}
		return "", wrongCall("%s: the token file %s cannot be read (%v); name the file that holds the token from @BotFather", c.CommandPath(), o.tokenFile, cause)
	}
	token := strings.TrimSpace(string(text))
	if token == "" {
		return "", wrongCall("%s: the token file %s is empty; put the token from @BotFather into it", c.CommandPath(), o.tokenFile)
	}
	return token, nil
}

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

func (o serveOptions) logger(w io.Writer) *slog.Logger {
	if o.logAs == "json" {
		return slog.New(slog.NewJSONHandler(w, nil))
	}
	return slog.New(slog.NewTextHandler(w, nil))
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

// run starts intake, desk and sender, and stops them in that order.
func (v *service) run(ctx context.Context) error {
	ctx, fail := context.WithCancel(ctx)
	defer fail()
	if err := v.ch.Start(ctx); err != nil {
		return orderly(ctx, err)
	}
	if err := v.greet(); err != nil {
		return err
	}
	sent, taken := make(chan error, 1), make(chan error, 1)
	go func() {
		err := v.ch.Sender().Run(ctx)
		fail() // at an orderly end it has been called already
		sent <- err
	}()
	go func() {
		err := v.take(ctx)
		fail()
		taken <- err
	}()
	err := v.desk.Run(ctx)
	if err = errors.Join(<-taken, err, <-sent); err != nil {
		return err
	}
	drain, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
	defer cancel()
	return v.ch.Sender().Drain(drain)
}

// orderly makes a stop that was asked for no error.
func orderly(ctx context.Context, err error) error {
	if ctx.Err() != nil && errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

// take brings in what people send until ctx ends.
func (v *service) take(ctx context.Context) error {
	if v.webhook == "" {
		return v.store.leading(ctx, "poll", func(ctx context.Context) error { return v.ch.Poll(ctx, v.desk.Arrived) })
	}
	secret, err := v.store.Secret(hookSecret, func() ([]byte, error) { return []byte(rand.Text()), nil })
	if err != nil {
		return err
	}
	hook, err := v.ch.Webhook(string(secret), v.desk.Arrived)
	if err != nil {
		return err
	}
	l, err := net.Listen("tcp", v.listen)
	if err != nil {
		return fmt.Errorf("listen for what the channel posts: %w", err)
	}
	server := &http.Server{
		Handler: hook, ReadTimeout: hookTime, WriteTimeout: hookTime,
		ErrorLog: slog.NewLogLogger(v.log.Handler(), slog.LevelWarn),
	}
	served := make(chan error, 1)
	go func() { served <- server.Serve(l) }()
	at := l.Addr().String()
	v.hook.Store(&at)
	v.log.Info("taking what the channel posts", "at", at)

	// The server goes first, so that nothing is posted to a closed door.
	err = orderly(ctx, v.ch.SetWebhook(ctx, v.webhook, string(secret)))
	if err == nil {
		select {
		case <-ctx.Done():
		case err := <-served:
			return fmt.Errorf("take what the channel posts: %w", err)
		}
	}
	end, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTime)
	defer cancel()
	err = errors.Join(err, server.Shutdown(end))
	if stop := <-served; !errors.Is(stop, http.ErrServerClosed) {
		err = errors.Join(err, stop)
	}
	return err
}

// heard returns when the channel was last heard. A channel that posts may
// have nothing to post; what can be asked then is whether our own door
// answers, and a stranger's knock is answered with a refusal.
func (v *service) heard() (time.Time, error) {
	if v.webhook == "" {
		return v.ears.last(), nil
	}
	at := v.hook.Load()
	if at == nil {
		return v.ears.last(), nil // not begun yet; silence grows meanwhile
	}
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}, Timeout: 5 * time.Second}
	answer, err := client.Get("http://" + *at)
	if err != nil {
		return time.Time{}, fmt.Errorf("nothing answers at %s, where the channel posts", *at)
	}
	answer.Body.Close()
	if answer.StatusCode != http.StatusMethodNotAllowed {
		return time.Time{}, fmt.Errorf("something else answers at %s, where the channel posts", *at)
	}
	return time.Now(), nil
}
