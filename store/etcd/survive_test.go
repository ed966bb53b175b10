package etcd

import (
	"fmt"
	"math/rand/v2"
	"net/http/httptest"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"

	"linetender/flow/telegram/apitest"
	"linetender/store"
)

// A troop is three replicas of the program, each a process, in front of a cluster. Between
// each and every member is a gate.
type troop struct {
	t        testing.TB
	c        *cluster
	srv      *apitest.Server
	lb       *balancer
	replicas []*child
	gates    [][]*gate // by replica, by member
	term     time.Duration
	figures  map[string]float64 // of those that ended in good order
}

func newTroop(t testing.TB, c *cluster, srv *apitest.Server, n int) *troop {
	t.Helper()
	tr := &troop{t: t, c: c, srv: srv, lb: newBalancer(), replicas: make([]*child, n), gates: make([][]*gate, n), term: 2 * time.Second, figures: map[string]float64{}}
	for i := range n {
		for _, door := range c.doors {
			g, err := newGate(door)
			must(t, err)
			tr.gates[i] = append(tr.gates[i], g)
		}
	}
	for i := range n {
		must(t, tr.start(i))
	}
	return tr
}

func (tr *troop) start(i int) error {
	address := "etcd://"
	for j, g := range tr.gates[i] {
		if j > 0 {
			address += ","
		}
		address += g.address()
	}
	p, err := play("replica", replicaTask{Name: fmt.Sprint("r", i), Address: address + "/crew", Server: tr.srv.URL(), Token: tr.srv.Token(), Term: tr.term})
	if err != nil {
		return err
	}
	tr.replicas[i] = p
	at, err := p.says("serving")
	if err != nil {
		return fmt.Errorf("replica %d: %w", i, err)
	}
	tr.lb.set(i, at)
	return nil
}

// end ends all in good order.
func (tr *troop) end() {
	for i, p := range tr.replicas {
		_ = p.in.Close()
		for l := range p.line {
			var name string
			var value float64
			if n, _ := fmt.Sscanf(l, "figure %s %f", &name, &value); n == 2 {
				tr.figures[name] += value
			} else {
				tr.t.Errorf("replica %d said %q", i, l)
			}
		}
		if err := p.cmd.Wait(); err != nil {
			tr.t.Errorf("replica %d: %v", i, err)
		}
	}
	tr.lb.server.Close()
	for _, row := range tr.gates {
		for _, g := range row {
			g.close()
		}
	}
}

// explain tells what there is to tell when work is left undone.
func (tr *troop) explain(s *Store) {
	holders := map[string]string{}
	_, err := s.all(s.key("l/", ""), func(kv *mvccpb.KeyValue) error {
		holders[string(kv.Key[len(s.key("l/", "")):])] = string(kv.Value)
		return nil
	})
	tr.t.Logf("%d holdings, %v", len(holders), err)
	for key, holder := range holders {
		if strings.HasPrefix(key, "r/") {
			tr.t.Logf("alive: %s", holder)
		}
	}
	s.mirror.mu.Lock()
	for name, c := range s.mirror.chats {
		tr.t.Logf("chat %s of shard %d, held by %q: %d in, %d urgent, %d plain", name, shard(name), holders[shardKey(shard(name))], len(c.in), len(c.urgent), len(c.plain))
		for _, r := range append(c.in, c.plain...) {
			tr.t.Logf("  %q made at %d, last changed at %d", r.key, r.created, r.mod)
		}
	}
	s.mirror.mu.Unlock()
	for _, p := range tr.replicas {
		_ = p.cmd.Process.Signal(syscall.SIGQUIT) // writes where it stands
		for range p.line {
		}
	}
}

// A blow is one thing that goes wrong and is made good again.
type blow struct {
	name string
	hit  func(tr *troop, n int) error
}

// blows in the order in which they strike, n counting the rounds.
var blows = []blow{
	{"a member is killed", func(tr *troop, n int) error {
		i := n % len(tr.c.members)
		tr.c.kill(i)
		<-time.After(time.Second)
		return tr.c.start(i)
	}},
	{"a replica is killed", func(tr *troop, n int) error {
		i := n % len(tr.replicas)
		tr.replicas[i].kill()
		tr.lb.set(i, "")
		<-time.After(tr.term)
		return tr.start(i)
	}},
	{"a member is cut off from the others", func(tr *troop, n int) error {
		i := (n + 1) % len(tr.c.members)
		tr.c.apart(i, true)
		<-time.After(3 * time.Second)
		tr.c.apart(i, false)
		return nil
	}},
	{"a replica is cut off from all members", func(tr *troop, n int) error {
		i := (n + 1) % len(tr.replicas)
		for _, g := range tr.gates[i] {
			g.cut(true)
		}
		<-time.After(2 * tr.term)
		for _, g := range tr.gates[i] {
			g.cut(false)
		}
		return nil
	}},
	{"what goes between a replica and the members is held back", func(tr *troop, n int) error {
		i := (n + 2) % len(tr.replicas)
		for _, g := range tr.gates[i] {
			g.freeze(true)
		}
		<-time.After(2 * tr.term)
		for _, g := range tr.gates[i] {
			g.freeze(false)
		}
		return nil
	}},
	{"a member and a replica are killed at once, and a replica loses the way to a member", func(tr *troop, n int) error {
		i, j := (n+2)%len(tr.c.members), (n+2)%len(tr.replicas)
		tr.gates[n%len(tr.replicas)][(n+1)%len(tr.c.members)].freeze(true)
		tr.c.kill(i)
		tr.replicas[j].kill()
		tr.lb.set(j, "")
		<-time.After(tr.term)
		tr.gates[n%len(tr.replicas)][(n+1)%len(tr.c.members)].freeze(false)
		if err := tr.c.start(i); err != nil {
			return err
		}
		return tr.start(j)
	}},
}

