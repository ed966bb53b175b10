package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strings"
	"time"

	"linetender/flow"
	"linetender/store"
)

// pruneEvery is how often a serving process looks for what is too old.
const pruneEvery = time.Hour

// pruneMost is how many jobs one look removes, so that it never holds the
// conversation up for long.
const pruneMost = 1000

// openLeast is how long a job that is not closed stays though nobody touches
// it, whatever --keep says: a load may hang on its line for weeks.
const openLeast = 30 * 24 * time.Hour

// pruned is how much a look removed.
type pruned struct {
	jobs, dead int
	chats      int // whose words and names are gone
}

// prune removes what was last touched so many days ago: closed jobs and those
// that were forsaken, with the channel's numbers of their messages; what was
// said in chats outside of a job; who made and used invitations; and what was
// given up on.
func prune(st Store, now time.Time, days int) (p pruned, err error) {
	before := now.AddDate(0, 0, -days)
	forsaken := before
	if least := now.Add(-openLeast); least.Before(before) {
		forsaken = least
	}
	jobs, err := oldStreams(st, flow.JobStream(""), before, func(head []byte, changed time.Time) (bool, error) {
		h, err := flow.DecodeHead(head)
		return err == nil && (h.State == flow.Closed || changed.Before(forsaken)), err
	})
	if err != nil {
		return p, err
	}
	for _, name := range jobs[:min(len(jobs), pruneMost)] {
		if err := removeJob(st, name); err != nil {
			return p, err
		}
		p.jobs++
	}
	if p.chats, err = pruneChats(st, before); err != nil {
		return p, err
	}
	if err := pruneDoor(st, before); err != nil {
		return p, err
	}
	p.dead, err = st.PruneDead(before)
	return p, err
}

// oldStreams lists the streams with a prefix that were last touched before
// the time given, oldest first, and that pick chooses.
func oldStreams(st Store, prefix string, before time.Time, pick func(head []byte, changed time.Time) (bool, error)) (names []string, err error) {
	enough := errors.New("the rest is younger")
	err = st.Streams(prefix, "", false, func(name string, head []byte, _ uint64, changed time.Time) error {
		if !changed.Before(before) {
			return enough
		}
		ok, err := pick(head, changed)
		if ok {
			names = append(names, name)
		}
		return err
	})
	if err != nil && !errors.Is(err, enough) {
		return nil, fmt.Errorf("look for what is old: %w", err)
	}
	return names, nil
}

// removeJob removes a job and the channel's numbers of its messages.
func removeJob(st Store, name string) error {
	in := map[string]bool{}
	err := st.Replay(name, 0, func(_ uint64, body []byte) error {
		e, err := flow.DecodeEntry(body)
		if err != nil {
			return nil // what can't be read names no chat, and goes all the same
		}
		in[e.Chat] = true
		for _, s := range e.Sent {
			in[s.Chat] = true
		}
		return nil
	})
	if err != nil {
		return err
	}
	for chat := range in {
		if err := st.ForgetSlots(chat, strings.TrimPrefix(name, flow.JobStream(""))+"-"); err != nil {
			return err
		}
	}
	return st.Erase(name)
}

// pruneChats takes the words and names out of chats that nobody has used, and
// removes those of which nothing is left to keep.
func pruneChats(st Store, before time.Time) (done int, err error) {
	all := func([]byte, time.Time) (bool, error) { return true, nil }
	names, err := oldStreams(st, flow.ChatStream(""), before, all)
	if err != nil {
		return 0, err
	}
	gone := func(code string) bool {
		_, last, err := st.Head(flow.JobStream(code))
		return err == nil && last == 0
	}
	for _, name := range names {
		chat := strings.TrimPrefix(name, flow.ChatStream(""))
		t, err := flow.ThinChat(st, chat, gone)
		switch {
		case err != nil:
			return done, err
		case t.Empty:
			err = errors.Join(st.Forget(chat), st.Erase(name))
		case len(t.Redone) > 0:
			err = st.Redact(store.Write{Stream: name, After: t.After}, t.Redone)
		default:
			continue
		}
		if err != nil && !flow.Moved(err) { // somebody speaks there now
			return done, err
		}
		done++
	}
	return done, nil
}

func pruneDoor(st Store, before time.Time) error {
	t, err := flow.ThinDoor(st, before)
	if err != nil || len(t.Redone) == 0 {
		return err
	}
	err = st.Redact(store.Write{Stream: flow.DoorStream, After: t.After}, t.Redone)
	if flow.Moved(err) {
		return nil // the next look does it
	}
	return err
}

// keepFor prunes until ctx ends.
func keepFor(ctx context.Context, st Store, days int, log *slog.Logger) {
	tick := time.NewTicker(pruneEvery)
	defer tick.Stop()
	for {
		p, err := prune(st, time.Now(), days)
		if err != nil {
			log.Error("what is too old could not be removed", "err", err)
		}
		if p != (pruned{}) {
			log.Info("removed what is older than it is kept", "jobs", p.jobs, "chats", p.chats, "given_up", p.dead, "days", days)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}
