package main

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/report"
)

func newLogVerify(s streams) *cobra.Command {
	var data, head string
	c := &cobra.Command{
		Use:   "verify [CODE...]",
		Short: "Check that nobody changed what was kept",
		Long: `Check the named jobs, or all, against the chain that their events form: each event holds a digest of all before
it. For a job that does not hold, the first event is named that was changed, dropped, added, moved or repeated.

An end that was dropped shows against the summary of the job and, where somebody may have changed that too,
against a head noted elsewhere: the report and the plan card of a job show it, and --head takes it, whole or its
first 16 digits or more. Events that people were taken out of with log erase are listed; they hold.

Exit status: 0 all hold; 3 one does not.`,
		Example: "  linetender log verify\n  linetender log verify larch-42 --head '9f2c41d0 77ab03e5'",
		RunE: func(c *cobra.Command, args []string) error {
			ask := url.Values{"code": codesOf(args)}
			if c.Flags().Changed("head") {
				noted, err := flow.ReadNoted(head)
				if err != nil {
					return wrongCall("%s: %v", c.CommandPath(), err)
				}
				if len(args) != 1 {
					return wrongCall("%s: --head is of one job; name that one", c.CommandPath())
				}
				ask.Set("head", noted)
			}
			m := newMeter(s.err, "checking", "jobs")
			defer m.close()
			return doLog(c, data, "verify", logCall{ask: ask, out: s.out, meter: m})
		},
	}
	c.Flags().StringVar(&head, "head", "", "the `HEX` that the job's report or card shows as the head of its log")
	dataFlag(c, &data)
	return c
}

// verifyJobs prints what the check of the jobs came to: a line for each that
// is named, or has something to tell, and a sum.
func verifyJobs(c logCall) error {
	var jobs, events, bad uint64
	err := c.eachJob(func(code string, head []byte) error {
		p, err := proveJob(c.shelf, code, head, c.ask.Get("head"))
		if err != nil {
			return err
		}
		jobs++
		events += p.Entries
		if p.Fault != nil {
			bad++
		}
		if len(c.ask["code"]) == 0 && p.Fault == nil && len(p.Redacted) == 0 {
			return nil
		}
		return c.print("%s: %s\n", code, proofText(p))
	})
	if err != nil {
		return err
	}
	if len(c.ask["code"]) == 0 {
		if err := c.print("jobs %d, events %d; as they were written %d, changed or broken %d\n", jobs, events, jobs-bad, bad); err != nil {
			return err
		}
	}
	if bad > 0 {
		return errFound
	}
	return nil
}

// proveJob verifies one job against its summary, and against a head noted
// elsewhere, if one is.
func proveJob(l archiveReader, code string, head []byte, noted string) (flow.Proof, error) {
	w := flow.Witness{}
	h, err := flow.DecodeHead(head)
	if err == nil {
		w = h.Witness()
	}
	w.Noted = noted
	p, bad := flow.Verify(func(visit func(uint64, []byte) error) error {
		return l.Replay(flow.JobStream(code), 0, visit)
	}, w)
	if bad != nil {
		return flow.Proof{}, bad
	}
	if err != nil && p.Fault == nil {
		p.Fault = &flow.Fault{Entry: p.Entries, Is: flow.Changed, Note: "or the summary was, which cannot be read"}
	}
	return p, nil
}

// archiveReader is what a proof reads.
type archiveReader interface {
	Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
}

func proofText(p flow.Proof) string {
	if p.Fault != nil {
		return "DOES NOT HOLD: " + p.Fault.Error()
	}
	var b strings.Builder
	fmt.Fprintf(&b, "holds, %d events", p.Entries)
	if p.Loose > 0 {
		fmt.Fprintf(&b, ", the first %d of a release whose events carried no links of their own", p.Loose)
	}
	if p.Noted > 0 {
		fmt.Fprintf(&b, ", the head that was noted is after event %d", p.Noted)
	}
	fmt.Fprintf(&b, ", head %s", report.Spaced(p.Chain))
	for _, r := range p.Redacted {
		fmt.Fprintf(&b, "\n  event %d: a person was taken out of it at %s, as event %d records", r.Entry, r.At, r.By)
	}
	return b.String()
}
