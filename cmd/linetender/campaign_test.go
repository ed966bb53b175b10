package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"linetender/calc/unit"
	"linetender/flow"
	"linetender/flow/telegram/apitest"
	"linetender/flow/wording"
	"linetender/store"
)

// campaign is how long a campaign runs: quick in the plain test run, short in
// the guarding one, full when it is asked for (LINETENDER_LONG=full).
func campaign(quick, short, full int) int {
	switch os.Getenv("LINETENDER_LONG") {
	case "":
		return quick
	case "short":
		return short
	}
	return full
}

// jobEntries returns the entries of all jobs in a closed store, by chat, in
// the order in which they were written there.
func jobEntries(t *testing.T, dir string) map[string][]flow.Entry {
	t.Helper()
	st, err := store.Open(dir, store.Options{Timeout: 10 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	if err := st.Check(); err != nil {
		t.Error(err)
	}
	var jobs []string
	err = st.Streams(flow.JobStream(""), "", false, func(name string, _ []byte, _ uint64, _ time.Time) error {
		jobs = append(jobs, name)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]flow.Entry{}
	for _, job := range jobs {
		err := st.Replay(job, 0, func(_ uint64, body []byte) error {
			e, err := flow.DecodeEntry(body)
			all[e.Chat] = append(all[e.Chat], e)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return all
}

func unsent(t *testing.T, dir string) int {
	t.Helper()
	st, err := store.Open(dir, store.Options{Timeout: 10 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	n, err := st.Stats()
	if err != nil {
		t.Fatal(err)
	}
	return n.Unsent + n.Waiting
}

// settle serves until every chat has had the answer to a last stop and
// nothing is left to be sent.
func settle(t *testing.T, srv *apitest.Server, dir string, seats []*apitest.Seat) {
	t.Helper()
	p := serving(t, srv, dir, "--anyone")
	for _, s := range seats {
		s.Say("stop")
	}
	for _, s := range seats {
		srv.Wait("the last stop", saidTo(srv, s.Chat(), "STOP"))
	}
	finish(t, srv, p)
	for unsent(t, dir) > 0 {
		// What is left leads to something said, and a stop drains what more it can
		// within the channel's limits.
		was := len(srv.Calls("sendMessage"))
		p := serving(t, srv, dir, "--anyone")
		srv.Wait("what was left is said", func() bool { return len(srv.Calls("sendMessage")) > was })
		finish(t, srv, p)
	}
}

// TestServeKilledAtRandom kills the process at random instants, of its start
// too, while many people talk to it, and counts: every message has exactly one
// effect, in the order of its chat; every answer is said, in order; and none is
// said again but those that were on their way when the process died.
func TestServeKilledAtRandom(t *testing.T) {
	t.Parallel()
	const inFlight = 32 // calls that a sender has under way at most
	rounds := campaign(6, 30, 500)
	srv := apitest.New(t)
	dir := t.TempDir()
	var seats []*apitest.Seat
	for i := range campaign(12, 24, 40) {
		seats = append(seats, srv.User(int64(1001+i), "Ada").Private())
	}
	said := map[string][]string{} // what each chat was told by its person
	n := 0
	for range rounds {
		p := serving(t, srv, dir, "--anyone")
		for range 5 {
			s := seats[rand.IntN(len(seats))]
			n++
			text := fmt.Sprintf("remark %d", n)
			said[chatName(s)] = append(said[chatName(s)], text)
			s.Say(text)
		}
		<-time.After(time.Duration(rand.IntN(400)) * time.Millisecond)
		p.signal(syscall.SIGKILL)
		p.end()
		secretKept(t, srv, p)
	}
	settle(t, srv, dir, seats)

	twice, answers := 0, 0
	entries := jobEntries(t, dir)
	for _, s := range seats {
		want := said[chatName(s)]
		stops := 0
		var got, answered []string
		for _, e := range entries[chatName(s)] {
			if e.Heard.Text == "stop" { // goes ahead of what its chat has waiting
				stops++
			} else {
				got = append(got, e.Heard.Text)
			}
			for _, part := range e.Said {
				answered = append(answered, part.Text)
			}
		}
		if len(said[chatName(s)]) == 0 {
			continue // a stop without a job is in no job
		}
		if strings.Join(got, "\n") != strings.Join(want, "\n") {
			t.Errorf("chat %s: the job has %q, want each message once and in order: %q", chatName(s), got, want)
		}
		if early := stopsOf(t, dir, chatName(s)); stops+early != 1 {
			t.Errorf("chat %s: one stop has %d effects in the job and %d before there was one", chatName(s), stops, early)
		}
		answers += len(answered)
		twice += repeats(t, srv, s, entries[chatName(s)])
	}
	if most := rounds * inFlight; twice > most {
		t.Errorf("%d messages were said again after %d kills, want at most the %d that were on their way", twice, rounds, most)
	}
	t.Logf("%d kills, %d messages with one effect each, %d paragraphs said, %d messages said twice", rounds, n, answers, twice)
}

// stopsOf counts the stops that a chat called while it was in no job.
func stopsOf(t *testing.T, dir, chat string) (n int) {
	t.Helper()
	st, err := store.Open(dir, store.Options{Timeout: 10 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	err = st.Replay("chat/"+chat, 0, func(_ uint64, body []byte) error {
		var e struct{ Heard flow.Heard }
		if err := json.Unmarshal(body, &e); err != nil {
			return err
		}
		if e.Heard.Text == "stop" {
			n++
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func chatName(s *apitest.Seat) string { return fmt.Sprintf("telegram/%d", s.Chat()) }

// repeats holds what a chat shows against what its log says was said, and
// returns how many messages are there twice in a row. Anything else that is
// missing, added or out of order fails the test.
func repeats(t *testing.T, srv *apitest.Server, s *apitest.Seat, entries []flow.Entry) (twice int) {
	t.Helper()
	var want strings.Builder
	for _, e := range entries {
		if len(e.Heard.Text) > 0 && e.Heard.Text == "stop" {
			continue // urgent: it goes ahead of what still waited
		}
		for _, part := range e.Said {
			want.WriteString(part.Text + "\n\n")
		}
	}
	late, err := wording.English().Say(unit.Metric, wording.StopEarlier, nil)
	if err != nil {
		t.Fatal(err)
	}
	rest, before := want.String(), ""
	for _, m := range original(srv, s.Chat()) {
		m, _ = strings.CutPrefix(m, late+"\n\n") // what a stop went ahead of is headed by that
		text := m + "\n\n"
		switch {
		case strings.HasPrefix(rest, text):
			rest = rest[len(text):]
		case text == before:
			twice++
		case strings.Contains(m, "STOP"):
			continue
		default:
			t.Errorf("chat %d was told out of turn:\n%s\nwhere the log goes on with:\n%.300s", s.Chat(), m, rest)
			return twice
		}
		before = text
	}
	if rest != "" {
		t.Errorf("chat %d was never told:\n%s", s.Chat(), rest)
	}
	return twice
}

// original returns the texts as they were first said in a chat, before any
// edit, with the lost answers among them: what a phone there would have shown.
func original(srv *apitest.Server, chat int64) (texts []string) {
	for _, c := range srv.Calls("sendMessage") {
		if c.Chat() == chat && c.OK() {
			texts = append(texts, c.Text())
		}
	}
	return texts
}
