package main

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/muesli/reflow/indent"
	"github.com/muesli/reflow/wordwrap"
	"github.com/spf13/cobra"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/script"
	"linetender/flow/wording"
	"linetender/store"
)

// demoTalk is the scenario that the demo plays: invented, and one of the golden
// conversations, so that it is what the program says.
//
//go:embed demo.txtar
var demoTalk []byte

// demoWidth is how wide the demo writes, in columns.
const demoWidth = 100

// demoBegins is when the scenario plays.
var demoBegins = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)

func newDemo(s streams) *cobra.Command {
	var fast bool
	var dir string
	c := &cobra.Command{
		Use:   "demo",
		Short: "Play an invented job from the first text to the report",
		Long: `Play an invented job in this terminal: a crew of four with a tractor, a delivery truck in a ditch and a coordinator
far away, from the first text through the plan, the checks, the pull and a stop to the report.

What is played is the program itself on a throw-away folder, which is left to look at: the job is in its log, and the
card, the report and the pictures lie beside it. Nothing of it touches the jobs that are kept.`,
		Example: `  linetender demo
  linetender demo --fast
  linetender demo --fast --into ./demo`,
		Args: noArgs,
		RunE: func(c *cobra.Command, _ []string) error { return demo(c, dir, fast, s) },
	}
	c.Flags().BoolVar(&fast, "fast", false, "do not wait for anybody to read along; so too where the output is no terminal")
	c.Flags().StringVar(&dir, "into", "", "leave the job in the new folder `DIR` (default: a new one for things that pass)")
	return c
}

func demo(c *cobra.Command, dir string, fast bool, s streams) (err error) {
	talk, err := script.ParseParty(demoTalk)
	if err != nil {
		return fmt.Errorf("read the scenario: %w", err)
	}
	if dir == "" {
		dir, err = os.MkdirTemp("", "linetender-demo-")
	} else if _, found := os.Stat(filepath.Join(dir, store.FileName)); found == nil {
		return wrongCall("%s: there are jobs in %s already; name a new folder with --into", c.CommandPath(), dir)
	}
	if err != nil {
		return err
	}
	st, err := store.Open(dir, store.Options{})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, st.Close()) }()
	engine := &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: script.Dice(), Anyone: true, Pictures: true}
	stage := &script.Stage{Engine: engine, Log: st, At: demoBegins, Offset: "+02:00", Scheme: "demo/", Pace: script.DemoPace}
	w := &reader{ctx: c.Context(), out: s.out, fast: fast || !isTerminal(s.out)} // a file or another program reads at any pace
	if err := w.write(strings.ReplaceAll(talk.About, "\n", " "), 0); err != nil {
		return err
	}
	people := talk.People()
	job := ""
	for _, l := range talk.Lines {
		if err := c.Context().Err(); err != nil {
			return nil // somebody has seen enough
		}
		out, err := stage.Line(l)
		if err != nil {
			return fmt.Errorf("play the scenario: %w", err)
		}
		if err := w.line(l, stage.Tell(out, people)); err != nil {
			return err
		}
		for _, messages := range out {
			for _, m := range messages {
				if m.Session != "" {
					job = m.Session
				}
			}
		}
	}
	return demoLeaves(c.Context(), w, st, dir, job)
}

// demoLeaves writes what can be looked at afterwards and says where it is.
func demoLeaves(ctx context.Context, w *reader, st *store.Store, dir, job string) error {
	_, last, err := st.Head(flow.JobStream(job))
	if err != nil {
		return err
	}
	lines := []string{"This was an invented job. It is left to look at:"}
	for _, what := range []string{flow.ShowRig, flow.ShowForce, flow.ShowCard, flow.ShowReport} {
		shown, err := newDraftsman(st, dir).render(ctx, flow.Show{What: what, Job: job, Entry: last})
		if err != nil {
			return fmt.Errorf("make the %s of the demo: %w", what, err)
		}
		file := filepath.Join(dir, what+filepath.Ext(shown.Name))
		if err := os.WriteFile(file, shown.Bytes, 0o600); err != nil {
			return err
		}
		lines = append(lines, "  "+file)
	}
	lines = append(lines, fmt.Sprintf("  linetender log show %s --data %s", job, dir), fmt.Sprintf("  linetender log verify --data %s", dir))
	_, err = fmt.Fprintln(w.out, strings.Join(lines, "\n"))
	return err
}

// A reader writes for somebody who reads along.
type reader struct {
	ctx  context.Context
	out  io.Writer
	fast bool
}

func (r *reader) line(l script.Line, told []script.Told) error {
	switch {
	case l.Wait > 0:
		if err := r.write("("+l.Wait.String()+" later)", 0); err != nil {
			return err
		}
	default:
		if err := r.write(l.Who+" > "+l.Input, 0); err != nil {
			return err
		}
	}
	for _, t := range told {
		for i, s := range t.Said {
			text := s.Text
			if i == 0 {
				text = "to " + t.Who + ": " + text
			}
			if err := r.write(text, 4); err != nil {
				return err
			}
		}
		if len(t.Label) > 0 {
			if err := r.write("["+strings.Join(t.Label, "] [")+"]", 4); err != nil {
				return err
			}
		}
	}
	return nil
}

// readingSpeed is how long somebody takes for a character; nobody waits longer
// than mostReading for one paragraph.
const (
	readingSpeed = 35 * time.Millisecond
	mostReading  = 5 * time.Second
)

// write writes a paragraph and gives time to read it.
func (r *reader) write(text string, in uint) error {
	lines := wordwrap.String(text, demoWidth-int(in))
	if _, err := fmt.Fprintf(r.out, "%s\n\n", indent.String(lines, in)); err != nil || r.fast {
		return err
	}
	pause := time.NewTimer(min(time.Duration(utf8.RuneCountInString(text))*readingSpeed, mostReading))
	defer pause.Stop()
	select {
	case <-r.ctx.Done():
	case <-pause.C:
	}
	return nil
}
