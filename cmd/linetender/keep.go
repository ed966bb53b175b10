package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"linetender/flow"
)

// pruneEvery is how often a serving process looks for what is too old.
const pruneEvery = time.Hour

// pruneMost is how many jobs one look removes, so that it never holds the
// conversation up for long.
const pruneMost = 1000

// prune removes what was last touched before the time given: closed jobs, and
// what was given up on. A job that is not closed stays, however old. It
// returns how many jobs and how many of the dead went.
func prune(st Store, before time.Time) (jobs, dead int, err error) {
	var old []string
	enough := errors.New("the rest is younger")
	err = st.Streams(flow.JobStream(""), "", false, func(name string, head []byte, _ uint64, changed time.Time) error {
		if !changed.Before(before) || len(old) == pruneMost {
			return enough
		}
		h, err := flow.DecodeHead(head)
		if err != nil {
			return err
		}
		if h.State == flow.Closed {
			old = append(old, name)
		}
		return nil
	})
	if err != nil && !errors.Is(err, enough) {
		return 0, 0, fmt.Errorf("look for old jobs: %w", err)
	}
	for _, name := range old {
		if err := st.Erase(name); err != nil {
			return jobs, 0, err
		}
		jobs++
	}
	dead, err = st.PruneDead(before)
	return jobs, dead, err
}

// keepFor prunes until ctx ends.
func keepFor(ctx context.Context, st Store, days int, log *slog.Logger) {
	tick := time.NewTicker(pruneEvery)
	defer tick.Stop()
	for {
		jobs, dead, err := prune(st, time.Now().AddDate(0, 0, -days))
		if err != nil {
			log.Error("what is too old could not be removed", "err", err)
		}
		if jobs+dead > 0 {
			log.Info("removed what is older than it is kept", "jobs", jobs, "given_up", dead, "days", days)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}
