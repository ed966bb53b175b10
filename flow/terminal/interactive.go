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
	first, err := t.start(ctx)
	if err == nil {
		err = t.present(screen, style, first)
	}
	for err == nil {
		line, read := t.read(ctx, screen)
		if read != nil {
			break
		}
		if w, h, size := term.GetSize(int(out.Fd())); size == nil && w > 0 && h > 0 {
			// A line editor of the wrong width only looks untidy.
			_ = screen.SetSize(w, h)
		}
		var answer []flow.Message
		answer, err = t.say(ctx, t.byLetter(line))
		if err == nil {
			err = t.present(screen, style, answer)
		}
	}
	if _, last := fmt.Fprintln(screen); err == nil {
		err = last
	}
	return err
}

// read waits for a line or the end of ctx. The reader that is left behind
// then ends with the program.
func (t *Terminal) read(ctx context.Context, screen *term.Terminal) (string, error) {
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
	select {
	case <-ctx.Done():
		return "", ctx.Err()
	case r := <-got:
		return r.line, r.err
	}
}

func (t *Terminal) present(out io.Writer, style Style, messages []flow.Message) error {
	for _, m := range messages {
		if _, err := fmt.Fprintf(out, "\n%s", style.show(m)); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(out)
	return err
}

// byLetter turns the letter of a choice into its label in brackets.
func (t *Terminal) byLetter(line string) string {
	for i, c := range t.last.Choices {
		if line == letter(i) {
			return "[" + visible(c.Label) + "]"
		}
	}
	return line
}
