package main

import (
	"errors"
	"fmt"
	"net/url"
	"runtime"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"linetender/flow"
)

func newLogReplay(s streams) *cobra.Command {
	var data string
	var all bool
	c := &cobra.Command{
		Use:   "replay {CODE... | --all}",
		Short: "Play jobs again with this release and show where it would answer otherwise",
		Long: `Play the conversation of the named jobs, or of all, again with this release: turn by turn, each from where the job
stood then. Shown is where this release would decide otherwise, would come to other figures (the digest of the
plan differs) or would ask something else. Other words for the same are counted and are no difference. Nothing is
written. Turns that can't be played, such as those that a person was taken out of, are counted.

Exit status: 0 all would go as they went; 3 one would not.`,
		Example: "  linetender log replay larch-42\n  linetender log replay --all",
		RunE: func(c *cobra.Command, args []string) error {
			if all == (len(args) > 0) {
				return wrongCall("%s: name jobs by their codes, or play all of them with --all; %s", c.CommandPath(), helpHint(c))
			}
			m := newMeter(s.err, "playing", "jobs")
			defer m.close()
			return doLog(c, data, "replay", logCall{ask: url.Values{"code": codesOf(args)}, out: s.out, meter: m})
		},
	}
	c.Flags().BoolVar(&all, "all", false, "all jobs; those that would go as they went are only counted")
	dataFlag(c, &data)
	return c
}

// rerun is a job that is played again, on its way.
type rerun struct {
	code string
	run  flow.Rerun
	err  error
}

// replayJobs plays jobs again, on all cores, and prints them in order.
func replayJobs(c logCall) error {
	engine := newEngine(true)
	var jobs, differ, worded, unplayed, failed uint64
	var batch []*rerun
	flush := func() error {
		var playing sync.WaitGroup
		for _, r := range batch {
			playing.Go(func() { r.run, r.err = engine.Replay(c.shelf, r.code) })
		}
		playing.Wait()
		for _, r := range batch {
			jobs++
			unplayed += r.run.Unplayed
			if r.err != nil {
				failed++
				if err := c.print("%s: can't be played: %s\n", r.code, oneLine(r.err.Error())); err != nil {
					return err
				}
				continue
			}
			if r.run.Differs() {
				differ++
			} else if len(r.run.Turned) > 0 {
				worded++
			}
			if err := c.print("%s", rerunText(*r, len(c.ask["code"]) > 0)); err != nil {
				return err
			}
		}
		batch = nil
		return nil
	}
	err := c.eachJob(func(code string, _ []byte) error {
		if batch = append(batch, &rerun{code: code}); len(batch) < runtime.GOMAXPROCS(0) {
			return nil
		}
		return flush()
	})
	if err = errors.Join(err, flush()); err != nil {
		return err
	}
	err = c.print("jobs %d; as they went %d, in other words %d, otherwise %d, can't be played %d; turns passed over %d\n",
		jobs, jobs-differ-worded-failed, worded, differ, failed, unplayed)
	if err == nil && differ+failed > 0 {
		return errFound
	}
	return err
}

// rerunText says where a job would go otherwise; nothing for one that would
// not, unless it was asked for by name.
func rerunText(r rerun, named bool) string {
	var b strings.Builder
	words := 0
	for _, t := range r.run.Turned {
		what := ""
		switch {
		case t.Unplayed != "":
			fmt.Fprintf(&b, "%s, event %d: can't be played: %s\n", r.code, t.Entry, oneLine(t.Unplayed))
			continue
		case t.Deemed:
			what = "another decision"
		case t.Asked:
			what = "goes on otherwise"
		case t.Figured:
			what = "other figures"
		default:
			words++
			continue
		}
		fmt.Fprintf(&b, "%s, event %d: %s: was %s; is %s", r.code, t.Entry, what, oneLine(t.Was), oneLine(t.Is))
		if t.WasDigest != t.IsDigest {
			fmt.Fprintf(&b, " (plan %s, now %s)", orDash(t.WasDigest), orDash(t.IsDigest))
		}
		b.WriteString("\n")
	}
	if named {
		fmt.Fprintf(&b, "%s: %d events, %d played, %d only in other words\n", r.code, r.run.Entries, r.run.Played, words)
	}
	return b.String()
}
