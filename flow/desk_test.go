package flow_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"linetender/flow"
)

// plainArrival is what the tests' own channel writes down.
func plainArrival(n int, chat, text string) flow.Arrival {
	return flow.Arrival{Key: fmt.Sprintf("%s/%d", chat, n), Chat: chat, At: time.Date(2026, 5, 4, 9, n, 0, 0, time.UTC), Body: []byte(text)}
}

func newDesk(m *memory) *flow.Desk {
	return &flow.Desk{Log: m, Inbox: m, Engine: newEngine(), Decode: func(a flow.Arrival) (flow.Input, bool, error) {
		switch string(a.Body) {
		case "empty":
			return flow.Input{}, false, nil
		case "broken":
			return flow.Input{}, false, errors.New("no such update")
		case "panic":
			panic("a decoder's bug")
		}
		return flow.Input{Text: string(a.Body), At: a.At, Person: flow.Person{ID: "1"}, Direct: true}, true, nil
	}}
}

// TestDeskOneEffect: what is delivered twice has one effect.
func TestDeskOneEffect(t *testing.T) {
	m := newMemory()
	d := newDesk(m)
	a := plainArrival(1, "c", "/start")
	for range 3 {
		if err := m.Accept("test", 0, []flow.Arrival{a}); err != nil {
			t.Fatal(err)
		}
		for {
			more, err := d.Turn(context.Background(), "c")
			if err != nil {
				t.Fatal(err)
			}
			if !more {
				break
			}
		}
	}
	jobs := 0
	for s, entries := range m.streams {
		if strings.HasPrefix(s, "job/") {
			jobs += len(entries)
		}
	}
	if jobs != 1 {
		t.Errorf("three deliveries left %d entries, want 1", jobs)
	}
}

// TestDeskBuriesWhatItCantRead: an arrival that can't be worked on is put
// aside after its tries, the person is told, and the next one has its turn.
func TestDeskBuriesWhatItCantRead(t *testing.T) {
	for _, body := range []string{"broken", "panic"} {
		m := newMemory()
		d := newDesk(m)
		bad, good := plainArrival(1, "c", body), plainArrival(2, "c", "/start")
		if err := m.Accept("test", 0, []flow.Arrival{bad, good}); err != nil {
			t.Fatal(err)
		}
		tries := 0
		for {
			more, err := d.Turn(context.Background(), "c")
			if err != nil {
				tries++
			}
			if !more {
				break
			}
		}
		if tries != flow.Tries || m.buried[bad.Key] == "" {
			t.Errorf("%s: %d tries, buried because of %q; want %d tries", body, tries, m.buried[bad.Key], flow.Tries)
		}
		sent := m.sent()
		if len(sent) < 2 || sent[0].Parts[0].Key != "refuse.trouble" || sent[1].Parts[0].Key != "open.hello" {
			t.Errorf("%s: the person is told %v", body, sent)
		}
	}
}

// TestDeskKeepsWhatTheStoreFails: a failing log buries nothing, and once it
// works again the turn is given.
func TestDeskKeepsWhatTheStoreFails(t *testing.T) {
	m := newMemory()
	d := newDesk(m)
	full := errors.New("disk full")
	m.refuse = func(flow.Turn) error { return full }
	if err := m.Accept("test", 0, []flow.Arrival{plainArrival(1, "c", "/start")}); err != nil {
		t.Fatal(err)
	}
	for range flow.Tries + 2 {
		if more, err := d.Turn(context.Background(), "c"); more || !errors.Is(err, full) {
			t.Fatalf("with a full disk a turn gives %v, %v", more, err)
		}
	}
	m.refuse = nil
	if more, err := d.Turn(context.Background(), "c"); !more || err != nil {
		t.Fatalf("with room again a turn gives %v, %v", more, err)
	}
	if len(m.buried) != 0 || len(m.sent()) == 0 {
		t.Errorf("buried %v", m.buried)
	}
}

// TestDeskBeginsAgainWhenMoved: two writers can't both win, and the one that
// comes second works on what the first has left.
func TestDeskBeginsAgainWhenMoved(t *testing.T) {
	m := newMemory()
	d := newDesk(m)
	once := sync.Once{}
	m.refuse = func(flow.Turn) error {
		var err error
		once.Do(func() { err = movedError{errors.New("another was first")} })
		return err
	}
	if err := m.Accept("test", 0, []flow.Arrival{plainArrival(1, "c", "/start")}); err != nil {
		t.Fatal(err)
	}
	if more, err := d.Turn(context.Background(), "c"); !more || err != nil {
		t.Fatalf("a turn that was beaten gives %v, %v", more, err)
	}
	if len(m.sent()) == 0 {
		t.Error("nothing was said")
	}
}

// TestDeskOrder: chats run side by side, each in its own order, and Run ends
// with its context.
func TestDeskOrder(t *testing.T) {
	m := newMemory()
	d := newDesk(m)
	const chats, each = 8, 12
	for c := range chats {
		chat := fmt.Sprintf("c%d", c)
		var list []flow.Arrival
		for n := range each {
			text := "note " + fmt.Sprint(n)
			if n == 0 {
				text = "/start"
			}
			if n == 5 {
				text = "empty"
			}
			list = append(list, plainArrival(n, chat, text))
		}
		if err := m.Accept("test", 0, list); err != nil {
			t.Fatal(err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	posted := make(chan string, chats*each)
	d.Posted = func(chat string) { posted <- chat }
	done := make(chan error)
	go func() { done <- d.Run(ctx) }()
	for range chats * (each - 1) {
		<-posted
	}
	cancel()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	for s, entries := range m.streams {
		if !strings.HasPrefix(s, "job/") {
			continue
		}
		last := -1
		for _, body := range entries {
			var e flow.Entry
			if err := json.Unmarshal(body, &e); err != nil {
				t.Fatal(err)
			}
			var n int
			if _, err := fmt.Sscanf(e.Heard.Text, "note %d", &n); err == nil {
				if n <= last {
					t.Errorf("%s: note %d after %d", s, n, last)
				}
				last = n
			}
		}
		if last != each-1 {
			t.Errorf("%s ends at note %d, want %d", s, last, each-1)
		}
	}
}
