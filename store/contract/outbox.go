package contract

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"linetender/store"
)

func queueUp(t testing.TB, s Store, parcels ...store.Parcel) {
	t.Helper()
	_, err := s.Commit(store.Turn{Outbox: parcels})
	must(t, err)
}

func plainParcel(chat, body string) store.Parcel { return store.Parcel{Chat: chat, Body: []byte(body)} }
func urgentParcel(chat, body string) store.Parcel {
	return store.Parcel{Chat: chat, Urgent: true, Body: []byte(body)}
}

// dueBodies returns what is due, as bodies.
func dueBodies(t testing.TB, s Store, now time.Time, limit int, busy ...string) []string {
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

func idOf(t testing.TB, s Store, chat string) uint64 {
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

func testDueInOrderUrgentFirst(t *testing.T, h Harness) {
	s := h.open(t, nil)
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

func testDelayHoldsTheChat(t *testing.T, h Harness) {
	s := h.open(t, nil)
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
	must(t, s.Sent(id, "", nil))
	behind := idOf(t, s, "east")
	queueUp(t, s, urgentParcel("east", "STOP"))
	must(t, s.Delay(behind, noon.Add(time.Hour), "put off"))
	must(t, s.Sent(idOf(t, s, "east"), "", nil))
	same(t, dueBodies(t, s, noon.Add(30*time.Minute), 9), "w1")
	same(t, dueBodies(t, s, noon.Add(time.Hour), 9), "e2", "w1")
}

func testSentKeepsReceipt(t *testing.T, h Harness) {
	s := h.open(t, nil)
	queueUp(t, s, plainParcel("east", "1"), plainParcel("east", "2"), plainParcel("east", "3"), plainParcel("west", "w"))
	first := idOf(t, s, "east")
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
	for _, id := range []uint64{0, first, 1 << 60} {
		wantErr(t, s.Sent(id, "live", []byte("m9")), store.ErrUnknown)
		wantErr(t, s.Delay(id, noon, ""), store.ErrUnknown)
		wantErr(t, s.Drop(id, ""), store.ErrUnknown)
	}
	if got, _, _ := s.Receipt("east", "live"); string(got) != "m3" {
		t.Errorf("a refused mark changed the receipt to %q", got)
	}
}

func testDrop(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	queueUp(t, s, plainParcel("east", "1"), urgentParcel("east", "2"), plainParcel("east", "3"))
	urgent := idOf(t, s, "east")
	must(t, s.Drop(urgent, "403"))
	same(t, dueBodies(t, s, noon, 9), "1")
	plain := idOf(t, s, "east")
	must(t, s.Drop(plain, "400"))
	same(t, dueBodies(t, s, noon, 9), "3")
	wantErr(t, s.Drop(plain, "again"), store.ErrUnknown)
	var got []string
	var numbers []uint64
	must(t, s.Dead(0, func(n uint64, d store.Dead) error {
		numbers = append(numbers, n)
		got = append(got, fmt.Sprint(d.Kind, " ", d.Key, " ", d.Chat, " ", d.Why, " ", string(d.Body)))
		return nil
	}))
	same(t, got, fmt.Sprint("parcel ", urgent, " east 403 2"), fmt.Sprint("parcel ", plain, " east 400 1"))
	if len(numbers) != 2 || !(0 < numbers[0] && numbers[0] < numbers[1]) {
		t.Fatalf("numbers %v, want them to rise", numbers)
	}
	must(t, s.Dead(numbers[0], func(n uint64, _ store.Dead) error {
		if n != numbers[1] {
			t.Errorf("number %d comes after %d, want %d", n, numbers[0], numbers[1])
		}
		return nil
	}))
}

func testDeadInOrderAndPruned(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	const n = 150
	for i := range n {
		queueUp(t, s, plainParcel("c", fmt.Sprint(i)))
		clock.t = clock.t.Add(time.Minute)
		must(t, s.Drop(idOf(t, s, "c"), "why"))
	}
	bodies := func() (got []string) {
		last := uint64(0)
		must(t, s.Dead(0, func(n uint64, d store.Dead) error {
			if n <= last {
				t.Errorf("number %d comes after %d", n, last)
			}
			last = n
			got = append(got, string(d.Body))
			return nil
		}))
		return got
	}
	if got := bodies(); len(got) != n || got[0] != "0" || got[n-1] != fmt.Sprint(n-1) {
		t.Errorf("%d dead: %v", len(got), got)
	}
	removed, err := s.PruneDead(noon.Add(100 * time.Minute))
	must(t, err)
	if got := bodies(); removed != 99 || len(got) != n-99 || got[0] != "99" {
		t.Errorf("%d removed, left %v; want the 99 of before that minute gone", removed, got)
	}
}

func testRekey(t *testing.T, h Harness) {
	s := h.open(t, nil)
	accept1(t, s, "k1", "old", "1")
	accept1(t, s, "k2", "new", "2")
	accept1(t, s, "k3", "old", "3")
	queueUp(t, s, plainParcel("old", "o0"), plainParcel("new", "n0"))
	must(t, s.Sent(idOf(t, s, "old"), "live", []byte("m-old")))
	must(t, s.Sent(idOf(t, s, "new"), "live", []byte("m-new")))
	queueUp(t, s, plainParcel("old", "p1"), plainParcel("new", "p2"), urgentParcel("old", "STOP"), plainParcel("old", "p3"))
	urgent := idOf(t, s, "old") // goes, so that the one behind it can be put off
	must(t, s.Sent(urgent, "", nil))
	must(t, s.Delay(idOf(t, s, "old"), noon.Add(time.Minute), "moved"))
	queueUp(t, s, urgentParcel("old", "STOP"))

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
		_, err = s.Commit(store.Turn{Update: a.Key})
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
	wantErr(t, s.Rekey("", "new"), store.ErrName)
	wantErr(t, s.Rekey("new", ""), store.ErrName)
}

func testForget(t *testing.T, h Harness) {
	s := h.open(t, nil)
	for _, chat := range []string{"east", "west"} {
		accept1(t, s, "k"+chat, chat, "x")
		must(t, s.Bury("k"+chat, "why"))
		queueUp(t, s, plainParcel(chat, "1"), plainParcel(chat, "2"), plainParcel(chat, "farewell"))
		must(t, s.Sent(idOf(t, s, chat), "live", []byte("m")))
		must(t, s.Drop(idOf(t, s, chat), "why"))
	}
	must(t, s.Forget("east"))
	must(t, s.Dead(0, func(_ uint64, d store.Dead) error {
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
