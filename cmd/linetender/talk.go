package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"os/user"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/terminal"
	"linetender/store"
)

type talkOptions struct {
	data, name string
	photos     bool // kept
}

// newTalk makes the program itself: without a command it is the conversation.
func newTalk(s streams) *cobra.Command {
	var o talkOptions
	c := &cobra.Command{
		Use:   "linetender",
		Short: "Plan a vehicle recovery by rope, blocks and anchors, in conversation",
		Long: `Linetender is the chat partner for a crew that has to bring a heavy vehicle out of a ditch or off a slope by
rope, blocks, anchors and whatever puller is there. It asks one question at a time and says go, no-go, open or
refer, with the reasons.

Without a command the conversation starts at once in this terminal. Ctrl-D or Ctrl-C leaves it; started again, it
goes on where it stopped. Others come into the job from terminals of their own with linetender join while it runs.
"photo PATH" sends a picture, "place LAT, LON" says where it is. When standard input is no terminal, each line of it is one answer and the plain
transcript is printed.

It is arithmetic, not permission: local codes and licensed recovery and rigging practice come first.`,
		Example: `  linetender
  linetender --data ./jobs
  linetender < answers.txt
  linetender plan --text case.json
  linetender sum side-pull force='838 N' angle='7 deg'
  linetender serve --token-file token`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return talk(c, o, s) },
	}
	dataFlag(c, &o.data)
	nameFlag(c, &o.name)
	c.Flags().BoolVar(&o.photos, "keep-photos", false, "keep a copy of every picture that is sent, in the data folder")
	return c
}

func talk(c *cobra.Command, o talkOptions, s streams) (err error) {
	dir, err := dataFolder(c, o.data)
	if err != nil {
		return err
	}
	st, err := store.Open(dir, store.Options{})
	if errors.Is(err, store.ErrLocked) {
		return fmt.Errorf("%w; to come into a job of it from here, use linetender join and the code that its lead hands out", err)
	}
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()

	log := slog.New(slog.NewTextHandler(s.err, nil))
	desk := &flow.Desk{
		Log: st, Inbox: st, Engine: newEngine(true), Decode: terminal.Decode, Eraser: eraser{Store: st},
		Report: log,
	}
	joined := &seats{render: newDraftsman(st, dir).render}
	joined.exchange = &terminal.Exchange{Desk: desk, Inbox: st, Outbox: st, Now: time.Now, Alarm: alarm(desk.Engine, terminal.Decode, log)}
	if o.photos {
		joined.photos = photosIn(dir)
	}
	desk.Engine.Command = joinCommand(dir)
	joined.render, desk.Engine.Pictures = drawing(newDraftsman(st, dir).render, log), true
	desk.Posted = joined.exchange.Posted
	desk.Unkept = func(_ context.Context, a flow.Arrival) { joined.exchange.Cry(a) }
	if err := joined.exchange.CatchUp(c.Context()); err != nil {
		return err
	}
	if err := watchJobs(st, desk, terminal.Scheme, time.Now()); err != nil {
		return err
	}
	seat, err := joined.exchange.Sit(terminal.Chat)
	if err != nil {
		return err
	}
	defer seat.Leave()
	h, err := openHatch(dir, hatchRoutes(st, desk.Engine.Forget, dir, nil, joined))
	if err != nil {
		return err
	}
	defer func() { joined.close(); err = errors.Join(err, h.close()) }()
	if _, err := fmt.Fprintf(s.err, "Jobs are kept in %s\n", dir); err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(c.Context())
	ticked := make(chan struct{})
	go func() { joined.exchange.Tick(ctx); close(ticked) }()
	defer func() { cancel(); <-ticked }()
	return speak(c.Context(), &terminal.Terminal{
		Line: seat, Person: whoami(terminal.Chat, o.name), Now: time.Now,
		Render: joined.render, Pictures: picturesIn(dir), Photos: joined.photos,
	}, s)
}

// speak holds the conversation on a terminal, or as a transcript where
// input or output is none.
func speak(ctx context.Context, t *terminal.Terminal, s streams) error {
	in, inFile := s.in.(*os.File)
	out, outFile := s.out.(*os.File)
	if inFile && outFile && isTerminal(in) && isTerminal(out) {
		return t.Interactive(ctx, in, out, terminal.StyleOf(out, os.Getenv))
	}
	return t.Plain(ctx, s.in, s.out)
}

// picturesIn and photosIn are the folders in a data folder that hold what the
// program draws and what people send.
func picturesIn(dir string) string { return filepath.Join(dir, "pictures") }
func photosIn(dir string) string   { return filepath.Join(dir, "photos") }

// nameFlag adds --name to a command that speaks for somebody.
func nameFlag(c *cobra.Command, name *string) {
	c.Flags().StringVar(name, "name", "", "be called `NAME` by the others (default: the user's name)")
}

// whoami is how the others and the log call the person at a terminal: as they
// want, or as the system calls its user.
func whoami(chat, name string) flow.Person {
	p := flow.Person{ID: chat, Name: name}
	if u, err := user.Current(); err == nil && name == "" {
		p.Name = u.Name
		if p.Name == "" {
			p.Name = u.Username
		}
	}
	return p
}
