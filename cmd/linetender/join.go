package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/terminal"
)

type joinOptions struct{ data, name, as string }

// newJoin makes the command that speaks from a second terminal. Each call is a
// person of its own with a chat of its own, because two people at one machine
// must not share a voice; who left and comes back says so with --as. Keeping
// the name in a file instead would make the second person the first.
func newJoin(s streams) *cobra.Command {
	var o joinOptions
	c := &cobra.Command{
		Use:   "join CODE",
		Short: "Come into a job from a second terminal",
		Long: `Come into a job from a second terminal on the same machine, while linetender or linetender serve runs there.
CODE is what the lead of the job is given to hand out, with dashes or blanks, large or small. What is said to this terminal is shown as it comes, a stop
first, and a stop written here reaches everybody.

Each call speaks as somebody new. The name that it is given stands on standard error; after a break, --as NAME
goes on as the same one, and needs no code; who had left is asked whether to come back. Ctrl-D or Ctrl-C leaves; who has a part in the pull is told first what
that does to it. When the process that runs there ends, this terminal stays: it says that nobody hears, and goes on
when that process is back. When standard input is no terminal, each line of it is one answer, the plain transcript
is printed, and the end of that process is the end.

Exit status: 0 left; 1 no process keeps the folder, or it ended while no terminal was there to wait at; 2 the call is
wrong.`,
		Example: `  linetender join crane-moss-owl-birch-42 --name Ben
  linetender join Crane moss owl birch 42
  linetender join --as k3f9q2
  linetender join crane-moss-owl-birch-42 --data ./sessions < answers.txt`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 && o.as != "" {
				return nil
			}
			if len(args) == 0 {
				return exactly(1, "give the code that the lead of the job hands out, or --as and the name that you had")(c, args)
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(c *cobra.Command, args []string) error {
			return join(c, o, args, s)
		},
	}
	dataFlag(c, &o.data)
	nameFlag(c, &o.name)
	c.Flags().StringVar(&o.as, "as", "", "go on as the terminal called `NAME`, after a break")
	return c
}

func join(c *cobra.Command, o joinOptions, args []string, s streams) error {
	if o.as = strings.TrimPrefix(o.as, terminal.Scheme); o.as != "" && !seatName.MatchString(o.as) {
		return wrongCall("%s: --as %q is no name of a terminal; write the one that join gave you, such as k3f9q2", c.CommandPath(), o.as)
	}
	code, ok := flow.CodeFrom(strings.Join(args, " "))
	if !ok && len(args) > 0 {
		return wrongCall("%s: %q is no code; write the four words and two digits that the lead hands out, such as crane-moss-owl-birch-42", c.CommandPath(), strings.Join(args, " "))
	}
	dir, err := dataFolder(c, o.data)
	if err != nil {
		return err
	}
	ctx, leave := context.WithCancel(c.Context())
	defer leave()
	line, err := sitDown(ctx, dir, o.as)
	var refusal *hatchRefusal
	switch {
	case errors.Is(err, errNobody):
		return fmt.Errorf("nobody holds the jobs in %s; start linetender or linetender serve there first, then join", dir)
	case errors.As(err, &refusal) && refusal.status == http.StatusConflict:
		return wrongCall("%s: %s; leave it there first, or join with a code as somebody new", c.CommandPath(), refusal.said)
	case err != nil:
		return orderly(c.Context(), err)
	}
	name := strings.TrimPrefix(line.chat, terminal.Scheme)
	back := "linetender join --as " + name
	if c.Flags().Changed("data") {
		back += " --data " + shellWord(dir)
	}
	if _, err := fmt.Fprintf(s.err, "You are terminal %s here; after a break: %s\n", name, back); err != nil {
		return err
	}
	t := &terminal.Terminal{
		Line: line, Person: whoami(line.chat, o.name), Now: time.Now, Pictures: picturesIn(dir), Photos: line.photos,
	}
	t.Render = func(ctx context.Context, s flow.Show) (flow.Shown, error) { return t.Line.(*far).render(ctx, s) }
	if o.as != "" { // the job knows the name already
		t.Person.Name = o.name
	}
	if code != "" {
		t.Begin = "/start " + code
	}
	t.Again = func(context.Context) (terminal.Line, error) {
		line.leave() // the other process must not think that we still sit there
		anew, err := sitDown(ctx, dir, name)
		if err != nil {
			return nil, err
		}
		line = anew
		return anew, nil
	}
	err = speak(c.Context(), t, s)
	if errors.Is(err, terminal.ErrCut) {
		return fmt.Errorf("the process that holds the jobs in %s has ended, so nothing reaches the others from here: hold, have linetender started there again, then %s", dir, back)
	}
	return err
}

// far is the line to the process that holds the store.
type far struct {
	knock  *knock
	chat   string
	photos string
	stirs  chan struct{}
	silent context.Context // ends when nothing is heard any more of a process that is there
	leave  context.CancelFunc
}

var _ terminal.Line = (*far)(nil)

// sitDown takes the place of the terminal called name at the hatch of dir, or
// a new one. It is left when ctx ends.
//
// Errors: errNobody; *hatchRefusal.
func sitDown(ctx context.Context, dir, name string) (*far, error) {
	k, err := atHatch(dir)
	if err != nil {
		return nil, err
	}
	f := &far{knock: k, stirs: make(chan struct{}, 1)}
	f.silent, f.leave = context.WithCancel(ctx)
	quiet := time.AfterFunc(longestSilence, f.leave)
	answer, err := k.ask(f.silent, sitQuestion+"?"+url.Values{"as": {name}}.Encode(), nil)
	if err != nil {
		if f.silent.Err() != nil && ctx.Err() == nil {
			err = fmt.Errorf("process %d keeps this data folder and does not answer", k.Process)
		}
		f.leave()
		return nil, err
	}
	lines := bufio.NewScanner(answer.Body)
	var w welcome
	if !lines.Scan() || json.Unmarshal(lines.Bytes(), &w) != nil || !strings.HasPrefix(w.Chat, terminal.Scheme) {
		f.leave()
		return nil, errors.Join(errNobody, answer.Body.Close())
	}
	f.chat, f.photos = w.Chat, w.Photos
	go func() {
		defer answer.Body.Close()
		f.listen(lines, quiet)
	}()
	return f, nil
}

// listen tells what stirs until the line is cut. quiet takes it for cut when
// it is not put off.
func (f *far) listen(lines *bufio.Scanner, quiet *time.Timer) {
	defer close(f.stirs)
	defer quiet.Stop()
	for lines.Scan() {
		quiet.Reset(longestSilence)
		var what string
		if json.Unmarshal(lines.Bytes(), &what) != nil || what == sayHere {
			continue
		}
		select {
		case f.stirs <- struct{}{}:
		default:
		}
	}
}

func (f *far) Stirs() <-chan struct{} { return f.stirs }

// ask puts one short question.
//
// Errors: terminal.ErrCut.
func (f *far) ask(ctx context.Context, question string, more url.Values, body io.Reader) ([]byte, error) {
	values := url.Values{"chat": {f.chat}}
	for name, v := range more {
		values[name] = v
	}
	asking, done := context.WithCancel(ctx)
	defer done()
	defer context.AfterFunc(f.silent, done)()
	answer, err := f.knock.ask(asking, question+"?"+values.Encode(), body)
	var refusal *hatchRefusal
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, err
	case errors.Is(err, errNobody), err != nil && asking.Err() != nil, errors.As(err, &refusal) && refusal.status == http.StatusGone:
		return nil, terminal.ErrCut
	case err != nil:
		return nil, err
	}
	text, err := io.ReadAll(answer.Body)
	if err = errors.Join(err, answer.Body.Close()); err != nil && ctx.Err() == nil {
		return nil, errors.Join(terminal.ErrCut, err)
	}
	return text, err
}

