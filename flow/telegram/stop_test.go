package telegram

import (
	"regexp"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"linetender/flow"
)

// TestAStopReachesEverybodyAheadOfTheQueue: twenty people in one job, messages waiting for each that the
// channel's limits would take minutes for, and updates waiting in the chat of who calls the stop: no time
// passes until all have it, and nothing else is said before that.
func TestAStopReachesEverybodyAheadOfTheQueue(t *testing.T) {
	code := regexp.MustCompile(`\b[a-z]+(-[a-z]+){3}-\d\d\b`)
	staged(t, func(t *testing.T, st *stage) {
		lead := st.srv.User(101, "Ada").Private()
		lead.Say("/start")
		st.quiet(t)
		seats := map[int64]bool{101: true}
		for i := range int64(crowd - 1) {
			lead.Say("crew code")
			st.quiet(t)
			found := ""
			for _, m := range st.srv.Said(101) {
				if c := code.FindString(m.Text); c != "" {
					found = c
				}
			}
			st.srv.User(102+i, "Bo").Private().Say("join " + found)
			seats[102+i] = true
			st.quiet(t)
		}
		body, err := words("Hold the line.").Encode()
		if err != nil {
			t.Fatal(err)
		}
		var waiting []flow.Parcel
		for range 50 {
			for chat := range seats {
				waiting = append(waiting, flow.Parcel{Chat: ChatKey(chat, 0), Body: body})
			}
		}
		if _, err := st.store.Commit(flow.Turn{Outbox: waiting}); err != nil {
			t.Fatal(err)
		}
		time.Sleep(5*time.Second + 123_457*time.Nanosecond) // at no moment at which a limit ends
		synctest.Wait()
		before, began := len(st.srv.Calls("sendMessage")), time.Now()
		caller := st.srv.User(120, "Bo").Private()
		for range 20 {
			caller.Say("note it creeps")
		}
		caller.Say("STOP!!")
		synctest.Wait()
		told := map[int64]bool{}
		for _, c := range st.srv.Calls("sendMessage")[before:] {
			if 0 < len(told) && len(told) < crowd && !strings.HasPrefix(c.Text(), "STOP.") {
				t.Fatalf("chat %d is told %q when %d know of the stop", c.Chat(), c.Text(), len(told))
			}
			if strings.HasPrefix(c.Text(), "STOP.") {
				told[c.Chat()] = true
			}
		}
		if took := time.Since(began); len(told) != crowd || took != 0 {
			t.Errorf("%d of %d know of the stop after %v", len(told), crowd, took)
		}
		for range 60 {
			time.Sleep(time.Minute)
		}
		st.quiet(t)
		late, stopped := 0, map[int64]bool{} // chats that have read STOP
		for _, c := range st.srv.Calls("sendMessage")[before:] {
			stopped[c.Chat()] = stopped[c.Chat()] || strings.HasPrefix(c.Text(), "STOP.")
			if stopped[c.Chat()] && strings.Contains(c.Text(), "Hold the line.") {
				if !strings.HasPrefix(c.Text(), "Late: this was written before the STOP or warning above.") {
					t.Fatalf("chat %d is told %q after the stop", c.Chat(), c.Text())
				}
				late++
			}
		}
		if late < crowd {
			t.Errorf("%d messages from before the stop came late, and %d chats had some", late, crowd)
		}
		if _, err := st.store.Commit(flow.Turn{Outbox: []flow.Parcel{{Chat: ChatKey(101, 0), Body: body}}}); err != nil {
			t.Fatal(err)
		}
		time.Sleep(2 * look)
		st.quiet(t)
		if said := st.srv.Said(101); said[len(said)-1].Text != "Hold the line." {
			t.Errorf("what was written since the stop is told as %q", said[len(said)-1].Text)
		}
	})
}
