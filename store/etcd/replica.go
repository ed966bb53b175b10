package etcd

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"maps"
	"sync"
	"time"

	"go.etcd.io/etcd/api/v3/v3rpc/rpctypes"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// Shards is how many parts the chats are dealt into, by a hash of their names. A
// replica holds parts, not chats: so a turn costs no lease, a new chat costs nothing, and
// what a dead replica held is taken over with as many transactions as it held parts, be
// it ten chats or ten thousand. It is part of the format: all replicas must deal alike.
const Shards = 64

// DefaultTerm is how long a replica may be silent before others take its chats.
const DefaultTerm = 5 * time.Second

// A Replica is one of several that work on a store. Each holds some of the shards by a
// lease, and what is in the others doesn't show: in Chats, Next, Waiting and Due it sees its
// own chats only. Everything else is as of a Store, for chats of all.
//
// A replica relies on what it holds only until four fifths of the lease's term after its last
// renewal began, by its own clock, so that it has let go before another can take over.
type Replica struct {
	*Store
	name string // no other replica, before or after, has it
	term time.Duration

	mu      sync.Mutex
	lease   clientv3.LeaseID        // 0 while there is none
	until   time.Time               // what is held counts before this
	held    map[int]bool            // shards
	leaving map[int]time.Time       // of these, what is let go of, and since when
	out     map[int]map[string]bool // by shard, the rows that were handed out to be worked on or sent
	holders map[string]string       // as the watch tells: key below l/ → replica
	changed chan struct{}           // closed and replaced whenever any of these changes
	kick    chan struct{}
	onTake  []func()
	ends    sync.Once
}

// Join makes this process one of the replicas of the store. name is for people; term is
// how long it may be silent before others take its chats, 0 for that of the address or DefaultTerm. Closing the
// replica closes the store and hands over at once.
func (s *Store) Join(name string, term time.Duration) (*Replica, error) {
	term = cmp.Or(term, s.address.term, DefaultTerm)
	if term < time.Second {
		return nil, fmt.Errorf("a term of %v: it is a second or more", term)
	}
	r := &Replica{
		Store: s, name: name + "/" + token(), term: term,
		held: map[int]bool{}, leaving: map[int]time.Time{}, out: map[int]map[string]bool{}, holders: map[string]string{},
		changed: make(chan struct{}), kick: make(chan struct{}, 1),
	}
	rev, err := r.load()
	if err != nil {
		return nil, fmt.Errorf("join the replicas: %w", err)
	}
	ctx, cancel := context.WithTimeout(s.ctx, s.o.Wait)
	defer cancel()
	if err := r.enter(ctx); err != nil {
		return nil, fmt.Errorf("join the replicas: %w", err)
	}
	s.follow(s.key("l/", ""), rev, r.load, r.hear, nil)
	s.running.Go(r.renew)
	s.running.Go(r.balance)
	s.running.Go(r.tend)
	return r, nil
}

// Close hands over what this replica holds and closes the store.
func (r *Replica) Close() error {
	r.ends.Do(func() {
		r.mu.Lock()
		lease := r.lease
		r.lapse()
		r.mu.Unlock()
		if lease != 0 && !r.closed.Load() {
			ctx, cancel := context.WithTimeout(r.ctx, time.Second)
			_, _ = r.client.Revoke(ctx, lease) // else it runs out
			cancel()
		}
	})
	return r.Store.Close()
}

// shard is the part of a chat.
func shard(chat string) int {
	h := fnv.New32a()
	_, _ = h.Write([]byte(chat))
	return int(h.Sum32() % Shards)
}

// Owns reports whether this replica works on a chat now.
func (r *Replica) Owns(chat string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.owns(shard(chat), time.Now())
}

func (r *Replica) owns(n int, now time.Time) bool {
	_, leaving := r.leaving[n]
	return r.held[n] && !leaving && now.Before(r.until)
}

// own returns a filter for this moment: one lock for a look at many chats.
func (r *Replica) own() func(chat string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := time.Now()
	var mine [Shards]bool
	for n := range mine {
		mine[n] = r.owns(n, now)
	}
	return func(chat string) bool { return mine[shard(chat)] }
}

// Chats returns the replica's own chats that have something waiting, the one that has
// waited longest first.
func (r *Replica) Chats() ([]string, error) { return r.chats(r.own()) }

