package etcd

import (
	"context"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
)

// tend has one of the replicas see to it that the members forget what was changed long
// ago: they keep every value that a key ever had until they are told, up to their quota of space, and
// refuse all writes beyond it. Members that do so by themselves (--auto-compaction-retention) are not
// disturbed. What is forgotten is free for use again; the files shrink when their operator
// defragments them.
func (r *Replica) tend() {
	for r.ctx.Err() == nil {
		_ = r.Lead(r.ctx, "tend", r.forget) // it ends with the post, or with the store
	}
}

// forget compacts to the revision of some time ago, again and again.
func (r *Replica) forget(ctx context.Context) error {
	for {
		_, rev, err := r.readIn(ctx, clientv3.OpGet(r.key("m/", "format"), clientv3.WithCountOnly()))
		t := time.NewTimer(r.o.history)
		select {
		case <-ctx.Done():
			t.Stop()
			return ctx.Err()
		case <-t.C:
		}
		if err == nil {
			one, end := r.try(ctx, 0)
			_, _ = r.client.Compact(one, rev) // refused where it was done, or where this user may not
			end()
		}
	}
}
