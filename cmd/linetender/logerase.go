package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
)

func newLogErase(s streams) *cobra.Command {
	var data, person string
	var yes bool
	c := &cobra.Command{
		Use:   "erase {CODE | --person NAME}",
		Short: "Remove a job, or take a person out of all that is kept",
		Long: `Remove the job with this code, or take the person of this name or number out of all jobs, chats and
invitations. What would be done is said first; it is done once it is confirmed, or at once with --yes.

A job that only the person worked in goes whole, with their chat. Out of a job that others worked in too, the
person's words, name, numbers, pictures and places are taken out of its events; what the job learnt of the load and
the gear stays, and the events still hold by log verify, which lists them. Each such job says in a last event what
was taken out of it and when.

Exports and backups that were made before are not touched: they are files of yours. The bytes leave the store's own
file when their room is used again.`,
		Example: "  linetender log erase larch-42\n  linetender log erase --person 'Ada Quill' --yes",
		RunE: func(c *cobra.Command, args []string) error {
			ask := url.Values{"code": codesOf(args), "by": {whoami("terminal/local", "").Name}}
			switch {
			case c.Flags().Changed("person") == (len(args) > 0) || len(args) > 1 || c.Flags().Changed("person") && strings.TrimSpace(person) == "":
				return wrongCall("%s: name one job by its code, or one person with --person; %s", c.CommandPath(), helpHint(c))
			case len(args) == 0:
				ask = url.Values{"person": {person}, "by": ask["by"]}
			}
			m := newMeter(s.err, "looking through", "jobs")
			defer m.close()
			if !yes {
				if err := doLog(c, data, "erase", logCall{ask: ask, out: s.out, meter: m}); err != nil {
					return err
				}
				m.close()
				if ok, err := confirmed(c.Context(), s); err != nil || !ok {
					return err
				}
			}
			ask.Set("yes", "yes")
			return doLog(c, data, "erase", logCall{ask: ask, out: s.out, meter: m})
		},
	}
	c.Flags().StringVar(&person, "person", "", "take out the person of this `NAME`, or with this number of the channel")
	c.Flags().BoolVar(&yes, "yes", false, "do it without asking")
	dataFlag(c, &data)
	return c
}

// confirmed asks for a yes.
func confirmed(ctx context.Context, s streams) (bool, error) {
	if _, err := fmt.Fprint(s.err, "It can't be undone. Write yes to do it: "); err != nil {
		return false, err
	}
	type answer struct {
		line string
		err  error
	}
	said := make(chan answer, 1)
	go func() { // a terminal stays silent for as long as it likes, and the call can be ended
		line, err := bufio.NewReader(s.in).ReadString('\n')
		said <- answer{line, err}
	}()
	var a answer
	select {
	case a = <-said:
	case <-ctx.Done():
		return false, ctx.Err()
	}
	if a.err != nil && !errors.Is(a.err, io.EOF) {
		return false, a.err
	}
	if strings.EqualFold(strings.TrimSpace(a.line), "yes") {
		return true, nil
	}
	_, err := fmt.Fprintln(s.err, "Nothing was removed.")
	return false, err
}

// eraseFrom says what would go, or takes it out.
//
// Errors: *callError when there is no such job or person, or several people
// of the name.
func eraseFrom(c logCall) error {
	e := erasure{logCall: c, yes: c.ask.Has("yes")}
	if c.ask.Has("person") {
		return e.person(strings.TrimSpace(c.ask.Get("person")))
	}
	return e.job(c.ask.Get("code"))
}

type erasure struct {
	logCall
	yes bool
}

// would says what is done, or would be.
func (e erasure) would(format string, args ...any) error {
	how := "would be "
	if e.yes {
		how = "was "
	}
	return e.print("%s\n", strings.Replace(fmt.Sprintf(format, args...), "IS", strings.TrimSpace(how), 1))
}

func (e erasure) job(code string) error {
	_, last, err := e.shelf.Head(flow.JobStream(code))
	if err != nil {
		return err
	}
	if last == 0 {
		return noSuchJob(code)
	}
	sums := map[string]bool{}
	if err := e.sums(code, sums); err != nil {
		return err
	}
	if e.yes {
		if err := e.shelf.EraseStream(flow.JobStream(code)); err != nil {
			return err
		}
	}
	if err := e.would("job %s with %d events IS removed", oneLine(code), last); err != nil {
		return err
	}
	return e.pictures(sums)
}

