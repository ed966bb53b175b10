package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/store"
)

func newLogList(s streams) *cobra.Command {
	var data string
	var limit int
	var asJSON bool
	ask := map[string]*string{}
	c := &cobra.Command{
		Use:   "list",
		Short: "List the jobs, the latest first, or those that fit",
		Long: `List the jobs that the data folder keeps, the latest first: code, when something was last said, where the job
stands, what was decided, what the load weighs, who began it and where it is. All that is asked for must fit;
case does not count, and a part of a name, place or text is enough.

A page has --limit jobs; where there are more, the last line says how the next page is asked for. --text goes
through every event, and so takes its time in a large store.`,
		Example: "  linetender log list\n  linetender log list --since 2026-05-04 --decision no-go\n  linetender log list --text 'wet clover' --json",
		Args:    noArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			q := url.Values{"limit": {strconv.Itoa(limit)}}
			for name, value := range ask {
				if c.Flags().Changed(name) {
					q.Set(name, *value)
				}
			}
			if limit < 0 {
				return wrongCall("%s: --limit is %d; write how many jobs a page has, or 0 for all", c.CommandPath(), limit)
			}
			if asJSON {
				q.Set("json", "yes")
			}
			if _, err := readFilter(q); err != nil {
				return wrongCall("%s: %v", c.CommandPath(), err)
			}
			m := newMeter(s.err, "looking through", "jobs")
			defer m.close()
			return doLog(c, data, "list", logCall{ask: q, out: s.out, meter: m})
		},
	}
	for _, f := range []struct{ name, use string }{
		{"since", "only jobs in which something was said at this `TIME` or later, such as 2026-05-04 or 2026-05-04T09:30:00Z"},
		{"until", "only jobs in which nothing was said after this `TIME`; a day counts to its end"},
		{"place", "only jobs at a `PLACE` that has these words"},
		{"person", "only jobs in which a `PERSON` of this name took part"},
		{"decision", "only jobs with this `DECISION`: go, no-go, open or refer"},
		{"text", "only jobs in which these `WORDS` were said or written"},
		{"after", "the page after the job with this `CODE`"},
	} {
		ask[f.name] = c.Flags().String(f.name, "", f.use)
	}
	c.Flags().IntVar(&limit, "limit", 50, "how many jobs a page has, 0 for all: `N`")
	c.Flags().BoolVar(&asJSON, "json", false, "one JSON object a line instead of a table")
	dataFlag(c, &data)
	return c
}

// filter is what jobs are picked by; what is empty lets all through.
type filter struct {
	since, until                         time.Time
	place, person, decision, text, after string
	limit                                int
	hints                                []hint
}

func readFilter(q url.Values) (f filter, err error) {
	low := func(name string) string { return strings.ToLower(strings.TrimSpace(q.Get(name))) }
	f = filter{place: low("place"), person: low("person"), decision: low("decision"), text: low("text"), after: low("after")}
	if f.since, err = readTime(q.Get("since"), false); err != nil {
		return filter{}, fmt.Errorf("--since: %w", err)
	}
	if f.until, err = readTime(q.Get("until"), true); err != nil {
		return filter{}, fmt.Errorf("--until: %w", err)
	}
	if !slices.Contains([]string{"", "go", "no-go", "open", "refer"}, f.decision) {
		return filter{}, fmt.Errorf("--decision is %q; it can be go, no-go, open or refer", f.decision)
	}
	for _, text := range []string{f.person, f.place, f.decision} {
		if text != "" {
			f.hints = append(f.hints, hintOf(text))
		}
	}
	f.limit, err = strconv.Atoi(q.Get("limit"))
	return f, err
}

// readTime reads a time as people write it, in UTC where no zone is given. A
// day stands for its beginning, or for its end.
func readTime(text string, end bool) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	if day, err := time.Parse(time.DateOnly, text); err == nil {
		if end {
			day = day.AddDate(0, 0, 1).Add(-time.Nanosecond)
		}
		return day, nil
	}
	for _, form := range []string{time.RFC3339, "2006-01-02 15:04", "2006-01-02T15:04"} {
		if at, err := time.Parse(form, text); err == nil {
			return at, nil
		}
	}
	return time.Time{}, fmt.Errorf("%q is no time; write a day such as 2026-05-04, or a time such as 2026-05-04T09:30:00Z", text)
}

// takes reports whether a job fits by its summary.
func (f filter) takes(h flow.Head, last time.Time) bool {
	has := func(want string, texts ...string) bool {
		return want == "" || slices.ContainsFunc(texts, func(t string) bool { return strings.Contains(strings.ToLower(t), want) })
	}
	return (f.since.IsZero() || !last.Before(f.since)) && (f.until.IsZero() || !last.After(f.until)) &&
		(f.decision == "" || f.decision == h.Decision) && has(f.place, h.Place) && has(f.person, append(h.People, h.Lead)...)
}

// hint is what the bytes of a summary or an entry have in them, in lower case, if
// they hold a text: to look for it is many times quicker than to decode them.
type hint []byte

func hintOf(text string) hint {
	quoted, err := json.Marshal(text) // as it stands in what flow writes
	if err != nil || len(quoted) < 2 {
		return nil // rules nothing out
	}
	return bytes.ToLower(quoted[1 : len(quoted)-1])
}

