package etcd

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc"

	"linetender/store"
	"linetender/store/contract"
)

// whole is all that can be seen of a store, but for the names of parcels and the numbers of the dead.
func whole(t *testing.T, s contract.Store, secrets ...string) string {
	t.Helper()
	var b strings.Builder
	must(t, s.Streams("", "", false, func(name string, head []byte, last uint64, changed time.Time) error {
		fmt.Fprintf(&b, "stream %q %q %d %v\n", name, head, last, changed)
		return nil
	}))
	// Those written anew have a later place.
	lines := strings.Split(b.String(), "\n")
	slices.Sort(lines)
	b.Reset()
	b.WriteString(strings.Join(lines, "\n"))
	for i := range 40 {
		name := fmt.Sprint("job/", i)
		must(t, s.Replay(name, 0, func(n uint64, e []byte) error {
			fmt.Fprintf(&b, "%s %d %q\n", name, n, e)
			return nil
		}))
	}
	for _, source := range []string{"telegram/7", "telegram/7/now/-5", "none"} {
		cursor, at, err := s.Cursor(source)
		must(t, err)
		fmt.Fprintln(&b, source, cursor, at)
	}
	chats, err := s.Chats()
	must(t, err)
	slices.Sort(chats)
	for _, chat := range chats {
		a, _, err := s.Next(chat)
		must(t, err)
		fmt.Fprintf(&b, "next of %s: %s %s %v\n", chat, a.Key, a.Body, a.At)
	}
	due, err := s.Due(noon.AddDate(1, 0, 0), 1000, nil)
	must(t, err)
	for _, d := range due {
		fmt.Fprintf(&b, "due in %s: %v %s\n", d.Chat, d.Urgent, d.Body)
	}
	must(t, s.Dead(0, func(_ uint64, d store.Dead) error {
		fmt.Fprintf(&b, "dead %s %s %s %s %v %s\n", d.Kind, d.Key, d.Chat, d.Why, d.At, d.Body)
		return nil
	}))
	for i := range 40 {
		receipt, ok, err := s.Receipt(fmt.Sprint("chat", i), "live")
		must(t, err)
		fmt.Fprintf(&b, "receipt %q %v\n", receipt, ok)
	}
	for _, name := range secrets {
		v, err := s.Secret(name, nil)
		must(t, err)
		fmt.Fprintf(&b, "secret %s %q\n", name, v)
	}
	n, err := s.Stats()
	must(t, err)
	fmt.Fprintln(&b, n.Streams, n.Waiting, n.Unsent, n.UnsentUrgent, n.Dead)
	return b.String()
}

// TestMove: while somebody works on the file, a copy of it is brought over ahead; then all of it, twice, with
// answers that are lost on the way. What was done stays done, and all is here as it is there.
func TestMove(t *testing.T) {
	at := noon
	from, err := store.Open(t.TempDir(), store.Options{Now: func() time.Time { at = at.Add(time.Second); return at }})
	must(t, err)
	defer from.Close()
	update := 0
	say := func(i int, entries ...string) {
		t.Helper()
		update++
		key, name, chat := fmt.Sprint("telegram/7/", update), fmt.Sprint("job/", i), fmt.Sprint("chat", i)
		must(t, from.Accept("telegram/7", int64(update), []store.Arrival{{Key: key, Chat: chat, At: at, Body: []byte(key)}}))
		_, last, err := from.Head(name)
		must(t, err)
		turn := store.Turn{Update: key, Chat: chat, Writes: []store.Write{{Stream: name, After: last, Head: []byte(fmt.Sprint("head ", update))}}, Outbox: []store.Parcel{{Body: []byte(key)}}}
		for _, e := range entries {
			turn.Writes[0].Entries = append(turn.Writes[0].Entries, []byte(e))
		}
		_, err = from.Commit(turn)
		must(t, err)
		due, err := from.Due(noon, 1, nil)
		must(t, err)
		must(t, from.Sent(due[0].ID, "live", []byte(fmt.Sprint("m", update))))
	}
	for i := range 30 {
		say(i, "a", "b", "c")
	}
	say(3, strings.Repeat("long ", 200_000), strings.Repeat("long ", 200_000))

	th := newThief(0)
	to := fresh(t, Options{Wait: patience, dial: []grpc.DialOption{grpc.WithChainUnaryInterceptor(th.unary)}})
	th.often = 0.1
	m, err := to.Ahead(from)
	must(t, err)
	if m.Streams != 30 || m.Entries != 92 || m.Anew != 0 {
		t.Errorf("ahead: %+v, want 30 streams and 92 entries", m)
	}

	for i := 20; i < 35; i++ {
		say(i, "d")
	}
	must(t, from.Redact(store.Write{Stream: "job/5", After: 3}, map[uint64][]byte{2: []byte("-")}))
	must(t, from.Erase("job/6"))
	must(t, from.Accept("telegram/7/now/-5", -6, []store.Arrival{arrival("k1", "chat1"), arrival("k2", "chat1"), arrival("k3", "chat2")}))
	must(t, from.Bury("k2", "why"))
	_, err = from.Commit(store.Turn{Chat: "chat1", Outbox: []store.Parcel{{Body: []byte("1")}, {Body: []byte("2")}, {Chat: "chat2", Urgent: true, Body: []byte("STOP")}}})
	must(t, err)
	must(t, from.SetSecret("telegram/webhook", []byte("agreed")))

	for round := range 2 {
		m, err = to.Move(from)
		must(t, err)
		want := Moved{Streams: 34, Rest: m.Rest}
		if round == 0 {
			want = Moved{Streams: 34, Entries: 15 + 3, Anew: 1, Gone: 1, Rest: m.Rest}
		}
		if m != want {
			t.Errorf("round %d: %+v, want %+v", round, m, want)
		}
		if here, there := whole(t, to, "telegram/webhook"), whole(t, from, "telegram/webhook"); here != there {
			t.Errorf("round %d: %s", round, firstDifference(there, here))
		}
	}
	for i := 1; i <= update; i++ {
		must(t, to.Accept("telegram/7", 0, []store.Arrival{arrival(fmt.Sprint("telegram/7/", i), "again")}))
	}
	if _, ok, err := to.Next("again"); ok || err != nil {
		t.Errorf("what was done there is done again here: %v", err)
	}
	if th.stole["answer"] == 0 {
		t.Error("no answer was lost: this shows little")
	}
}