// stopAll has every seat call a stop and waits until each has heard it.
func stopAll(t testing.TB, srv *apitest.Server, seats []*apitest.Seat, hook string) {
	t.Helper()
	for _, s := range seats {
		s.Say("stop")
	}
	for srv.Pending() > 0 {
		srv.Deliver(t.Context(), hook, apitest.Delivery{Parallel: 8})
	}
	for _, s := range seats {
		srv.Wait("the stop", func() bool { return strings.Contains(srv.Last(s.Chat()).Text, "STOP") })
	}
}

// TestReplicasSurvive: three members, three replicas, people who talk in many chats and a channel
// that delivers in parallel, each update twice and in any order, while members and
// replicas are killed and networks come apart, one after the other. Every job ends as in one
// process on a file without a fault, nothing is lost, nothing has its effect twice, and in
// every chat everything is said, in order.
func TestReplicasSurvive(t *testing.T) {
	waves, chats := campaign(12, 20, 60), campaign(12, 16, 50)
	const parts, calmWaves = 10, 3 // to see what the machine takes when nothing goes wrong
	lines := talk(t)

	// Without a fault, in one process, on a file.
	calmServer := apitest.New(t)
	file, err := store.Open(t.TempDir(), store.Options{})
	must(t, err)
	one, err := newTroupe(file, calmServer.URL(), calmServer.Token())
	must(t, err)
	hook := httptest.NewServer(one.hook)
	calm := seatsAt(calmServer, min(parts, chats))
	for n := range waves {
		wave(t.Context(), calmServer, calm, lines, n, parts, hook.URL, apitest.Delivery{Parallel: 1})
	}
	quiet(t, file, func() {})
	stopAll(t, calmServer, calm, hook.URL)
	quiet(t, file, func() {})
	hook.Close()
	must(t, one.end())
	want, _ := ends(t, file)
	must(t, file.Close())
	wantTold := told(calmServer)

	began := time.Now()
	c, err := newCluster(t.TempDir(), 3, nil)
	must(t, err)
	t.Cleanup(c.stop)
	srv := apitest.New(t)
	tr := newTroop(t, c, srv, 3)
	t.Logf("three members and three replicas serve after %v", time.Since(began).Round(10*time.Millisecond))
	s := open(t, c.address("crew"), Options{Wait: 30 * time.Second})
	watch := newPatrol(s)
	seats := seatsAt(srv, chats)
	struck := make(chan error, 1)
	struck <- nil
	hits, posts := 0, 0
	begin := time.Now()
	watch.note("nothing goes wrong")
	for n := range waves {
		select {
		case err := <-struck:
			must(t, err)
			if n < calmWaves {
				struck <- nil
				break
			}
			b, round := blows[hits%len(blows)], hits/len(blows)
			hits++
			go func() {
				watch.note(b.name)
				struck <- b.hit(tr, round)
			}()
		default: // the last one is not over
		}
		beat := time.After(time.Duration(min(n, calmWaves)/calmWaves) * 2 * time.Second) // so that each blow meets some waves
		posts += wave(t.Context(), srv, seats, lines, n, parts, tr.lb.server.URL, apitest.Delivery{Parallel: 8, Copies: 2, Shuffle: rand.Uint64()})
		<-beat
	}
	must(t, <-struck)
	quiet(t, s, func() { tr.explain(s) })
	watch.note("a member and a replica are killed as everybody calls a stop")
	go func() { struck <- blows[len(blows)-1].hit(tr, hits) }()
	stopAll(t, srv, seats, tr.lb.server.URL)
	must(t, <-struck)
	quiet(t, s, func() { tr.explain(s) })
	took := time.Since(begin)
	longest := watch.end(t)
	tr.end()

	got, turns := ends(t, s)
	if len(want) != min(parts, chats) || len(got) != chats {
		t.Fatalf("%d and %d chats have a job, want %d and %d", len(want), len(got), min(parts, chats), chats)
	}
	gotTold := told(srv)
	twice, said := 0, 0
	for i := range chats {
		chat, like := int64(firstSeat+i), int64(firstSeat+i%parts)
		if g, w := got[fmt.Sprint("telegram/", chat)], want[fmt.Sprint("telegram/", like)]; g != w {
			t.Errorf("chat %d ends otherwise than without a fault: %s", chat, firstDifference(w, g))
		}
		n, err := again(wantTold[like], gotTold[chat])
		if err != nil {
			t.Errorf("chat %d: %v", chat, err)
		}
		twice += n
		said += len(gotTold[chat])
	}
	t.Logf("%d updates in %d chats, posted %d times; %d blows in %v; %d turns in jobs; %d messages, %d of them said again; "+
		"longest wait of an update for its turn %v, of a message %v", waves*chats, chats, posts, hits, took.Round(time.Second), turns, said, twice,
		longest.turn.Round(10*time.Millisecond), longest.send.Round(10*time.Millisecond))
	var names []string
	for name := range tr.figures {
		if !strings.HasSuffix(name, "_total") {
			continue
		}
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		t.Logf("%s %v", name, tr.figures[name])
	}
}
