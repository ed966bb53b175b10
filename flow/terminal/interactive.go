package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"

	"linetender/flow"
)

// Interactive holds the conversation on a terminal until the person leaves
// with Ctrl-D or Ctrl-C, or ctx ends. The terminal is put back as it was.
//
// Errors: [ErrCut].
func (t *Terminal) Interactive(ctx context.Context, in, out *os.File, style Style) (err error) {
	old, err := term.MakeRaw(int(in.Fd()))
	if err != nil {
		return fmt.Errorf("take over the terminal: %w", err)
	}
	defer func() { err = errors.Join(err, term.Restore(int(in.Fd()), old)) }()
	screen := term.NewTerminal(struct {
		io.Reader
		io.Writer
	}{in, out}, "> ")
	if w, h, err := term.GetSize(int(out.Fd())); err == nil && w > 0 && h > 0 {
		if err := screen.SetSize(w, h); err != nil {
			return fmt.Errorf("set the width: %w", err)
		}
	}
	tell := func(m flow.Message, made []flow.Shown, first int) error {
		_, err := fmt.Fprintf(screen, "\n%s", style.show(m, made, first))
		return err
	}
	err = t.start(ctx, tell)
	for err == nil && ctx.Err() == nil {
		if _, err = fmt.Fprintln(screen); err != nil {
			break
		}
		var line string
		var more bool
		if line, more, err = t.prompt(ctx, screen, tell); err != nil || !more {
			break
		}
		if w, h, size := term.GetSize(int(out.Fd())); size == nil && w > 0 && h > 0 {
			// A line editor of the wrong width only looks untidy.
			_ = screen.SetSize(w, h)
		}
		if p, ok := t.byLetter(line); ok {
			err = t.say(ctx, Written{Press: &p}, tell)
		} else if w, refusal := t.enter(line); refusal != "" {
			err = tell(refused(refusal), nil, 0)
		} else {
			err = t.say(ctx, w, tell)
		}
	}
	if _, last := fmt.Fprintln(screen); err == nil {
		err = last
	}
	return leaving(ctx, err)
}

// prompt waits for a line and meanwhile shows what comes in by itself, above
// the line that is being written. It reports false when the person leaves or
// ctx ends; the reader that is left behind then ends with the program.
//
// Errors: ErrCut.
func (t *Terminal) prompt(ctx context.Context, screen *term.Terminal, tell teller) (string, bool, error) {
	type result struct {
		line string
		err  error
	}
	got := make(chan result, 1)
	go func() {
		line, err := screen.ReadLine()
		if errors.Is(err, term.ErrPasteIndicator) {
			err = nil
		}
		got <- result{line, err}
	}()
	for {
		select {
		case <-ctx.Done():
			return "", false, nil
		case _, there := <-t.Line.Stirs():
			if !there {
				return "", false, leaving(ctx, ErrCut)
			}
			if err := t.hear(ctx, func(m flow.Message, made []flow.Shown, first int) error {
				if err := tell(m, made, first); err != nil {
					return err
				}
				_, err := fmt.Fprintln(screen)
				return err
			}); err != nil {
				return "", false, err
			}
		case r := <-got:
			return r.line, r.err == nil, nil
		}
	}
}