// Next returns the arrival of a chat that has waited longest; none in a chat that is not
// the replica's own.
func (r *Replica) Next(chat string) (store.Arrival, bool, error) {
	if !r.Owns(chat) {
		return store.Arrival{}, false, r.usable()
	}
	a, ok, err := r.Store.Next(chat)
	if ok {
		r.handOut(chat, r.key("w/i/", a.Key))
	}
	return a, ok, err
}

// Waiting shows the arrivals that wait in the replica's own chats.
func (r *Replica) Waiting(visit func(store.Arrival) bool) error { return r.waiting(r.own(), visit) }

// Due returns what is due in the replica's own chats.
func (r *Replica) Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error) {
	own := r.own()
	due, err := r.due(now, limit, func(chat string) bool { return !busy[chat] && own(chat) })
	for _, d := range due {
		if row, err := r.unsent(d.ID); err == nil {
			r.handOut(d.Chat, row.key)
		}
	}
	return due, err
}

// Delay is of a Store; the parcel is back.
func (r *Replica) Delay(id uint64, until time.Time, why string) error {
	err := r.Store.Delay(id, until, why)
	if row, known := r.unsent(id); known == nil && err == nil {
		r.mu.Lock()
		delete(r.out[shard(row.chat)], row.key)
		r.mu.Unlock()
	}
	return err
}

// handOut notes a row that is now being worked on, or may be. It is back when it is gone.
func (r *Replica) handOut(chat, key string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	n := shard(chat)
	if r.out[n] == nil || len(r.out[n]) > mostOut {
		r.out[n] = map[string]bool{}
	}
	r.out[n][key] = true
}

// mostOut is when what was handed out of a shard, most of it long back, is forgotten.
const mostOut = 1000

// enter gets a lease and says by it that this replica is alive.
func (r *Replica) enter(ctx context.Context) error {
	begun := time.Now()
	lease, err := r.grant(ctx, r.term)
	if err != nil {
		return err
	}
	key := r.key("l/r/", r.name)
	if _, err := r.apply(change{then: []clientv3.Op{clientv3.OpPut(key, r.name, clientv3.WithLease(lease))}, landed: harmless}); err != nil {
		return err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.lease, r.until = lease, begun.Add(r.term*4/5)
	r.holders["r/"+r.name] = r.name
	r.notify()
	return nil
}

// renew keeps the lease alive, and gets a new one when it has run out.
func (r *Replica) renew() {
	for r.pause(r.term / 4) {
		for ok := false; !ok && r.ctx.Err() == nil; {
			if ok = r.renewOnce(); !ok {
				rest(r.ctx, 50*time.Millisecond)
			}
		}
	}
}

func (r *Replica) renewOnce() bool {
	r.mu.Lock()
	lease := r.lease
	r.mu.Unlock()
	ctx, cancel := context.WithTimeout(clientv3.WithRequireLeader(r.ctx), max(r.term/4, 500*time.Millisecond))
	defer cancel()
	if lease == 0 {
		return r.enter(ctx) == nil
	}
	begun := time.Now()
	_, err := r.client.KeepAliveOnce(ctx, lease)
	r.mu.Lock()
	defer r.mu.Unlock()
	switch {
	case err == nil:
		if r.lease == lease {
			r.until = begun.Add(r.term * 4 / 5)
		}
		return true
	case errors.Is(err, rpctypes.ErrLeaseNotFound):
		r.counts.lapsed.Add(1)
		r.lapse()
	}
	return false
}

// lapse forgets all that went with the lease; the caller holds mu.
func (r *Replica) lapse() {
	r.counts.lost.Add(int64(len(r.held)))
	r.lease, r.until = 0, time.Time{}
	clear(r.held)
	clear(r.leaving)
	clear(r.out)
	maps.DeleteFunc(r.holders, func(_, holder string) bool { return holder == r.name })
	r.notify()
}

// pause waits for d; false when the store is closed.
func (r *Replica) pause(d time.Duration) bool {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-r.ctx.Done():
		return false
	case <-t.C:
		return true
	}
}

// notify tells all that look; the caller holds mu.
func (r *Replica) notify() {
	close(r.changed)
	r.changed = make(chan struct{})
	select {
	case r.kick <- struct{}{}:
	default:
	}
}
