package flow_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestPace: a flood from one chat is answered once and has no more effect
// than its allowance; its stop is heard all the same, other chats are not
// held back, and slower it is listened to again.
func TestPace(t *testing.T) {
	m := newMemory()
	at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
	texts := map[string]flow.Input{}
	n := 0
	say := func(chat, text string, when time.Time) {
		n++
		key := fmt.Sprintf("k/%05d", n)
		texts[key] = flow.Input{Person: flow.Person{ID: "1", Name: "Ada"}, At: when, Text: text, Direct: true}
		if err := m.Accept("s", int64(n), []flow.Arrival{{Key: key, Chat: chat, At: when}}); err != nil {
			t.Fatal(err)
		}
	}
	d := &flow.Desk{Log: m, Inbox: m, Engine: newEngine(), Pace: &flow.Pace{Every: time.Second, Burst: 10},
		Decode: func(a flow.Arrival) (flow.Input, bool, error) { return texts[a.Key], true, nil }}
	work := func(chat string) {
		t.Helper()
		for more := true; more; {
			var err error
			if more, err = d.Turn(t.Context(), chat); err != nil {
				t.Fatal(err)
			}
		}
	}
	said := func(key string) (count int) {
		for _, s := range m.sent() {
			for _, p := range s.Parts {
				if p.Key == key {
					count++
				}
			}
		}
		return count
	}
	for range 100 {
		say("flood", "hm", at)
	}
	work("flood")
	if got := said("refuse.too_fast"); got != 1 {
		t.Errorf("told %d times that it is too fast, want once", got)
	}
	jobs := 0
	for stream, entries := range m.streams {
		if strings.HasPrefix(stream, "job/") {
			jobs += len(entries)
		}
	}
	if jobs != 10 {
		t.Errorf("%d messages had an effect, want the 10 that are allowed", jobs)
	}
	say("flood", "stop", at)
	work("flood")
	if got := said("stop.called"); got != 1 {
		t.Errorf("the stop was told %d times, want once", got)
	}
	say("other", "/start", at)
	work("other")
	if got := said("open.hello"); got != 1 {
		t.Errorf("another chat was greeted %d times, want once", got)
	}
	say("flood", "so far", at.Add(time.Minute))
	work("flood")
	if got := said("refuse.too_fast"); got != 0 {
		t.Errorf("a minute later it is still held back")
	}
}
