package store

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

func queueUp(t testing.TB, s *Store, parcels ...Parcel) {
	t.Helper()
	_, err := s.Commit(Turn{Outbox: parcels})
	must(t, err)
}

func plainParcel(chat, body string) Parcel { return Parcel{Chat: chat, Body: []byte(body)} }
func urgentParcel(chat, body string) Parcel {
	return Parcel{Chat: chat, Urgent: true, Body: []byte(body)}
}

// dueBodies returns what is due, as bodies.
func dueBodies(t testing.TB, s *Store, now time.Time, limit int, busy ...string) []string {
	t.Helper()
	b := map[string]bool{}
	for _, chat := range busy {
		b[chat] = true
	}
	due, err := s.Due(now, limit, b)
	must(t, err)
	var got []string
	for _, d := range due {
		got = append(got, string(d.Body))
	}
	return got
}

func same(t testing.TB, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func idOf(t testing.TB, s *Store, chat string) uint64 {
	t.Helper()
	due, err := s.Due(noon.AddDate(9, 0, 0), 1000, nil)
	must(t, err)
	for _, d := range due {
		if d.Chat == chat {
			return d.ID
		}
	}
	t.Fatalf("nothing is due in chat %q", chat)
	return 0
}

func TestDueInOrderUrgentFirst(t *testing.T) {
	s := fresh(t, Options{})
	queueUp(t, s, plainParcel("east", "e1"), plainParcel("east", "e2"), plainParcel("west", "w1"))
	same(t, dueBodies(t, s, noon, 9), "e1", "w1")
	same(t, dueBodies(t, s, noon, 1), "e1")
	same(t, dueBodies(t, s, noon, 0))
	same(t, dueBodies(t, s, noon, 9, "east"), "w1")

	queueUp(t, s, urgentParcel("west", "STOP w"), urgentParcel("north", "STOP n"), urgentParcel("west", "STOP w2"))
	same(t, dueBodies(t, s, noon, 9), "STOP w", "STOP n", "e1")
	for _, want := range []string{"STOP w", "STOP w2", "w1"} {
		due, err := s.Due(noon, 9, map[string]bool{"east": true, "north": true})
		must(t, err)
		if len(due) != 1 || string(due[0].Body) != want || due[0].Chat != "west" {
			t.Fatalf("due in west: %+v, want %q", due, want)
		}
		must(t, s.Sent(due[0].ID, "", nil))
	}
	same(t, dueBodies(t, s, noon, 9), "STOP n", "e1")
}

func TestDelayHoldsTheChat(t *testing.T) {
	s := fresh(t, Options{})
	queueUp(t, s, plainParcel("east", "e1"), plainParcel("east", "e2"), plainParcel("west", "w1"))
	id := idOf(t, s, "east")
	must(t, s.Delay(id, noon.Add(time.Minute), "429"))
	same(t, dueBodies(t, s, noon, 9), "w1")
	queueUp(t, s, urgentParcel("east", "STOP"))
	same(t, dueBodies(t, s, noon, 9), "STOP", "w1")
	must(t, s.Sent(idOf(t, s, "east"), "", nil))
	same(t, dueBodies(t, s, noon.Add(time.Minute-1), 9), "w1")
	same(t, dueBodies(t, s, noon.Add(time.Minute), 9), "e1", "w1")
	must(t, s.Delay(id, noon.Add(2*time.Minute), "429"))
	due, err := s.Due(noon.Add(time.Hour), 9, nil)
	must(t, err)
	if d := due[0]; d.ID != id || d.Tries != 2 || !d.NotBefore.Equal(noon.Add(2*time.Minute)) || d.Urgent {
		t.Errorf("after two delays: %+v", d)
	}
	// One that is not first in its chat can be delayed too; it counts once it is.
	behind := id + 1
	must(t, s.Delay(behind, noon.Add(time.Hour), "put off"))
	must(t, s.Sent(id, "", nil))
	same(t, dueBodies(t, s, noon.Add(30*time.Minute), 9), "w1")
	same(t, dueBodies(t, s, noon.Add(time.Hour), 9), "e2", "w1")
}

func TestSentKeepsReceipt(t *testing.T) {
	s := fresh(t, Options{})
	queueUp(t, s, plainParcel("east", "1"), plainParcel("east", "2"), plainParcel("east", "3"), plainParcel("west", "w"))
	for _, r := range []struct{ slot, receipt string }{{"live", "m1"}, {"", "ignored"}, {"live", "m3"}} {
		must(t, s.Sent(idOf(t, s, "east"), r.slot, []byte(r.receipt)))
	}
	must(t, s.Sent(idOf(t, s, "west"), "live", nil))
	for chat, want := range map[string]string{"east": "m3", "west": ""} {
		if got, ok, err := s.Receipt(chat, "live"); string(got) != want || !ok || err != nil {
			t.Errorf("receipt of %s: %q, %v, %v; want %q", chat, got, ok, err, want)
		}
	}
	if got, ok, err := s.Receipt("east", "other"); got != nil || ok || err != nil {
		t.Errorf("a slot without receipt: %q, %v, %v", got, ok, err)
	}
	for _, id := range []uint64{0, 1, 99} {
		wantErr(t, s.Sent(id, "live", []byte("m9")), ErrUnknown)
		wantErr(t, s.Delay(id, noon, ""), ErrUnknown)
		wantErr(t, s.Drop(id, ""), ErrUnknown)
	}
	if got, _, _ := s.Receipt("east", "live"); string(got) != "m3" {
		t.Errorf("a refused mark changed the receipt to %q", got)
	}
}

func TestDrop(t *testing.T) {
	clock := &hands{noon}
	s := fresh(t, Options{Now: clock.now})
	queueUp(t, s, plainParcel("east", "1"), urgentParcel("east", "2"), plainParcel("east", "3"))
	must(t, s.Drop(1, "400"))
	same(t, dueBodies(t, s, noon, 9), "2")
	must(t, s.Drop(2, "403"))
	same(t, dueBodies(t, s, noon, 9), "3")
	var got []string
	must(t, s.Dead(0, func(n uint64, d Dead) error {
		got = append(got, fmt.Sprint(n, " ", d.Kind, " ", d.Key, " ", d.Chat, " ", d.Why, " ", string(d.Body)))
		return nil
	}))
	same(t, got, "1 parcel 1 east 400 1", "2 parcel 2 east 403 2")
	must(t, s.Dead(1, func(n uint64, _ Dead) error {
		if n != 2 {
			t.Errorf("number %d comes after 1", n)
		}
		return nil
	}))
}

func TestDeadBeyondOneBatch(t *testing.T) {
	s := fresh(t, Options{})
	s.db.NoSync = true
	const n = 2*batchStreams + 1
	for i := range n {
		queueUp(t, s, plainParcel("c", fmt.Sprint(i)))
		must(t, s.Drop(uint64(i+1), "why"))
	}
	want := uint64(0)
	must(t, s.Dead(0, func(got uint64, d Dead) error {
		if want++; got != want || string(d.Body) != fmt.Sprint(want-1) {
			t.Errorf("number %d, body %s where %d was due", got, d.Body, want)
		}
		return nil
	}))
	if want != n {
		t.Errorf("%d dead, want %d", want, n)
	}
}

func TestRekey(t *testing.T) {
	s := fresh(t, Options{})
	accept1(t, s, "k1", "old", "1")
	accept1(t, s, "k2", "new", "2")
	accept1(t, s, "k3", "old", "3")
	queueUp(t, s, plainParcel("old", "o0"), plainParcel("new", "n0"))
	must(t, s.Sent(1, "live", []byte("m-old")))
	must(t, s.Sent(2, "live", []byte("m-new")))
	queueUp(t, s, plainParcel("old", "p1"), plainParcel("new", "p2"), urgentParcel("old", "STOP"), plainParcel("old", "p3"))
	must(t, s.Delay(3, noon.Add(time.Minute), "moved"))

	must(t, s.Rekey("old", "new"))
	must(t, s.Check())
	if chats, _ := s.Chats(); !slices.Equal(chats, []string{"new"}) {
		t.Errorf("chats %q", chats)
	}
	for _, want := range []string{"k1", "k2", "k3"} {
		a, ok, err := s.Next("new")
		must(t, err)
		if !ok || a.Key != want || a.Chat != "new" {
			t.Fatalf("next %+v, want %s: order is kept", a, want)
		}
		_, err = s.Commit(Turn{Update: a.Key})
		must(t, err)
	}
	accept1(t, s, "k1", "old", "redelivered")
	if _, ok, _ := s.Next("old"); ok {
		t.Error("an update done under the new name came back under the old")
	}
	same(t, dueBodies(t, s, noon, 9), "STOP")
	for _, want := range []string{"STOP", "p1", "p2", "p3"} {
		same(t, dueBodies(t, s, noon.Add(time.Hour), 9), want)
		must(t, s.Sent(idOf(t, s, "new"), "", nil))
	}
	if _, ok, _ := s.Receipt("old", "live"); ok {
		t.Error("a receipt of the old name is left")
	}
	if r, _, _ := s.Receipt("new", "live"); string(r) != "m-new" {
		t.Errorf("receipt of the new name is %q", r)
	}
	must(t, s.Rekey("old", "new"))
	must(t, s.Rekey("new", "new"))
	wantErr(t, s.Rekey("", "new"), ErrName)
	wantErr(t, s.Rekey("new", ""), ErrName)
}

func TestForget(t *testing.T) {
	s := fresh(t, Options{})
	for _, chat := range []string{"east", "west"} {
		accept1(t, s, "k"+chat, chat, "x")
		must(t, s.Bury("k"+chat, "why"))
		queueUp(t, s, plainParcel(chat, "1"), plainParcel(chat, "2"), plainParcel(chat, "farewell"))
		must(t, s.Sent(idOf(t, s, chat), "live", []byte("m")))
		must(t, s.Drop(idOf(t, s, chat), "why"))
	}
	must(t, s.Forget("east"))
	must(t, s.Dead(0, func(_ uint64, d Dead) error {
		if d.Chat != "west" {
			t.Errorf("a dead %s of chat %s is left", d.Kind, d.Chat)
		}
		return nil
	}))
	if st, _ := s.Stats(); st.Dead != 2 {
		t.Errorf("%d dead, want the two of west", st.Dead)
	}
	if _, ok, _ := s.Receipt("east", "live"); ok {
		t.Error("a receipt is left")
	}
	if _, ok, _ := s.Receipt("west", "live"); !ok {
		t.Error("the receipt of another chat is gone")
	}
	same(t, dueBodies(t, s, noon, 9), "farewell", "farewell")
}
