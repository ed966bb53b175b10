package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/user"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/terminal"
	"linetender/store"
)

// newTalk makes the program itself: without a command it is the conversation.
func newTalk(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "linetender",
		Short: "Plan a vehicle recovery by rope, blocks and anchors, in conversation",
		Long: `Linetender is the chat partner for a crew that has to bring a heavy vehicle out of a ditch or off a slope by
rope, blocks, anchors and whatever puller is there. It asks one question at a time and says go, no-go, open or
refer, with the reasons.

Without a command the conversation starts at once in this terminal. Ctrl-D or Ctrl-C leaves it; started again, it
goes on where it stopped. When standard input is no terminal, each line of it is one answer and the plain
transcript is printed.

It is arithmetic, not permission: local codes and licensed recovery and rigging practice come first.`,
		Example: `  linetender
  linetender --data ./jobs
  linetender < answers.txt
  linetender plan --text case.json
  linetender sum side-pull force='838 N' angle='7 deg'
  linetender serve --token-file token`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return talk(c, data, s) },
	}
	dataFlag(c, &data)
	return c
}

func talk(c *cobra.Command, data string, s streams) (err error) {
	dir, err := dataFolder(c, data)
	if err != nil {
		return err
	}
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()
	h, err := openHatch(dir, hatchRoutes(st, nil))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, h.close()) }()
	if _, err := fmt.Fprintf(s.err, "Jobs are kept in %s\n", dir); err != nil {
		return err
	}

	desk := &flow.Desk{
		Log: st, Inbox: st, Engine: newEngine(true), Decode: terminal.Decode, Eraser: eraser{st},
		Report: slog.New(slog.NewTextHandler(s.err, nil)),
	}
	t := &terminal.Terminal{Desk: desk, Inbox: st, Outbox: st, Person: whoami(), Now: time.Now}
	in, inFile := s.in.(*os.File)
	out, outFile := s.out.(*os.File)
	if inFile && outFile && isTerminal(in) && isTerminal(out) {
		return t.Interactive(c.Context(), in, out, terminal.StyleOf(out, os.Getenv))
	}
	return t.Plain(c.Context(), until(c.Context(), s.in), s.out)
}

// whoami is how the log calls the person at the machine.
func whoami() flow.Person {
	p := flow.Person{ID: "terminal/local"}
	if u, err := user.Current(); err == nil {
		p.Name = u.Name
		if p.Name == "" {
			p.Name = u.Username
		}
	}
	return p
}

// until reads in until ctx ends, and then as if in had ended: a pipe that
// stays open and silent must not keep the program from being stopped.
func until(ctx context.Context, in io.Reader) io.Reader {
	r, w := io.Pipe()
	go func() {
		_, err := io.Copy(w, in)
		w.CloseWithError(err) // nil reads as the end
	}()
	context.AfterFunc(ctx, func() { w.CloseWithError(io.EOF) })
	return r
}
