package etcd

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/calc"
	"linetender/flow"
	"linetender/flow/wording"
	"linetender/store"
)

// A turn as the conversation makes them: what was heard and what was said, a
// summary, and an answer.
var (
	benchEntry = bytes.Repeat([]byte("e"), 600)
	benchHead  = bytes.Repeat([]byte("h"), 250)
	benchBody  = bytes.Repeat([]byte("b"), 400)
)

func threeMembers(b *testing.B) *cluster {
	b.Helper()
	c, err := newCluster(b.TempDir(), 3, nil)
	must(b, err)
	b.Cleanup(c.stop)
	return c
}

// BenchmarkTurn gives a turn against a bare transaction that puts the same bytes under keys of the
// same kind and compares one, the two by turns, so that both meet the same members and disks. Three
// members, all synced. Taking in the update and marking the answer sent are not counted.
func BenchmarkTurn(b *testing.B) {
	const chats = 1000
	s := open(b, threeMembers(b).address("bench"), Options{})
	bare := func(i int) {
		var ops []clientv3.Op
		for j, v := range [][]byte{benchEntry, benchEntry, benchHead, benchBody, []byte(fmt.Sprintf("telegram:7:%09d", i))} {
			ops = append(ops, clientv3.OpPut(fmt.Sprintf("bare/chat%d/%09d/%d", i%chats, i, j), string(v)))
		}
		_, err := s.client.Txn(b.Context()).If(absent(fmt.Sprintf("bare/chat%d/%09d/0", i%chats, i))).Then(ops...).Commit()
		must(b, err)
	}
	last := make([]uint64, chats)
	var ours, theirs time.Duration
	i := 0
	for b.Loop() {
		c := i * 7919 % chats
		chat, key := fmt.Sprint("chat", c), fmt.Sprintf("telegram:7:%09d", i)
		must(b, s.Accept("telegram:7", int64(i), []store.Arrival{{Key: key, Chat: chat, At: noon, Body: benchBody}}))
		turn := store.Turn{Update: key, Chat: chat, Outbox: []store.Parcel{{Body: benchBody}},
			Writes: []store.Write{{Stream: chat, After: last[c], Entries: [][]byte{benchEntry, benchEntry}, Head: benchHead}}}
		// Which comes first alternates: each leaves the members something to do.
		start := time.Now()
		if i%2 == 0 {
			bare(i)
			theirs += time.Since(start)
			start = time.Now()
		}
		n, err := s.Commit(turn)
		must(b, err)
		ours += time.Since(start)
		if i%2 == 1 {
			start = time.Now()
			bare(i)
			theirs += time.Since(start)
		}
		last[c] = n[0]
		i++
		due, err := s.Due(noon, 1, nil)
		must(b, err)
		must(b, s.Sent(due[0].ID, "live", []byte("12345")))
	}
	b.ReportMetric(float64(ours)/float64(theirs), "x-bare")
	b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N), "ns/turn")
	b.ReportMetric(0, "ns/op") // it counts both, and the rest: of no use to anyone
}

// plain is an arrival's text as the input of somebody's own chat.
func plainInput(a flow.Arrival) (flow.Input, bool, error) {
	return flow.Input{Text: string(a.Body), At: a.At, Person: flow.Person{ID: a.Chat}, Direct: true}, true, nil
}

// desks gives every arrival its turn at as many desks with the real engine, and returns how long that took.
func desks(b *testing.B, count func() (store.Stats, error), pools ...pool) time.Duration {
	b.Helper()
	ctx, cancel := context.WithCancel(b.Context())
	defer cancel()
	var running sync.WaitGroup
	begin := time.Now()
	for _, p := range pools {
		d := &flow.Desk{Log: p, Inbox: p, Decode: plainInput,
			Engine: &flow.Engine{Reckon: calc.Reckon, Words: wording.English(), Random: rand.IntN, Anyone: true}}
		if r, ok := p.(*Replica); ok {
			r.Notify(d.Wake, func() {})
		}
		running.Go(func() {
			if err := d.Run(ctx); err != nil {
				b.Error(err)
			}
		})
	}
	until(b, "all have had their turn", func() bool {
		n, err := count()
		must(b, err)
		return n.Waiting == 0
	})
	took := time.Since(begin)
	cancel()
	running.Wait()
	return took
}

// BenchmarkReplicas gives turns a second with 1, 2 and 4 replicas on three members, and on a file, of real
// conversations in 100 chats that have said it all already. All of it shares one machine, so that it shows what
// replicas cost there, not what they bring where each has a machine of its own.
func BenchmarkReplicas(b *testing.B) {
	c := threeMembers(b)
	lines := talk(b)
	const chats, each = 100, 10
	fill := func(accept func(string, int64, []store.Arrival) error) {
		for n := range each {
			var batch []store.Arrival
			for i := range chats {
				batch = append(batch, store.Arrival{Key: fmt.Sprint("k", i, "/", n), Chat: fmt.Sprint("chat", i), At: noon.Add(time.Duration(n) * time.Minute),
					Body: []byte(lines[(i%10*131+n)%len(lines)])})
			}
			must(b, accept("bench", int64(n+1), batch))
		}
	}
	b.Run("file", func(b *testing.B) {
		var took time.Duration
		for b.Loop() {
			s, err := store.Open(b.TempDir(), store.Options{})
			must(b, err)
			fill(s.Accept)
			took += desks(b, s.Stats, s)
			must(b, s.Close())
		}
		b.ReportMetric(float64(b.N*chats*each)/took.Seconds(), "turns/s")
	})
	for _, n := range []int{1, 2, 4} {
		b.Run(fmt.Sprint("replicas=", n), func(b *testing.B) {
			var took time.Duration
			for b.Loop() {
				address := c.address(fmt.Sprint("b", names.Add(1)))
				var all []*Replica
				var pools []pool
				for range n {
					r := join(b, address)
					all, pools = append(all, r), append(pools, r)
				}
				until(b, "the chats are shared", func() bool { return settled(all...) })
				fill(all[0].Accept)
				took += desks(b, all[0].Stats, pools...)
				for _, r := range all {
					must(b, r.Close())
				}
			}
			b.ReportMetric(float64(b.N*chats*each)/took.Seconds(), "turns/s")
		})
	}
}
