package terminal

import (
	"context"
	"errors"
	"fmt"
	"os"

	"golang.org/x/term"

	"linetender/flow"
)

// Interactive holds the conversation on a terminal until the person leaves
// with Ctrl-D or Ctrl-C, or ctx ends. The terminal is put back as it was. A
// line that is cut is looked for again where that can be done.
//
// Errors: [ErrCut].
func (t *Terminal) Interactive(ctx context.Context, in, out *os.File, style Style) (err error) {
	old, err := term.MakeRaw(int(in.Fd()))
	if err != nil {
		return fmt.Errorf("take over the terminal: %w", err)
	}
	defer func() { err = errors.Join(err, term.Restore(int(in.Fd()), old)) }()
	screen := newEditor(in, out)
	tell := func(m flow.Message, made []flow.Shown, first int) error {
		screen.fit()
		screen.SetPrompt(t.mark())
		gap := "\n"
		if screen.gap { // one line apart is enough
			gap = ""
		}
		screen.gap = false
		_, err := fmt.Fprint(screen, gap, style.show(m, made, first))
		return err
	}
	err = t.weather(ctx, t.start(ctx, tell), nil, tell)
	for err == nil && ctx.Err() == nil {
		if err = screen.apart(); err != nil {
			break
		}
		line, what, broken := t.prompt(ctx, screen, tell)
		if err = broken; err != nil || what == over {
			break
		}
		if what == wrote {
			t.warns = ""
			err = t.entered(ctx, line, tell)
			continue
		}
		if goes, broken := t.parts(ctx, tell); broken != nil || goes {
			err = broken
			break
		}
	}
	if _, last := fmt.Fprintln(screen); err == nil {
		err = last
	}
	return leaving(ctx, err)
}

// entered takes a line: a choice by its letter, or what enter makes of it.
func (t *Terminal) entered(ctx context.Context, line string, tell teller) error {
	u := unsent{at: t.Now(), text: visible(line)}
	if p, ok := t.byLetter(line); ok {
		u.Press, u.text = &p, t.label(p)
	} else {
		w, refusal := t.enter(line)
		if refusal != "" {
			return tell(refused(refusal), nil, 0)
		}
		u.Written = w
	}
	if t.away != nil {
		return t.unheard(u, tell)
	}
	return t.weather(ctx, t.say(ctx, u.Written, tell), &u, tell)
}

// What came of waiting for a line.
type outcome int

const (
	wrote outcome = iota // a line
	wants                // to leave
	over                 // the terminal or ctx ended
)

// prompt waits for a line and meanwhile shows what comes in by itself, above
// the line that is being written. The reader that is left behind at the end
// ends with the program.
//
// Errors: ErrCut.
func (t *Terminal) prompt(ctx context.Context, screen *editor, tell teller) (string, outcome, error) {
	lines := screen.lines()
	for {
		var stirs <-chan struct{}
		var back <-chan Line
		if t.away == nil {
			stirs = t.Line.Stirs()
		} else {
			back = t.away.back
		}
		var err error
		select {
		case <-ctx.Done():
			return "", over, nil
		case _, there := <-stirs:
			if there {
				err = t.hear(ctx, tell)
			} else {
				err = &lineError{ErrCut, false}
			}
			err = t.weather(ctx, err, nil, tell)
		case line := <-back:
			err = t.found(ctx, line, tell)
		case <-screen.leaves:
			return "", wants, nil
		case got := <-lines:
			screen.reading, screen.gap = nil, false
			if got.err != nil {
				return "", over, nil
			}
			return got.line, wrote, nil
		}
		if err == nil {
			err = screen.apart()
		}
		if err != nil {
			return "", over, leaving(ctx, err)
		}
	}
}
