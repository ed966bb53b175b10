package contract

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/store"
)

func testAcceptKeepsOrderAndSkipsRepeats(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	must(t, s.Accept("a", 11, []store.Arrival{arrival("k1", "east", "1"), arrival("k2", "west", "2"), arrival("k1", "east", "again")}))
	must(t, s.Accept("a", 0, []store.Arrival{arrival("k2", "west", "again"), arrival("k3", "east", "3")}))

	chats, err := s.Chats()
	must(t, err)
	if want := []string{"east", "west"}; !slices.Equal(chats, want) {
		t.Errorf("chats %q, want %q", chats, want)
	}
	next, ok, err := s.Next("east")
	must(t, err)
	if !ok || next.Key != "k1" || string(next.Body) != "1" || next.Chat != "east" || !next.At.Equal(noon) {
		t.Errorf("next of east is %+v, %v", next, ok)
	}
	_, err = s.Commit(store.Turn{Update: "k1"})
	must(t, err)
	must(t, s.Accept("a", 0, []store.Arrival{arrival("k1", "east", "after it was done")}))
	if next, _, _ = s.Next("east"); next.Key != "k3" {
		t.Errorf("next of east is %q, want k3", next.Key)
	}
	if chats, _ = s.Chats(); !slices.Equal(chats, []string{"west", "east"}) {
		t.Errorf("chats %q: west has waited longest now", chats)
	}
	if _, ok, err := s.Next("north"); ok || err != nil {
		t.Errorf("a chat with nothing waiting: %v, %v", ok, err)
	}
	cursor, at, err := s.Cursor("a")
	must(t, err)
	if cursor != 11 || !at.Equal(noon) {
		t.Errorf("cursor %d at %v, want 11 at %v: 0 leaves it", cursor, at, noon)
	}
}

func testCursorMayGoBack(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	cursor, at, err := s.Cursor("a")
	must(t, err)
	if cursor != 0 || !at.IsZero() {
		t.Errorf("cursor of an unknown source is %d at %v", cursor, at)
	}
	for _, want := range []int64{900, 7, -3} {
		clock.t = clock.t.Add(time.Hour)
		must(t, s.Accept("a", want, nil))
		if cursor, at, err = s.Cursor("a"); err != nil || cursor != want || !at.Equal(clock.t) {
			t.Errorf("cursor %d at %v, %v; want %d at %v", cursor, at, err, want, clock.t)
		}
	}
	if cursor, _, _ = s.Cursor("b"); cursor != 0 {
		t.Errorf("source b has the cursor of a")
	}
}

func testAcceptRefusesNames(t *testing.T, h Harness) {
	s := h.open(t, nil)
	long := strings.Repeat("n", store.MaxName+1)
	for _, a := range []store.Arrival{arrival("", "c", ""), arrival("k", "", ""), arrival(long, "c", ""), arrival("k", long, "")} {
		wantErr(t, s.Accept("a", 5, []store.Arrival{arrival("fine", "c", ""), a}), store.ErrName)
	}
	wantErr(t, s.Accept("", 5, nil), store.ErrName)
	if chats, _ := s.Chats(); len(chats) != 0 {
		t.Errorf("part of a refused batch was kept: %q", chats)
	}
	if c, _, _ := s.Cursor("a"); c != 0 {
		t.Error("the cursor of a refused batch was set")
	}
	longest := long[:store.MaxName]
	must(t, s.Accept(longest, 1, []store.Arrival{arrival(longest, longest, "")}))
	if a, ok, err := s.Next(longest); !ok || err != nil || a.Key != longest {
		t.Errorf("the longest name does not come back: %v, %v", ok, err)
	}
}

// Names that are the beginning of one another, or hold zero bytes, stay apart.
func testNamesStayApart(t *testing.T, h Harness) {
	s := h.open(t, nil)
	names := []string{"a", "a\x00", "a\x00\x00", "aa", "\x00", "\xff", "\xff\xff", "1", "10", strings.Repeat("a", 256)}
	for i, n := range names {
		accept1(t, s, n, n, fmt.Sprint(i))
		_, err := s.Commit(store.Turn{Chat: n, Writes: []store.Write{{Stream: n, Entries: lines(fmt.Sprint(i))}}, Outbox: []store.Parcel{{Body: []byte(n)}}})
		must(t, err)
	}
	for i, n := range names {
		if a, _, _ := s.Next(n); string(a.Body) != fmt.Sprint(i) {
			t.Errorf("chat %q has %q", n, a.Body)
		}
		if got := contents(t, s, n, 0); len(got) != 1 || got[0] != fmt.Sprint(i) {
			t.Errorf("stream %q has %q", n, got)
		}
	}
	if chats, err := s.Chats(); err != nil || !slices.Equal(chats, names) {
		t.Errorf("chats %q, %v", chats, err)
	}
	if due, err := s.Due(noon, 100, nil); err != nil || len(due) != len(names) {
		t.Errorf("%d due, %v, want one a chat", len(due), err)
	}
}

func testBury(t *testing.T, h Harness) {
	clock := &hands{noon}
	s := h.open(t, clock.now)
	accept1(t, s, "k1", "east", "poison")
	accept1(t, s, "k2", "east", "fine")
	must(t, s.Bury("k1", "panicked three times"))
	if a, _, _ := s.Next("east"); a.Key != "k2" {
		t.Errorf("next is %q: the buried one is still in the way", a.Key)
	}
	wantErr(t, s.Bury("k1", "again"), store.ErrDone)
	wantErr(t, s.Bury("k9", "never came"), store.ErrUnknown)
	_, err := s.Commit(store.Turn{Update: "k1"})
	wantErr(t, err, store.ErrDone)
	accept1(t, s, "k1", "east", "redelivered")
	if a, _, _ := s.Next("east"); a.Key != "k2" {
		t.Errorf("a buried update came back")
	}
	var got []store.Dead
	must(t, s.Dead(0, func(_ uint64, d store.Dead) error { got = append(got, d); return nil }))
	if len(got) != 1 || got[0].Kind != store.DeadUpdate || got[0].Key != "k1" || got[0].Chat != "east" ||
		got[0].Why != "panicked three times" || string(got[0].Body) != "poison" || !got[0].At.Equal(noon) {
		t.Errorf("the dead are %+v", got)
	}
}

// More in one batch than a store may take in one of its transactions.
func testAcceptManyAtOnce(t *testing.T, h Harness) {
	s := h.open(t, nil)
	var batch []store.Arrival
	for i := range 100 {
		batch = append(batch, arrival(fmt.Sprint("k", i), fmt.Sprint("chat", i%3), fmt.Sprint(i)))
	}
	must(t, s.Accept("a", 100, batch[:70]))
	must(t, s.Accept("a", 101, batch))
	for i := range batch {
		chat := fmt.Sprint("chat", i%3)
		a, ok, err := s.Next(chat)
		must(t, err)
		if !ok || a.Key != batch[i].Key {
			t.Fatalf("next of %s is %q, %v, want %s", chat, a.Key, ok, batch[i].Key)
		}
		_, err = s.Commit(store.Turn{Update: a.Key})
		must(t, err)
	}
	if c, _, _ := s.Cursor("a"); c != 101 {
		t.Errorf("cursor %d, want 101", c)
	}
}
