package etcd

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"linetender/store"
)

// until waits for cond.
func until(t testing.TB, what string, cond func() bool) {
	t.Helper()
	late := time.After(patience)
	for !cond() {
		select {
		case <-late:
			t.Fatalf("it never came to pass: %s", what)
		case <-time.After(5 * time.Millisecond): // looks again; nothing depends on how often
		}
	}
}

func join(t testing.TB, address string) *Replica {
	t.Helper()
	s, err := Open(address, Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := s.Join("test", 2*time.Second)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = r.Close() })
	return r
}

func (r *Replica) holding() (n int) {
	for i := range Shards {
		r.mu.Lock()
		if r.owns(i, time.Now()) {
			n++
		}
		r.mu.Unlock()
	}
	return n
}

// settled reports whether all chats are dealt out evenly, each to one.
func settled(replicas ...*Replica) bool {
	all := 0
	for _, r := range replicas {
		n := r.holding()
		if n < Shards/len(replicas) || n > Shards/len(replicas)+1 {
			return false
		}
		all += n
	}
	return all == Shards
}

// Chats are dealt to the replicas that live: evenly, each chat to one, all of them to
// somebody; what one leaves, in good order or not, goes to the others.
func TestReplicasShareTheChats(t *testing.T) {
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	a := join(t, address)
	until(t, "one replica holds all", func() bool { return settled(a) })
	b, c := join(t, address), join(t, address)
	until(t, "three share", func() bool { return settled(a, b, c) })

	var arrivals []store.Arrival
	var parcels []store.Parcel
	var chats []string
	for i := range 50 {
		chat := fmt.Sprint("telegram/", i)
		chats = append(chats, chat)
		arrivals = append(arrivals, arrival(fmt.Sprint("k", i), chat))
		parcels = append(parcels, store.Parcel{Chat: chat, Urgent: i == 49, Body: []byte(chat)})
	}
	must(t, a.Accept("test", 1, arrivals))
	_, err := b.Commit(store.Turn{Outbox: parcels})
	must(t, err)
	seen := func(replicas ...*Replica) func() bool {
		return func() bool {
			var waiting, due, looked []string
			for _, r := range replicas {
				own, err := r.Chats()
				must(t, err)
				waiting = append(waiting, own...)
				out, err := r.Due(time.Now(), 100, nil)
				must(t, err)
				for i, d := range out {
					due = append(due, d.Chat)
					if d.Urgent != (d.Chat == chats[49]) || d.Urgent && i != 0 {
						t.Errorf("the urgent parcel is not the first: %v", out)
					}
				}
				must(t, r.Waiting(func(a store.Arrival) bool { looked = append(looked, a.Chat); return true }))
				for _, chat := range own {
					if _, ok, err := r.Next(chat); !ok || err != nil {
						t.Errorf("nothing is next in %s: %v", chat, err)
					}
				}
			}
			want := slices.Sorted(slices.Values(chats))
			for _, got := range [][]string{waiting, due, looked} {
				slices.Sort(got)
				if !slices.Equal(got, want) {
					return false
				}
			}
			return true
		}
	}
	until(t, "each chat shows in one replica", seen(a, b, c))
	must(t, c.Close())
	until(t, "two share what the third left", func() bool { return settled(a, b) })
	until(t, "each chat shows in one of two", seen(a, b))

	// Died: nobody hands over, the lease runs out.
	b.end()
	until(t, "one holds what the dead one held", func() bool { return settled(a) })
	until(t, "each chat shows in the last", seen(a))
	if n := figure(a, "shards_taken_total"); n < Shards {
		t.Errorf("%v shards taken, want at least all of them", n)
	}
}

// A shard that has a replica's name on it is that replica's though the answer was lost by which it
// was taken: nobody else would ever take it.
func TestNoShardIsOrphaned(t *testing.T) {
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	a := join(t, address)
	until(t, "it holds all", func() bool { return settled(a) })
	a.mu.Lock()
	delete(a.held, 7)
	a.notify()
	a.mu.Unlock()
	b := join(t, address)
	until(t, "two share all", func() bool { return settled(a, b) })
}

