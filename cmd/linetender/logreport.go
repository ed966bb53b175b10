package main

import (
	"errors"
	"io"
	"net/url"

	"github.com/spf13/cobra"

	"linetender/flow"
)

func newLogReport(s streams) *cobra.Command {
	var data, out string
	c := &cobra.Command{
		Use:   "report CODE",
		Short: "Write the report of one job as a page",
		Long: `Write the report of the job with this code as one HTML page that needs no network: summary, pictures, timeline,
every answer with how it was measured, what was taken for granted, checks with who and when, what was signed for,
stops, plan against what happened, photos that were kept, the working with sources, and the head of the log's
chain with the outcome of its check.`,
		Example: "  linetender log report larch-42 --out larch-42.html\n  linetender log report larch-42 > larch-42.html",
		Args:    exactly(1, "name the code of one job, as log list has it"),
		RunE: func(c *cobra.Command, args []string) error {
			return toFile(c, out, s.out, func(w io.Writer) error {
				return doLog(c, data, "report", logCall{ask: url.Values{"code": codesOf(args)}, out: w})
			})
		},
	}
	outFlag(c, &out)
	dataFlag(c, &data)
	return c
}

// reportJob writes the report of one job.
//
// Errors: *callError when there is no such job.
func reportJob(c logCall) error {
	page, err := newDraftsman(c.shelf, c.dir).render(c.ctx, flow.Show{What: flow.ShowReport, Job: c.ask.Get("code")})
	if errors.Is(err, flow.ErrNoJob) {
		return noSuchJob(c.ask.Get("code"))
	}
	if err != nil {
		return err
	}
	_, err = c.out.Write(page.Bytes)
	return err
}
