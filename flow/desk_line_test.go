package flow_test

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"testing/synctest"

	"linetender/flow"
)

// noting is a log that notes which updates were kept, in order.
type noting struct {
	*memory
	mu   sync.Mutex
	kept []string
}

func (n *noting) Commit(t flow.Turn) ([]uint64, error) {
	ids, err := n.memory.Commit(t)
	n.mu.Lock()
	defer n.mu.Unlock()
	if err == nil {
		n.kept = append(n.kept, t.Update)
	}
	return ids, err
}

// TestWhoSaysMuchKeepsNobodyWaiting: a chat with a long backlog has one turn, and then
// the others that wait have theirs.
func TestWhoSaysMuchKeepsNobodyWaiting(t *testing.T) {
	const talkers, others = 8, 100
	m := newMemory()
	d := newDesk(m)
	n := &noting{memory: m}
	d.Log = n
	var list []flow.Arrival
	for i := range talkers { // as many as could take all the hands there are
		for k := range 20 {
			list = append(list, plainArrival(k, fmt.Sprint("a", i), "note that"))
		}
	}
	for i := range others {
		list = append(list, plainArrival(0, fmt.Sprint("b", i), "/start"))
	}
	if err := m.Accept("test", 0, list); err != nil {
		t.Fatal(err)
	}
	synctest.Test(t, func(t *testing.T) {
		running(t, d, synctest.Wait)
	})
	if len(n.kept) != len(list) {
		t.Fatalf("%d turns of %d", len(n.kept), len(list))
	}
	heard := 0
	for _, key := range n.kept[:len(n.kept)-talkers*15] {
		if strings.HasPrefix(key, "b") {
			heard++
		}
	}
	// A hand that the machine itself keeps waiting may be late with the chat that it has.
	if heard < others-talkers {
		t.Errorf("%d of %d chats with one message each waited for those with twenty", others-heard, others)
	}
}

// TestWhatOnlyWaitsGivesItsPlaceAway: pictures that are long in coming, in more
// chats than there are hands, keep no other chat from its turn.
func TestWhatOnlyWaitsGivesItsPlaceAway(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		const chats = 40
		m := newMemory()
		d := newDesk(m)
		plain := d.Decode
		d.Decode = func(a flow.Arrival) (flow.Input, bool, error) {
			in, ok, err := plain(a)
			if in.Text == "photo" {
				in.Text, in.Other, in.Files = "", flow.OtherPhoto, []flow.File{{Kind: flow.OtherPhoto, ID: "f", Same: a.Key}}
			}
			return in, ok, err
		}
		come, waiting := make(chan struct{}), 0
		var mu sync.Mutex
		d.Complete = func(_ context.Context, in flow.Input) flow.Input {
			mu.Lock()
			waiting++
			mu.Unlock()
			<-come
			return in
		}
		running(t, d, func() {
			for i := range chats {
				arrive(t, d, m, plainArrival(1, fmt.Sprint("c", i), "/start"), plainArrival(2, fmt.Sprint("c", i), "photo"))
			}
			synctest.Wait()
			if waiting != chats {
				t.Errorf("%d pictures of %d are asked for", waiting, chats)
			}
			m.sent()
			arrive(t, d, m, plainArrival(1, "d", "/start"))
			synctest.Wait()
			if said := m.sent(); !says(said, "ask.people") {
				t.Errorf("while pictures are waited for, another chat hears %v", keys(said))
			}
			close(come)
			synctest.Wait()
		})
		if len(m.done) != 2*chats+1 {
			t.Errorf("%d turns had their effect", len(m.done))
		}
	})
}
