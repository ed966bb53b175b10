package etcd

import (
	"context"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
)

// Lead runs work while this replica holds the post, of which there is one among all
// replicas: polling is one, because a channel gives its updates to one asker. It waits
// until the post is free, ends work when the lease has run out or may have, and waits
// again. It returns when ctx ends or work does so by itself, with what work returns.
func (r *Replica) Lead(ctx context.Context, post string, work func(context.Context) error) error {
	for ctx.Err() == nil && r.ctx.Err() == nil {
		if !r.assume(post) {
			r.await(ctx, r.term/2, nil)
			continue
		}
		own, cancel := context.WithCancel(ctx)
		ended := make(chan struct{})
		var err error
		go func() {
			defer close(ended)
			err = work(own)
		}()
		for r.leads(post) && r.await(ctx, r.term/10, ended) {
		}
		lost := !r.leads(post)
		cancel()
		<-ended
		if !lost || ctx.Err() != nil {
			r.resign(post)
			return err
		}
	}
	return nil
}

// await waits until who holds what has changed, or d has passed; false when ctx or what ended stands for is over.
func (r *Replica) await(ctx context.Context, d time.Duration, ended <-chan struct{}) bool {
	r.mu.Lock()
	changed := r.changed
	r.mu.Unlock()
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-changed:
		return true
	case <-t.C:
		return true
	case <-ctx.Done():
	case <-r.ctx.Done():
	case <-ended:
	}
	return false
}

// assume takes the post if it is free.
func (r *Replica) assume(post string) bool {
	r.mu.Lock()
	lease, holder := r.lease, r.holders["p/"+post]
	r.mu.Unlock()
	if lease == 0 || holder != "" && holder != r.name {
		return false
	}
	key := r.key("l/p/", post)
	out, err := r.apply(change{
		when:   []clientv3.Cmp{absent(key)},
		then:   []clientv3.Op{clientv3.OpPut(key, r.name, clientv3.WithLease(lease))},
		look:   []clientv3.Op{clientv3.OpGet(key)},
		landed: harmless,
	})
	if err != nil || !out.done && (len(out.found[0].Kvs) == 0 || string(out.found[0].Kvs[0].Value) != r.name) {
		return false
	}
	r.mu.Lock()
	r.holders["p/"+post] = r.name
	r.mu.Unlock()
	return r.leads(post)
}

// leads reports whether the post counts as held now.
func (r *Replica) leads(post string) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.lease != 0 && r.holders["p/"+post] == r.name && time.Now().Before(r.until)
}

func (r *Replica) resign(post string) {
	key := r.key("l/p/", post)
	_, _ = r.apply(change{ // else it goes with the lease
		when: []clientv3.Cmp{clientv3.Compare(clientv3.Value(key), "=", r.name)}, then: []clientv3.Op{clientv3.OpDelete(key)}, landed: harmless,
	})
}

// Notify has arrived called when something may have arrived for the desk, and posted when something
// may have come into the outbox, by this replica or another. Neither may block.
func (s *Store) Notify(arrived, posted func()) {
	s.mirror.onChange(func(a, p bool) {
		if a {
			arrived()
		}
		if p {
			posted()
		}
	})
}

// OnTake has taken called when chats have come to this replica that were another's. It may not block.
func (r *Replica) OnTake(taken func()) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.onTake = append(r.onTake, taken)
}
