package store

import (
	"slices"
	"testing"
)

func holds(t *testing.T, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestWaitingShowsWhatWaits(t *testing.T) {
	s := fresh(t, Options{})
	must(t, s.Accept("x", 1, []Arrival{
		{Key: "k1", Chat: "west", At: noon, Body: []byte("w1")}, {Key: "k2", Chat: "east", At: noon, Body: []byte("e1")},
		{Key: "k3", Chat: "west", At: noon, Body: []byte("w2")}, {Key: "k4", Chat: "west", At: noon, Body: []byte("w3")},
	}))
	// Out of order, as a stop is that is worked on ahead of the rest.
	if _, err := s.Commit(Turn{Update: "k3", Chat: "west"}); err != nil {
		t.Fatal(err)
	}
	look := func(most int) (got []string) {
		must(t, s.Waiting(func(a Arrival) bool {
			got = append(got, a.Chat+" "+a.Key+" "+string(a.Body))
			return len(got) < most
		}))
		return got
	}
	holds(t, look(9), "east k2 e1", "west k1 w1", "west k4 w3")
	holds(t, look(2), "east k2 e1", "west k1 w1")
	for _, want := range []string{"k1", "k4"} {
		a, ok, err := s.Next("west")
		if err != nil || !ok || a.Key != want || !a.At.Equal(noon) {
			t.Fatalf("next is %+v, %v, %v; want %s", a, ok, err, want)
		}
		_, err = s.Commit(Turn{Update: want, Chat: "west"})
		must(t, err)
	}
	_, err := s.Commit(Turn{Update: "k3", Chat: "west"})
	wantErr(t, err, ErrDone)
}

func TestBehindShowsWhatIsQueued(t *testing.T) {
	s := fresh(t, Options{})
	queue := func(bodies ...string) {
		var list []Parcel
		for _, b := range bodies {
			list = append(list, Parcel{Chat: map[byte]string{'e': "east", 'S': "east", 'w': "west"}[b[0]], Urgent: b == "STOP", Body: []byte(b)})
		}
		_, err := s.Commit(Turn{Outbox: list})
		must(t, err)
	}
	queue("e1", "w1", "e2", "STOP", "e3")
	due, err := s.Due(noon, 9, map[string]bool{"west": true})
	must(t, err)
	must(t, s.Sent(due[0].ID, "", nil)) // the stop
	due, err = s.Due(noon, 9, map[string]bool{"west": true})
	must(t, err)
	first := due[0].ID
	look := func(id uint64, limit int) (got []string) {
		must(t, s.Behind("east", id, limit, func(body []byte) bool {
			got = append(got, string(slices.Clone(body)))
			return string(body) != "e4"
		}))
		return got
	}
	holds(t, look(0, 9), "e1", "e2", "e3")
	holds(t, look(first, 9), "e2", "e3")
	holds(t, look(first, 1), "e2")
	holds(t, look(first+99, 9))
	queue("e4", "e5")
	holds(t, look(first, 9), "e2", "e3", "e4")
}