func (f *far) Say(ctx context.Context, w terminal.Written) error {
	body, err := json.Marshal(w)
	if err != nil {
		return fmt.Errorf("encode a line: %w", err)
	}
	_, err = f.ask(ctx, sayQuestion, nil, bytes.NewReader(body))
	return err
}

func (f *far) Next(ctx context.Context) (p terminal.Parcel, ok bool, err error) {
	text, err := f.ask(ctx, nextQuestion, nil, nil)
	if err != nil || len(text) == 0 {
		return terminal.Parcel{}, false, err
	}
	if err := json.Unmarshal(text, &p); err != nil {
		return terminal.Parcel{}, false, fmt.Errorf("read a message: %w", err)
	}
	return p, true, nil
}

func (f *far) Heard(ctx context.Context, id uint64) error {
	_, err := f.ask(ctx, heardQuestion, url.Values{"id": {strconv.FormatUint(id, 10)}}, http.NoBody)
	return err
}

func (f *far) Parting(ctx context.Context) (p terminal.Parting, err error) {
	text, err := f.ask(ctx, leaveQuestion, nil, nil)
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	return p, err
}

// render has the other process make a picture: the log is there.
func (f *far) render(ctx context.Context, s flow.Show) (made flow.Shown, err error) {
	text, err := f.ask(ctx, makeQuestion, url.Values{
		"what": {s.What}, "job": {s.Job}, "entry": {strconv.FormatUint(s.Entry, 10)}, "caption": {s.Caption}}, nil)
	if err == nil {
		err = json.Unmarshal(text, &made)
	}
	return made, err
}