// sums gathers the pictures that a job names.
func (e erasure) sums(code string, sums map[string]bool) error {
	return e.shelf.Replay(flow.JobStream(code), 0, func(_ uint64, body []byte) error {
		entry, err := flow.DecodeEntry(body)
		if err != nil {
			return nil // what can't be read names nothing that could be found
		}
		for _, f := range entry.Heard.Files {
			if f.Sum != "" {
				sums[f.Sum] = true
			}
		}
		return nil
	})
}

// pictures removes kept pictures that no job names any more.
func (e erasure) pictures(sums map[string]bool) error {
	if len(sums) == 0 {
		return nil
	}
	d := newDraftsman(e.shelf, e.dir)
	all := logCall{ctx: e.ctx, shelf: e.shelf, ask: url.Values{}}
	if e.yes { // before, the job that goes names them itself
		err := all.eachJob(func(code string, _ []byte) error {
			left := map[string]bool{}
			err := e.sums(code, left)
			for sum := range left {
				delete(sums, sum)
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	n := 0
	for sum := range sums {
		for _, name := range d.kept(sum) {
			n++
			if e.yes {
				if err := os.Remove(name); err != nil {
					return err
				}
			}
		}
	}
	if n == 0 {
		return nil
	}
	return e.would("%d kept pictures IS removed", n)
}

// person takes somebody out of all that is kept.
func (e erasure) person(name string) error {
	ids, codes, err := e.find(name)
	if err != nil {
		return err
	}
	x := flow.Takeout{Log: e.shelf, Eraser: e.shelf, IDs: ids, By: e.ask.Get("by"), At: time.Now(), Dry: !e.yes}
	sums, own := map[string]bool{}, map[string]bool{}
	for _, code := range codes {
		if err := e.ctx.Err(); err != nil {
			return err
		}
		out, err := x.Job(code)
		if err != nil {
			return err
		}
		for _, sum := range out.Files {
			sums[sum] = true
		}
		for _, chat := range out.Chats {
			own[chat] = true
		}
		switch {
		case out.Whole:
			err = e.would("job %s IS removed: nobody else worked in it", code)
		case out.Touched():
			err = e.would("%s IS taken out of %d events of job %s", oneLine(name), len(out.Entries), code)
		}
		if err != nil {
			return err
		}
	}
	if err := e.chats(x, own); err != nil {
		return err
	}
	return e.pictures(sums)
}

// find returns the numbers of the person and the jobs that name them.
func (e erasure) find(name string) (ids, codes []string, err error) {
	names := map[string]string{} // by id
	err = e.eachJob(func(code string, _ []byte) error {
		here := false
		note := func(p flow.Person) {
			if p.ID == "" || p.ID != name && !strings.EqualFold(p.Name, name) {
				return
			}
			names[p.ID], here = p.Name, true
		}
		err := e.shelf.Replay(flow.JobStream(code), 0, func(_ uint64, body []byte) error {
			entry, err := flow.DecodeEntry(body)
			if err != nil {
				return fmt.Errorf("job %s: %w", code, err)
			}
			note(entry.Who)
			for _, a := range entry.Acts {
				if a.Member != nil {
					note(flow.Person{ID: a.Member.ID, Name: a.Member.Name})
				}
			}
			return nil
		})
		if here {
			codes = append(codes, code)
		}
		return err
	})
	if err != nil {
		return nil, nil, err
	}
	for id := range names {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	switch {
	case len(ids) == 0:
		return nil, nil, wrongCall("nobody is called %q in any job; log show prints who spoke, and the number that the channel knows them by", oneLine(name))
	case len(ids) > 1:
		return nil, nil, wrongCall("%d people are called %q; name one by number: %s", len(ids), oneLine(name), oneLine(strings.Join(ids, ", ")))
	}
	return ids, codes, nil
}

// chats takes the person out of what is kept outside of jobs.
func (e erasure) chats(x flow.Takeout, own map[string]bool) error {
	n := 0
	prefix := flow.ChatStream("")
	err := e.shelf.Streams(prefix, "", false, func(stream string, _ []byte, _ uint64, _ time.Time) error {
		name := strings.TrimPrefix(stream, prefix)
		found, err := x.Chat(name, own[name])
		if found {
			n++
		}
		return errors.Join(err, e.ctx.Err())
	})
	if err == nil && n > 0 {
		err = e.would("what is kept of them in %d chats IS removed", n)
	}
	if err != nil {
		return err
	}
	owner, err := x.Door()
	if err == nil && owner {
		err = e.print("they own this installation: their invitation stays, or nobody could invite\n")
	}
	return err
}
