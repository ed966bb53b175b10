package terminal

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"linetender/flow"
	"linetender/flow/hear"
)

// A terminal that joined stays up when the process that holds the jobs ends.
// If it ended as well, the next stop would be typed to the shell. It says that
// nobody hears, looks for that process again, and keeps what is typed
// meanwhile to say it back. Only a stop is passed on when the line is back,
// and that is said: words may hold no more by then, a stop too many costs a
// minute.

// How long it rests between two looks for the process: ever longer, but never
// so long that people stand around with a line that could be back.
const (
	firstLook = 250 * time.Millisecond
	lastLook  = 5 * time.Second
)

// An absence is the time in which the line is lost.
type absence struct {
	back   chan Line // yields the new line, once
	unsent []unsent
}

// unsent is what was typed and reached nobody, or nobody knows.
type unsent struct {
	Written
	at   time.Time
	text string
}

func (u unsent) stops() bool {
	if u.Press != nil {
		return u.Press.Choice == stopChoice
	}
	return hear.Stops(u.Text)
}

// stopChoice is the choice that halts.
const stopChoice = "stop"

// aside is a message of the terminal itself.
func aside(key string, args ...any) flow.Message {
	return flow.Message{Parts: []flow.Said{{Key: strings.Replace(key, "_", ".", 1), Text: word(key, args...)}}, Notice: true}
}

// mark is what stands before the line that is written.
func (t *Terminal) mark() string {
	if t.away != nil {
		return word("line_prompt")
	}
	return "> "
}

// weather takes what a line could not do: a cut one is looked for again, and
// what was refused is said. Any other error is the caller's.
func (t *Terminal) weather(ctx context.Context, err error, w *unsent, tell teller) error {
	var line *lineError
	switch {
	case err == nil || ctx.Err() != nil || t.Again == nil || !errors.As(err, &line):
		return err
	case !errors.Is(err, ErrCut):
		return tell(aside("line_refused", strings.TrimRight(line.Error(), ". ")), nil, 0)
	}
	if err := t.lose(ctx, tell); err != nil || w == nil || !line.said {
		return err
	}
	t.away.unsent = append(t.away.unsent, *w)
	if w.stops() {
		return tell(aside("line_stop"), nil, 0)
	}
	return tell(aside("line_unsure", w.text), nil, 0)
}

// lose says that the line is lost, and begins to look for the process.
func (t *Terminal) lose(ctx context.Context, tell teller) error {
	a := &absence{back: make(chan Line)}
	t.away = a
	go func() {
		for rest := firstLook; ctx.Err() == nil; rest = min(2*rest, lastLook) {
			line, err := t.Again(ctx)
			if err != nil {
				pause(ctx, rest)
				continue
			}
			select {
			case a.back <- line:
			case <-ctx.Done():
			}
			return
		}
	}()
	return tell(aside("line_lost"), nil, 0)
}

// unheard takes what is typed while the line is lost.
func (t *Terminal) unheard(u unsent, tell teller) error {
	if u.Press == nil && u.Other == "" && u.Place == nil && strings.TrimSpace(u.Text) == "" {
		return tell(aside("line_still"), nil, 0)
	}
	t.away.unsent = append(t.away.unsent, u)
	if u.stops() {
		return tell(aside("line_stop"), nil, 0)
	}
	return tell(aside("line_unsent", u.text), nil, 0)
}

// found goes on with a new line: a stop that was called meanwhile first, else
// where the job stands, then what was not sent.
func (t *Terminal) found(ctx context.Context, line Line, tell teller) error {
	was := t.away.unsent
	t.Line, t.away = line, nil
	if err := tell(aside("line_back"), nil, 0); err != nil {
		return err
	}
	if err := t.resume(ctx, was, tell); err != nil {
		if err = t.weather(ctx, err, nil, tell); err == nil && t.away != nil {
			t.away.unsent = append(was, t.away.unsent...)
		}
		return err
	}
	var list []string
	for _, u := range was {
		if !u.stops() {
			list = append(list, u.at.Format("15:04:05")+"  "+u.text)
		}
	}
	if len(list) == 0 {
		return nil
	}
	return tell(aside("line_not_sent", strings.Join(list, "\n")), nil, 0)
}

// resume takes the seat again in the conversation. A stop is called before
// anything else; only who had not yet come into the job must do that first.
func (t *Terminal) resume(ctx context.Context, was []unsent, tell teller) error {
	stop := slices.IndexFunc(was, unsent.stops)
	if t.begun {
		t.Begin = ""
	}
	if stop < 0 || !t.begun {
		if err := t.start(ctx, tell); err != nil || stop < 0 {
			return err
		}
	}
	if err := tell(aside("line_stop_now", was[stop].at.Format("15:04:05")), nil, 0); err != nil {
		return err
	}
	return t.say(ctx, was[stop].Written, tell)
}

// parts tells what leaving means, the first time that somebody wants to, and
// reports whether they leave. Who leaves with a part says so in the job.
func (t *Terminal) parts(ctx context.Context, tell teller) (bool, error) {
	if t.warns != "" {
		if t.warns != "part_leave" || t.away != nil {
			return true, nil
		}
		return true, t.weather(ctx, t.say(ctx, Written{Text: "leave"}, tell), nil, tell)
	}
	if t.away != nil {
		t.warns = "part_away"
		return false, tell(aside("part_away"), nil, 0)
	}
	p, err := t.Line.Parting(ctx)
	switch {
	case err != nil: // who can't be told leaves all the same
		return true, nil
	case p.Part != "":
		t.warns = "part_leave"
		return false, tell(aside("part_leave", p.Part), nil, 0)
	case p.Others > 0:
		t.warns = "part_others"
		return false, tell(aside("part_others", p.Others), nil, 0)
	case t.Again != nil:
		return true, tell(aside("part_left"), nil, 0)
	}
	return true, nil
}
