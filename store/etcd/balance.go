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
	tick := time.NewTicker(r.term / 5)
	defer tick.Stop()
	for {
		for _, n := range r.surplus() {
			r.release(n)
		}
		took := false
		for _, n := range r.missing() {
			took = r.take(n) || took
		}
		if took {
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

// surplus begins to let go of what is beyond this replica's share, and returns what has been let go
// of for long enough: what was under way when it stopped showing has had time to end, so that it
// isn't sent by two.
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
			r.leaving[n] = now
		case now.Sub(since) >= r.term/2:
			ripe = append(ripe, n)
		}
		over--
	}
	return ripe
}

func (r *Replica) release(n int) {
	key := r.key("l/", shardKey(n))
	_, err := r.apply(change{
		when:   []clientv3.Cmp{clientv3.Compare(clientv3.Value(key), "=", r.name)},
		then:   []clientv3.Op{clientv3.OpDelete(key)},
		landed: harmless,
	})
	if err != nil {
		return // it stays ours, and is let go of at the next look
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.held[n] {
		r.lose(n)
	}
	delete(r.holders, shardKey(n))
}

// missing returns free shards to take, as many as this replica lacks.
func (r *Replica) missing() (free []int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	lack := r.share() - len(r.held)
	if r.lease == 0 || lack <= 0 {
		return nil
	}
	// Replicas begin in different places, so that they seldom reach for the same.
	from := shard(r.name)
	for i := range Shards {
		n := (from + i) % Shards
		holder := r.holders[shardKey(n)]
		// One with our name on it that we don't know of was taken while the list was read.
		if (holder == "" || holder == r.name) && !r.held[n] && len(free) < lack {
			free = append(free, n)
		}
	}
	return free
}

func (r *Replica) take(n int) bool {
	r.mu.Lock()
	lease := r.lease
	r.mu.Unlock()
	key := r.key("l/", shardKey(n))
	out, err := r.apply(change{
		when:   []clientv3.Cmp{absent(key)},
		then:   []clientv3.Op{clientv3.OpPut(key, r.name, clientv3.WithLease(lease))},
		look:   []clientv3.Op{clientv3.OpGet(key)},
		landed: harmless,
	})
	if err != nil {
		return false
	}
	// Ours by a try whose answer was lost, it is found with our name on it.
	ours := out.done || len(out.found[0].Kvs) > 0 && string(out.found[0].Kvs[0].Value) == r.name && clientv3.LeaseID(out.found[0].Kvs[0].Lease) == lease
	r.mu.Lock()
	defer r.mu.Unlock()
	if !ours || r.lease != lease {
		return false
	}
	r.held[n] = true
	r.holders[shardKey(n)] = r.name
	r.counts.taken.Add(1)
	return true
}
