package etcd

import (
	"context"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
)

// follow watches a prefix from after rev on, until the store is closed. When the watch ends, or
// falls silent, or again says so, load reads everything and a new watch begins.
func (s *Store) follow(prefix string, rev int64, load func() (int64, error), heard func(clientv3.WatchResponse), again <-chan struct{}) {
	s.running.Go(func() {
		for wait := firstBackoff; s.ctx.Err() == nil; {
			if rev != 0 {
				s.watch(prefix, rev, heard, again)
			}
			if s.ctx.Err() != nil {
				return
			}
			var err error
			if rev, err = load(); err == nil {
				s.counts.reloads.Add(1)
				wait = firstBackoff
			} else {
				rev = 0
				rest(s.ctx, wait)
				wait = min(2*wait, mostBackoff)
			}
		}
	})
}

// A watch that says nothing for silence, though it is asked every ask, is taken
// for dead.
const (
	ask     = time.Second
	silence = 3 * time.Second
)

// watch hands what a watch says to heard until it ends. Its stream is its own, so
// that a new one may lead to another member.
func (s *Store) watch(prefix string, rev int64, heard func(clientv3.WatchResponse), again <-chan struct{}) {
	ctx, cancel := context.WithCancel(clientv3.WithRequireLeader(s.ctx))
	w := clientv3.NewWatcher(s.client)
	defer func() {
		cancel()
		_ = w.Close() // it has nothing to say but that it was cancelled
	}()
	said := w.Watch(ctx, prefix, clientv3.WithPrefix(), clientv3.WithRev(rev+1))
	tick := time.NewTicker(ask)
	defer tick.Stop()
	for last := time.Now(); ; {
		select {
		case <-s.ctx.Done():
			return
		case <-again:
			return
		case resp, ok := <-said:
			if !ok || resp.Err() != nil {
				return
			}
			last = time.Now()
			s.counts.heard.Store(last.UnixNano())
			heard(resp)
		case <-tick.C:
			if time.Since(last) > silence {
				return
			}
			// The answer comes as a response without events.
			_ = w.RequestProgress(ctx)
		}
	}
}