func (h hint) mayBeIn(body []byte) bool { return len(h) == 0 || bytes.Contains(bytes.ToLower(body), h) }

// mayFit reports whether a summary can fit, by its bytes.
func (f filter) mayFit(head []byte) bool {
	if len(f.hints) == 0 {
		return true
	}
	head = bytes.ToLower(head)
	return !slices.ContainsFunc(f.hints, func(h hint) bool { return !bytes.Contains(head, h) })
}

// mentions reports whether the words were said in a job.
func (c logCall) mentions(name, words string) (bool, error) {
	found, sign := errors.New("found"), hintOf(words)
	err := c.shelf.Replay(name, 0, func(_ uint64, body []byte) error {
		if !sign.mayBeIn(body) {
			return nil
		}
		e, err := flow.DecodeEntry(body)
		if err != nil {
			return nil // log verify is for that
		}
		if slices.ContainsFunc(textsOf(e), func(t string) bool { return strings.Contains(strings.ToLower(t), words) }) {
			return found
		}
		return nil
	})
	if errors.Is(err, found) {
		return true, nil
	}
	return false, err
}

// textsOf are all words of an entry.
func textsOf(e flow.Entry) []string {
	texts := []string{e.Heard.Text, e.Who.Name}
	for _, s := range e.Said {
		texts = append(texts, s.Text)
	}
	for _, s := range e.Sent {
		for _, said := range s.Said {
			texts = append(texts, said.Text)
		}
	}
	for _, f := range e.Heard.Files {
		texts = append(texts, f.Name)
	}
	for _, a := range e.Acts {
		texts = append(append(texts, a.Value, a.Reason, a.Second), a.Names...)
	}
	return texts
}

// jobLine is a job as --json lists it.
type jobLine struct {
	Code     string   `json:"code"`
	Began    string   `json:"began"`
	Last     string   `json:"last"` // RFC 3339, UTC
	State    string   `json:"state"`
	Decision string   `json:"decision,omitempty"`
	Load     string   `json:"load,omitempty"`
	Lead     string   `json:"lead,omitempty"`
	People   []string `json:"people,omitempty"`
	Place    string   `json:"place,omitempty"`
	Events   uint64   `json:"events"`
	Chain    string   `json:"head,omitempty"`
}

// listJobs prints a page of the jobs that fit.
//
// Errors: *callError for a job to begin after that is not there.
func listJobs(c logCall) error {
	f, err := readFilter(c.ask)
	if err != nil {
		return wrongCall("%v", err)
	}
	rows, more, err := c.pick(f)
	if err != nil {
		return err
	}
	if c.ask.Has("json") {
		e := json.NewEncoder(c.out)
		e.SetEscapeHTML(false)
		for _, r := range rows {
			if err := e.Encode(r); err != nil {
				return err
			}
		}
		return nil
	}
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "CODE\tLAST SAID (UTC)\tSTANDS AT\tDECIDED\tLOAD\tBEGUN BY\tPLACE")
	for _, r := range rows {
		last := r.Last
		if at, err := time.Parse(time.RFC3339, last); err == nil {
			last = at.UTC().Format("2006-01-02 15:04")
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", oneLine(r.Code), oneLine(last), r.State, orDash(r.Decision),
			orDash(oneLine(r.Load)), orDash(oneLine(r.Lead)), orDash(oneLine(r.Place)))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	if more {
		return c.print("there are more: add --after %s\n", rows[len(rows)-1].Code)
	}
	return nil
}

// pick gathers a page, and reports whether more fit.
func (c logCall) pick(f filter) (rows []jobLine, more bool, err error) {
	from := ""
	if f.after != "" {
		from = flow.JobStream(f.after)
	}
	enough := errors.New("the page is full")
	err = c.shelf.Streams(flow.JobStream(""), from, true, func(name string, head []byte, last uint64, changed time.Time) error {
		c.meter.add(1)
		if changed.Before(f.since) {
			return enough // whatever comes now was last said earlier still
		}
		if !f.mayFit(head) {
			return c.ctx.Err()
		}
		h, err := flow.DecodeHead(head)
		if err != nil {
			return err
		}
		at, err := time.Parse(time.RFC3339, h.Last)
		if err != nil {
			at = changed
		}
		if !f.takes(h, at) {
			return c.ctx.Err()
		}
		if f.text != "" {
			if has, err := c.mentions(name, f.text); err != nil || !has {
				return errors.Join(err, c.ctx.Err())
			}
		}
		if f.limit > 0 && len(rows) == f.limit {
			more = true
			return enough
		}
		rows = append(rows, jobLine{Code: h.Code, Began: h.Began, Last: at.UTC().Format(time.RFC3339), State: string(h.State), Decision: h.Decision,
			Load: h.Load, Lead: h.Lead, People: h.People, Place: h.Place, Events: last, Chain: h.Chain})
		return nil
	})
	if errors.Is(err, store.ErrUnknown) {
		return nil, false, noSuchJob(f.after)
	}
	if err != nil && !errors.Is(err, enough) {
		return nil, false, err
	}
	return rows, more, nil
}
