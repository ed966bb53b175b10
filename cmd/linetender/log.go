package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/store"
)

// A ledger is what the log commands read: the store itself.
type ledger interface {
	Streams(prefix, from string, newestFirst bool, visit func(name string, head []byte, last uint64, changed time.Time) error) error
	Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
}

const (
	listQuestion = "/log/list"
	showQuestion = "/log/show"
)

func newLog(s streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "log",
		Short: "Print what was said and decided",
		Long: `Print the jobs that the data folder keeps, or every turn of one of them: who said what and when, what it
meant, what was decided and what was answered. A log can be read while a conversation is under way.`,
		Example: "  linetender log list\n  linetender log show larch-42",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return wrongCall("%s: say what to do with it: list or show; %s", c.CommandPath(), helpHint(c))
		},
	}
	c.AddCommand(newLogList(s), newLogShow(s))
	return c
}

func newLogList(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:     "list",
		Short:   "List the jobs, the latest first",
		Long:    "List the jobs that the data folder keeps, the latest first: code, when something was last said, where the job stands, what was decided, what the load weighs and who began it.",
		Example: "  linetender log list\n  linetender log list --data ./sessions",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return readLog(c, data, s.out, listQuestion, listJobs)
		},
	}
	dataFlag(c, &data)
	return c
}

func newLogShow(s streams) *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:     "show CODE",
		Short:   "Print every turn of one job",
		Long:    "Print every turn of the job with this code, in order: who said what and when, what it meant, what was decided and what was answered.",
		Example: "  linetender log show larch-42",
		Args:    exactly(1, "name the code of one job, as log list has it"),
		RunE: func(c *cobra.Command, args []string) error {
			code := args[0]
			return readLog(c, data, s.out, showQuestion+"?"+url.Values{"code": {code}}.Encode(),
				func(w io.Writer, l ledger) error { return showJob(w, l, code) })
		},
	}
	dataFlag(c, &data)
	return c
}

// readLog has write read the store, or, when another process holds it, asks
// that one.
func readLog(c *cobra.Command, data string, out io.Writer, question string, write func(io.Writer, ledger) error) error {
	dir, err := dataFolder(c, data)
	if err != nil {
		return err
	}
	st, err := store.Open(dir, store.Options{ReadOnly: true})
	switch {
	case errors.Is(err, store.ErrMissing):
		return wrongCall("%s: no job is kept in %s yet; name the folder with --data, or begin a job with linetender", c.CommandPath(), dir)
	case errors.Is(err, store.ErrLocked):
		return askLog(c.Context(), dir, question, out, err)
	case err != nil:
		return err
	}
	w := bufio.NewWriter(out)
	return errors.Join(write(w, st), w.Flush(), st.Close())
}

func askLog(ctx context.Context, dir, question string, out io.Writer, locked error) error {
	err := askHatch(ctx, dir, question, out)
	var refusal *hatchRefusal
	switch {
	case errors.Is(err, errNobody):
		return locked
	case errors.As(err, &refusal) && refusal.status == http.StatusNotFound:
		return &callError{refusal.said}
	}
	return err
}

// logRoutes answer the log commands of other calls.
func logRoutes(mux *http.ServeMux, l ledger) {
	answer := func(w http.ResponseWriter, write func(io.Writer) error) {
		out := &counter{w: w}
		err := write(out)
		var call *callError
		switch {
		case err == nil:
		case out.n > 0:
			// Too late for a status: cut the answer short, so that the other
			// side sees that it is not whole.
			panic(http.ErrAbortHandler)
		case errors.As(err, &call):
			http.Error(w, err.Error(), http.StatusNotFound)
		default:
			http.Error(w, err.Error(), http.StatusInternalServerError)
		}
	}
	mux.HandleFunc(listQuestion, func(w http.ResponseWriter, _ *http.Request) {
		answer(w, func(out io.Writer) error { return listJobs(out, l) })
	})
	mux.HandleFunc(showQuestion, func(w http.ResponseWriter, r *http.Request) {
		answer(w, func(out io.Writer) error { return showJob(out, l, r.FormValue("code")) })
	})
}

// counter counts what is written through it.
type counter struct {
	w io.Writer
	n int64
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

func listJobs(out io.Writer, l ledger) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "CODE\tLAST SAID (UTC)\tSTANDS AT\tDECIDED\tLOAD\tBEGUN BY")
	err := l.Streams(flow.JobStream(""), "", true, func(_ string, head []byte, _ uint64, changed time.Time) error {
		h, err := flow.DecodeHead(head)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", h.Code, changed.UTC().Format("2006-01-02 15:04"),
			h.State, orDash(h.Decision), orDash(oneLine(h.Load)), orDash(oneLine(h.Lead)))
		return err
	})
	return errors.Join(err, w.Flush())
}

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// showJob prints the turns of one job.
//
// Errors: *callError when there is no such job.
func showJob(out io.Writer, l ledger, code string) error {
	turns := 0
	err := l.Replay(flow.JobStream(strings.ToLower(code)), 0, func(n uint64, body []byte) error {
		e, err := flow.DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("turn %d: %w", n, err)
		}
		turns++
		return showTurn(out, n, e)
	})
	if err != nil {
		return err
	}
	if turns == 0 {
		return wrongCall("there is no job %q; linetender log list names those there are", oneLine(code))
	}
	return nil
}

func showTurn(out io.Writer, n uint64, e flow.Entry) error {
	var b strings.Builder
	row := func(name, text string) {
		if text == "" {
			return
		}
		for i, line := range strings.Split(text, "\n") {
			if i > 0 {
				name = ""
			}
			fmt.Fprintf(&b, "  %-8s %s\n", name, oneLine(line))
		}
	}
	at := e.At
	if e.Offset != "" {
		at += " (site " + e.Offset + ")"
	}
	who := e.Who.Name
	if who == "" {
		who = e.Who.ID
	}
	fmt.Fprintf(&b, "%d. %s  %s in %s\n", n, oneLine(at), oneLine(who), oneLine(e.Chat))
	row("heard", e.Heard.Text)
	row("pressed", e.Heard.Press)
	row("heard", e.Heard.Other)
	for _, a := range e.Acts {
		row("meant", meant(a))
	}
	stands := string(e.State)
	if e.Topic != "" {
		stands += ", asking " + e.Topic
	}
	row("stands", stands)
	if e.Decided != nil {
		row("decided", strings.Join(append([]string{e.Decided.Decision}, e.Decided.Why...), "\n"))
	}
	for _, s := range e.Said {
		row("said", s.Text)
	}
	_, err := fmt.Fprintln(out, b.String())
	return err
}

// meant words one act for the log: what it did, to what, and how that is known.
func meant(a flow.Act) string {
	parts := []string{string(a.Do)}
	for _, p := range []string{string(a.Event), a.Topic, a.Path} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if a.Value != "" {
		parts = append(parts, "= "+a.Value)
	}
	if a.Was != "" {
		parts = append(parts, "(was "+a.Was+")")
	}
	if a.How != "" {
		parts = append(parts, "("+string(a.How)+")")
	}
	if len(a.Names) > 0 {
		parts = append(parts, "by "+strings.Join(a.Names, ", "))
	}
	if a.Second != "" {
		parts = append(parts, "second "+a.Second)
	}
	if a.Reason != "" {
		parts = append(parts, "because "+a.Reason)
	}
	return strings.Join(parts, " ")
}