// What is under way when a chat goes over is waited for, and not for ever.
func TestWhatIsUnderWayIsWaitedFor(t *testing.T) {
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	a := join(t, address)
	until(t, "it holds all", func() bool { return settled(a) })
	var parcels []store.Parcel
	for n := range 200 {
		parcels = append(parcels, store.Parcel{Chat: fmt.Sprint("chat", n), Body: []byte("x")})
	}
	for list := range slices.Chunk(parcels, 100) {
		_, err := a.Commit(store.Turn{Outbox: list})
		must(t, err)
	}
	due, err := a.Due(time.Now(), 200, nil) // all of it is being sent
	must(t, err)
	if len(due) != 200 {
		t.Fatalf("%d due, want 200", len(due))
	}
	b := join(t, address)
	marked := 0
	until(t, "the other has its share", func() bool {
		// As calls come back, and only then, chats go over; the last of them hang.
		if marked < 150 {
			if got, err := b.Due(time.Now(), 200, nil); err != nil {
				t.Fatal(err)
			} else if len(got) > 0 && marked == 0 {
				t.Errorf("%d parcels show in the other while they are being sent", len(got))
			}
			must(t, a.Sent(due[marked].ID, "", nil))
			marked++
		}
		return settled(a, b)
	})
}

// A replica that hears nothing more from etcd lets go before another takes over.
func TestReplicaLetsGoInTime(t *testing.T) {
	c := oneMember(t)
	g, err := newGate(c.doors[0])
	must(t, err)
	defer g.close()
	name := fmt.Sprint("t", names.Add(1))
	a := join(t, "etcd://"+g.address()+"/"+name)
	until(t, "it holds all", func() bool { return settled(a) })
	b := join(t, c.address(name))
	until(t, "two share", func() bool { return settled(a, b) })
	for round, stop := range []func(bool){g.freeze, g.cut} {
		stop(true)
		until(t, "the other holds all", func() bool {
			if got := b.holding(); got > Shards/2 && a.holding() > 0 {
				t.Errorf("round %d: both rely on what one may hold", round)
			}
			return settled(b)
		})
		stop(false)
		until(t, "two share again", func() bool { return settled(a, b) })
	}
	if figure(a, "leases_lapsed_total") < 2 {
		t.Error("no lease of it ran out")
	}
}

func TestLead(t *testing.T) {
	address := oneMember(t).address(fmt.Sprint("t", names.Add(1)))
	a, b := join(t, address), join(t, address)
	began := make(chan string, 10)
	ended := make(chan error, 2)
	work := func(name string) func(context.Context) error {
		return func(ctx context.Context) error {
			began <- name
			<-ctx.Done()
			return nil
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	go func() { ended <- a.Lead(ctx, "poll", work("a")) }()
	if first := <-began; first != "a" {
		t.Fatalf("%s leads, and only a asked", first)
	}
	go func() { ended <- b.Lead(ctx, "poll", work("b")) }()
	a.end()
	if next := <-began; next != "b" {
		t.Fatalf("%s leads after a has died", next)
	}
	cancel()
	for range 2 {
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}
	// Work that ends by itself gives the post back.
	odd := errors.New("odd")
	c := join(t, address)
	if err := c.Lead(t.Context(), "poll", func(context.Context) error { return odd }); err != odd {
		t.Errorf("got %v, want what work returns", err)
	}
	if err := b.Lead(t.Context(), "poll", func(context.Context) error { return nil }); err != nil {
		t.Error(err)
	}
}

func figure(r *Replica, name string) float64 {
	for _, f := range r.Figures() {
		if f.Name == name {
			return f.Value
		}
	}
	return -1
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

var noon = time.Date(2026, 11, 25, 12, 0, 0, 5, time.UTC)

func arrival(key, chat string) store.Arrival {
	return store.Arrival{Key: key, Chat: chat, At: noon, Body: []byte(key)}
}
