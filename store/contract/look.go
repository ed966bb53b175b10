package contract

import (
	"testing"

	"linetender/store"
)

// Looking is what of the inbox and the outbox is asked for beyond the next of a chat.
type Looking interface {
	Waiting(visit func(store.Arrival) bool) error
	Behind(chat string, id uint64, limit int, visit func(body []byte) bool) error
}

// What waits is shown chat by chat and in order in each, out of order though
// some of it is worked on, as a stop is that goes ahead of the rest.
func testWaitingShowsWhatWaits(t *testing.T, h Harness) {
	s := h.open(t, nil)
	must(t, s.Accept("x", 1, []store.Arrival{
		arrival("k1", "west", "w1"), arrival("k2", "east", "e1"), arrival("k3", "west", "w2"), arrival("k4", "west", "w3"),
	}))
	turn := func(key string) error {
		_, err := s.Commit(store.Turn{Update: key, Chat: "west"})
		return err
	}
	must(t, turn("k3"))
	look := func(most int) (got []string) {
		must(t, s.Waiting(func(a store.Arrival) bool {
			if !a.At.Equal(noon) {
				t.Errorf("%s came in at %v", a.Key, a.At)
			}
			got = append(got, a.Chat+" "+a.Key+" "+string(a.Body))
			return len(got) < most
		}))
		return got
	}
	same(t, look(9), "east k2 e1", "west k1 w1", "west k4 w3")
	same(t, look(2), "east k2 e1", "west k1 w1")
	for _, want := range []string{"k1", "k4"} {
		if a, ok, err := s.Next("west"); err != nil || !ok || a.Key != want {
			t.Fatalf("next is %+v, %v, %v; want %s", a, ok, err, want)
		}
		must(t, turn(want))
	}
	wantErr(t, turn("k3"), store.ErrDone)
}

// What is queued behind a parcel is shown in order, of its own chat, and
// nothing that is urgent.
func testBehindShowsWhatIsQueued(t *testing.T, h Harness) {
	s := h.open(t, nil)
	queue := func(bodies ...string) {
		var turn store.Turn
		for _, b := range bodies {
			chat := map[byte]string{'e': "east", 'S': "east", 'w': "west"}[b[0]]
			turn.Outbox = append(turn.Outbox, store.Parcel{Chat: chat, Urgent: b == "STOP", Body: []byte(b)})
		}
		_, err := s.Commit(turn)
		must(t, err)
	}
	queue("e1", "w1", "e2", "STOP", "e3")
	must(t, s.Sent(idOf(t, s, "east"), "", nil)) // the stop
	first := idOf(t, s, "east")
	look := func(id uint64, limit int) (got []string) {
		must(t, s.Behind("east", id, limit, func(body []byte) bool {
			got = append(got, string(body))
			return string(body) != "e4"
		}))
		return got
	}
	same(t, look(0, 9), "e1", "e2", "e3")
	same(t, look(first, 9), "e2", "e3")
	same(t, look(first, 1), "e2")
	same(t, look(first+99, 9))
	queue("e4", "STOP", "e5")
	same(t, look(first, 9), "e2", "e3", "e4")
}

func testForgetSlots(t *testing.T, h Harness) {
	s := h.open(t, nil)
	kept := [][2]string{{"c", "larch-42/live"}, {"c", "larch-42/3"}, {"c", "larch-43/3"}, {"c1", "larch-42/3"}}
	for _, k := range kept {
		_, err := s.Commit(store.Turn{Chat: k[0], Outbox: []store.Parcel{{Body: []byte("x")}}})
		must(t, err)
		must(t, s.Sent(idOf(t, s, k[0]), k[1], []byte("7")))
	}
	must(t, s.ForgetSlots("c", "larch-42/"))
	must(t, s.ForgetSlots("nobody", "x"))
	for _, k := range kept {
		_, ok, err := s.Receipt(k[0], k[1])
		if want := k != kept[0] && k != kept[1]; err != nil || ok != want {
			t.Errorf("receipt %v is there: %v, want %v (%v)", k, ok, want, err)
		}
	}
}
