package etcd

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"
)

// load reads who holds what.
func (r *Replica) load() (int64, error) {
	fresh := map[string]string{}
	rev, err := r.all(r.key("l/", ""), func(kv *mvccpb.KeyValue) error {
		fresh[string(kv.Key[len(r.key("l/", "")):])] = string(kv.Value)
		return nil
	})
	if err != nil {
		return 0, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.holders = fresh
	for n := range r.held {
		if fresh[shardKey(n)] != r.name {
			r.lose(n)
		}
	}
	r.notify()
	return rev, nil
}

// hear takes in who takes and loses what.
func (r *Replica) hear(resp clientv3.WatchResponse) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, e := range resp.Events {
		key := string(e.Kv.Key[len(r.key("l/", "")):])
		if e.Type == clientv3.EventTypePut {
			r.holders[key] = string(e.Kv.Value)
			continue
		}
		delete(r.holders, key)
		var n int
		if _, err := fmt.Sscanf(key, "s/%d", &n); err == nil && r.held[n] {
			r.lose(n)
		}
	}
	if len(resp.Events) > 0 {
		r.notify()
	}
}

func (r *Replica) lose(n int) {
	r.counts.lost.Add(1)
	delete(r.held, n)
	delete(r.leaving, n)
}

func shardKey(n int) string { return fmt.Sprintf("s/%02d", n) }

// balance takes and lets go of shards until each living replica has its part.
func (r *Replica) balance() {
	tick := time.NewTicker(r.term / 10)
	defer tick.Stop()
	for {
		if ripe := r.surplus(); len(ripe) > 0 {
			r.release(ripe)
		}
		if r.take(r.missing()) {
			r.mirror.tell(true, true) // work that was another's is ours now
			r.mu.Lock()
			hooks := slices.Clone(r.onTake)
			r.mu.Unlock()
			for _, h := range hooks {
				h()
			}
		}
		select {
		case <-r.ctx.Done():
			return
		case <-r.kick:
		case <-tick.C:
		}
	}
}

// share is how many shards this replica should hold: as many as every other living one, and
// one more for the first of them where it doesn't come out even. The caller holds mu.
func (r *Replica) share() int {
	var alive []string
	for key := range r.holders {
		if name, ok := strings.CutPrefix(key, "r/"); ok {
			alive = append(alive, name)
		}
	}
	slices.Sort(alive)
	rank, ok := slices.BinarySearch(alive, r.name)
	if !ok {
		return 0 // not yet known to be alive, or no longer
	}
	n := Shards / len(alive)
	if rank < Shards%len(alive) {
		n++
	}
	return n
}

// surplus begins to let go of what is beyond this replica's share, and returns what may be let go of
// now: that of which nothing is under way that was begun before it stopped showing, so that nothing is
// worked on or sent by two; or for which that has taken too long.
func (r *Replica) surplus() (ripe []int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lease == 0 {
		return nil
	}
	now := time.Now()
	over := len(r.held) - r.share()
	for _, n := range slices.Sorted(maps.Keys(r.held)) {
		since, leaving := r.leaving[n]
		switch {
		case over <= 0:
			delete(r.leaving, n)
			continue
		case !leaving:
			since = now
			r.leaving[n] = now
		}
		if now.Sub(since) >= r.term/2 || r.idle(n) {
			ripe = append(ripe, n)
		}
		over--
	}
	return ripe
}

// idle reports whether nothing of a shard is out that has not come back; the caller holds mu.
func (r *Replica) idle(n int) bool {
	m := r.mirror
	m.mu.Lock()
	defer m.mu.Unlock()
	for key := range r.out[n] {
		if m.rows[key] != nil {
			return false
		}
	}
	delete(r.out, n)
	return true
}

// release gives shards back.
func (r *Replica) release(shards []int) {
	c := change{landed: harmless}
	for _, n := range shards {
		key := r.key("l/", shardKey(n))
		c.when = append(c.when, clientv3.Compare(clientv3.Value(key), "=", r.name))
		c.then = append(c.then, clientv3.OpDelete(key))
	}
	out, err := r.apply(c)
	if err == nil && !out.done && len(shards) > 1 {
		for _, n := range shards { // one of them is not ours any more
			r.release([]int{n})
		}
		return
	}
	if err != nil {
		return // they stay ours, and are let go of at the next look
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, n := range shards {
		if r.held[n] {
			r.lose(n)
		}
		if r.holders[shardKey(n)] == r.name {
			delete(r.holders, shardKey(n))
		}
	}
}

// missing returns shards to take: free ones, as many as this replica lacks, and such as have its
// name on them though it doesn't know of them, because the answer was lost, or the list that was read
// meanwhile was older. Nobody else would take those.
func (r *Replica) missing() (list []int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lease == 0 {
		return nil
	}
	lack := r.share() - len(r.held)
	// Replicas begin in different places, so that they seldom reach for the same.
	from := shard(r.name)
	for i := range Shards {
		n := (from + i) % Shards
		holder := r.holders[shardKey(n)]
		switch {
		case r.held[n]:
		case holder == r.name:
			list = append(list, n)
			lack--
		case holder == "" && lack > 0:
			list = append(list, n)
			lack--
		}
	}
	return list
}

// take makes shards this replica's, and reports whether it got any: all at once, else each by itself.
func (r *Replica) take(shards []int) (took bool) {
	if len(shards) == 0 {
		return false
	}
	r.mu.Lock()
	lease := r.lease
	r.mu.Unlock()
	c := change{landed: harmless}
	for _, n := range shards {
		key := r.key("l/", shardKey(n))
		c.when = append(c.when, absent(key))
		c.then = append(c.then, clientv3.OpPut(key, r.name, clientv3.WithLease(lease)))
		c.look = append(c.look, clientv3.OpGet(key))
	}
	out, err := r.apply(c)
	if err != nil {
		return false
	}
	if out.done {
		return r.got(shards, lease)
	}
	for i, n := range shards {
		switch kvs := out.found[i].Kvs; {
		case len(kvs) > 0 && string(kvs[0].Value) == r.name && clientv3.LeaseID(kvs[0].Lease) == lease:
			took = r.got([]int{n}, lease) || took
		case len(kvs) == 0 && len(shards) > 1:
			took = r.take([]int{n}) || took
		}
	}
	return took
}

// got notes what is held by a lease, if that is still this replica's.
func (r *Replica) got(shards []int, lease clientv3.LeaseID) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.lease != lease {
		return false
	}
	for _, n := range shards {
		if !r.held[n] {
			r.counts.taken.Add(1)
		}
		r.held[n] = true
		r.holders[shardKey(n)] = r.name
	}
	return true
}
