package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/archive"
	"linetender/store"
)

// Every log command is a piece of work on a store: asked with url.Values, so
// that it can be done in this process or, where another holds the store, in
// that one by way of the hatch. It prints what it finds, and its error says
// how it ended.

// A shelf is a store as the log commands use it.
type shelf interface {
	archive.Source
	flow.Log
	flow.Eraser
}

// logCall is one call of a log command.
type logCall struct {
	ctx   context.Context
	shelf shelf
	dir   string // the data folder
	ask   url.Values
	in    io.Reader // what is handed in, for those that take something
	out   io.Writer
	meter *meter // shows how far it is; nil shows nothing
}

type logWork struct {
	do     func(logCall) error
	writes bool // needs a store that it may write
	long   bool // may take minutes
}

// logWorks are the log commands by the word they are called by.
func logWorks() map[string]logWork {
	return map[string]logWork{
		"list":   {do: listJobs, long: true},
		"show":   {do: showJob},
		"report": {do: reportJob},
		"verify": {do: verifyJobs, long: true},
		"replay": {do: replayJobs, long: true},
		"export": {do: exportJobs, long: true},
		"import": {do: importJobs, long: true, writes: true},
		"erase":  {do: eraseFrom, long: true, writes: true},
	}
}

// errFound ends the program with exitFound: what was looked into is not as it
// should be, and that was told already.
var errFound = errors.New("something was found")

func newLog(s streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "log",
		Short: "Look back: list, show, report, check and carry what was said and decided",
		Long: `Look back at the jobs that the data folder keeps: list and search them, print one line an event or a report of
it, check that nobody changed anything, carry them to another place, or take people out of them. All of it also
while a conversation is under way.`,
		Example: "  linetender log list\n  linetender log show larch-42\n  linetender log verify",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			var names []string
			for _, sub := range c.Commands() {
				if sub.IsAvailableCommand() {
					names = append(names, sub.Name())
				}
			}
			return wrongCall("%s: say what to do with it: %s; %s", c.CommandPath(), strings.Join(names, ", "), helpHint(c))
		},
	}
	c.AddCommand(newLogList(s), newLogShow(s), newLogReport(s), newLogVerify(s), newLogExport(s), newLogImport(s), newLogErase(s), newLogReplay(s), newLogBackup(s))
	return c
}

// doLog does a piece of work on the store in the data folder, or has the
// process do it that holds the store.
func doLog(c *cobra.Command, data, word string, call logCall) error {
	dir, err := dataFolder(c, data)
	if err != nil {
		return err
	}
	work := logWorks()[word]
	call.ctx, call.dir = c.Context(), dir
	if address := os.Getenv(envOf("store")); address != "" && !c.Flags().Changed("data") {
		// Where replicas serve, it is set for all of the program.
		st, err := openKeeper(c, address, dir, "")
		if err != nil {
			return err
		}
		return onStore(call, work, st)
	}
	st, err := store.Open(dir, store.Options{ReadOnly: !work.writes})
	switch {
	case errors.Is(err, store.ErrMissing):
		// The process that serves from this folder may keep its jobs elsewhere.
		return askLog(call, word, work, wrongCall("%s: no job is kept in %s yet; name the folder with --data, or begin a job with linetender", c.CommandPath(), dir))
	case errors.Is(err, store.ErrLocked):
		return askLog(call, word, work, err)
	case err != nil:
		return err
	}
	return onStore(call, work, st)
}

// onStore does a piece of work on an open store and closes it.
func onStore(call logCall, work logWork, st Store) error {
	w := bufio.NewWriter(call.out)
	call.shelf, call.out = eraser{Store: st}, w
	return errors.Join(work.do(call), w.Flush(), st.Close())
}

func askLog(call logCall, word string, work logWork, locked error) error {
	patience, out, question := hatchPatience, call.out, "/log/"+word
	if work.long {
		patience = 0
	}
	if q := call.ask.Encode(); q != "" {
		question += "?" + q
	}
	if call.in == nil {
		out = call.meter.lines(out)
	}
	found, err := putHatch(call.ctx, call.dir, question, call.in, patience, out)
	var refusal *hatchRefusal
	switch {
	case errors.Is(err, errNobody):
		return locked
	case errors.As(err, &refusal) && refusal.status == http.StatusNotFound:
		return &callError{refusal.said}
	case err != nil:
		return err
	}
	return endings()[found]
}

// endings are the errors by which an answer ends that was given whole, by the
// word for them in the trailer.
func endings() map[string]error {
	return map[string]error{"told": errTold, "found": errFound}
}

// logRoutes do the work of the log commands of other calls, on the store in dir.
func logRoutes(mux *http.ServeMux, st eraser, dir string) {
	for word, work := range logWorks() {
		mux.HandleFunc("/log/"+word, func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Trailer", hatchFound)
			sent := &counter{w: w}
			out := bufio.NewWriter(sent)
			err := work.do(logCall{ctx: r.Context(), shelf: st, dir: dir, ask: r.URL.Query(), in: r.Body, out: out})
			if !errors.As(err, new(*callError)) {
				err = errors.Join(err, out.Flush())
			}
			endAnswer(w, sent.n > 0, err)
		})
	}
}

// endAnswer ends an answer that has begun, or has not.
func endAnswer(w http.ResponseWriter, begun bool, err error) {
	for word, how := range endings() {
		if errors.Is(err, how) {
			w.Header().Set(hatchFound, word)
			return
		}
	}
	switch {
	case err == nil:
	case begun:
		panic(http.ErrAbortHandler) // too late for a status: cut short, so that the other side sees that it is not whole
	case errors.As(err, new(*callError)):
		http.Error(w, err.Error(), http.StatusNotFound)
	default:
		http.Error(w, err.Error(), http.StatusInternalServerError)
	}
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

func orDash(text string) string {
	if text == "" {
		return "-"
	}
	return text
}

// codesOf are the jobs that a call names, in lower case as codes are.
func codesOf(args []string) []string {
	var codes []string
	for _, a := range args {
		codes = append(codes, strings.ToLower(a))
	}
	return codes
}

// eachJob visits the jobs that are named, or all, the oldest change first.
//
// Errors: *callError for a job that is not there.
func (c logCall) eachJob(visit func(code string, head []byte) error) error {
	prefix := flow.JobStream("")
	each := func(code string, head []byte) error {
		if err := c.ctx.Err(); err != nil {
			return err
		}
		c.meter.add(1)
		return visit(code, head)
	}
	if codes := c.ask["code"]; len(codes) > 0 {
		for _, code := range codes {
			head, last, err := c.shelf.Head(flow.JobStream(code))
			if err != nil {
				return err
			}
			if last == 0 {
				return noSuchJob(code)
			}
			if err := each(code, head); err != nil {
				return err
			}
		}
		return nil
	}
	return c.shelf.Streams(prefix, "", false, func(name string, head []byte, _ uint64, _ time.Time) error {
		return each(strings.TrimPrefix(name, prefix), head)
	})
}

func noSuchJob(code string) error {
	return wrongCall("there is no job %q; linetender log list names those there are", oneLine(code))
}

func (c logCall) print(format string, args ...any) error {
	_, err := fmt.Fprintf(c.out, format, args...)
	return err
}
