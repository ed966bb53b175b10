package etcd

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// A change is one transaction.
type change struct {
	when []clientv3.Cmp // must all hold
	then []clientv3.Op  // is done then
	look []clientv3.Op  // is read when they don't

	// landed finds out whether this very change was made, after its answer was
	// lost, or after it was refused on a second try, which its own first try
	// may be the cause of. It returns the revision at which it was seen to be, or 0.
	// harmless is for a change that may as well be made again.
	landed func(ctx context.Context) (rev int64, err error)
}

// An outcome is what became of a change.
type outcome struct {
	done   bool
	rev    int64                   // of the change, or of what look read
	traced bool                    // the change is known by its traces only, and rev may be later
	found  []*clientv3.GetResponse // what look read
}

func harmless(context.Context) (int64, error) { return 0, nil }

// apply makes a change once, whatever becomes of the answers. It goes on trying
// for Options.Wait.
func (s *Store) apply(c change) (outcome, error) {
	if err := s.usable(); err != nil {
		return outcome{}, err
	}
	if err := s.fits(c); err != nil {
		return outcome{}, err
	}
	ctx, cancel := context.WithTimeout(s.ctx, s.o.Wait)
	defer cancel()
	var lost error // of the last try
	tries := 0
	for wait := firstBackoff; ; tries++ {
		if lost != nil {
			s.counts.retries.Add(1)
			if !rest(ctx, wait) {
				return outcome{}, s.gaveUp(lost)
			}
			wait = min(2*wait, mostBackoff)
			rev, err := c.landed(ctx)
			if err != nil {
				lost = err
				continue
			}
			if rev != 0 {
				return s.traced(rev), nil
			}
		}
		one, end := s.try(ctx, tries)
		resp, err := s.client.Txn(one).If(c.when...).Then(c.then...).Else(c.look...).Commit()
		end()
		switch {
		case err == nil && resp.Succeeded:
			return outcome{done: true, rev: resp.Header.Revision}, nil
		case err == nil:
			if lost != nil {
				if rev, err := c.landed(ctx); err != nil {
					lost = err
					continue
				} else if rev != 0 {
					return s.traced(rev), nil
				}
			}
			s.counts.conflicts.Add(1)
			return outcome{rev: resp.Header.Revision, found: found(resp)}, nil
		case definite(err):
			return outcome{}, plain(err)
		}
		lost = err
	}
}

func (s *Store) traced(rev int64) outcome {
	s.counts.resolved.Add(1)
	return outcome{done: true, rev: rev, traced: true}
}

// shown has every later look show what a change put in.
func (s *Store) shown(out outcome) {
	if out.traced {
		// The watch may have told of it already, and may now say nothing for long.
		s.mirror.refresh()
	}
	s.mirror.expect(out.rev)
}

// fits refuses what the members would refuse.
func (s *Store) fits(c change) error {
	if n := max(len(c.when), len(c.then), len(c.look)); n > s.o.Ops {
		return fmt.Errorf("%d parts where %d are taken: %w", n, s.o.Ops, ErrLarge)
	}
	size := 0
	for _, op := range c.then {
		size += len(op.KeyBytes()) + len(op.ValueBytes()) + 32
	}
	if size > s.o.Bytes-spareBytes {
		return fmt.Errorf("%d bytes where %d are taken: %w", size, s.o.Bytes-spareBytes, ErrLarge)
	}
	return nil
}

// try bounds one request, and has a member refuse it at once that has lost the others. A
// request that was made in vain gets more time, in case it is the way that is slow.
func (s *Store) try(ctx context.Context, tries int) (context.Context, context.CancelFunc) {
	return context.WithTimeout(clientv3.WithRequireLeader(ctx), s.o.Try<<min(tries, 3))
}

func (s *Store) gaveUp(last error) error {
	if s.ctx.Err() != nil {
		return fmt.Errorf("%s: %w", s.address, store.ErrClosed)
	}
	if err := plain(last); errors.Is(err, ErrAway) {
		return err
	}
	return fmt.Errorf("%w (%w)", ErrAway, last)
}

// rest waits for about d; false when ctx ends first.
func rest(ctx context.Context, d time.Duration) bool {
	t := time.NewTimer(d/2 + rand.N(d))
	defer t.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-t.C:
		return true
	}
}

func found(resp *clientv3.TxnResponse) (all []*clientv3.GetResponse) {
	for _, r := range resp.Responses {
		all = append(all, (*clientv3.GetResponse)(r.GetResponseRange()))
	}
	return all
}

// read runs gets over one state of the store, and tries as long as apply does.
func (s *Store) read(ops ...clientv3.Op) ([]*clientv3.GetResponse, int64, error) {
	if err := s.usable(); err != nil {
		return nil, 0, err
	}
	ctx, cancel := context.WithTimeout(s.ctx, s.o.Wait)
	defer cancel()
	return s.readIn(ctx, ops...)
}

func (s *Store) readIn(ctx context.Context, ops ...clientv3.Op) ([]*clientv3.GetResponse, int64, error) {
	wait := firstBackoff
	for tries := 0; ; tries++ {
		all, rev, err := s.readOnce(ctx, ops, tries)
		if err == nil {
			return all, rev, nil
		}
		if definite(err) {
			return nil, 0, plain(err)
		}
		s.counts.retries.Add(1)
		if !rest(ctx, wait) {
			return nil, 0, s.gaveUp(err)
		}
		wait = min(2*wait, mostBackoff)
	}
}

func (s *Store) readOnce(ctx context.Context, ops []clientv3.Op, tries int) ([]*clientv3.GetResponse, int64, error) {
	one, end := s.try(ctx, tries)
	defer end()
	if len(ops) == 1 {
		resp, err := s.client.Do(one, ops[0])
		if err != nil {
			return nil, 0, err
		}
		got := resp.Get()
		return []*clientv3.GetResponse{got}, got.Header.Revision, nil
	}
	resp, err := s.client.Txn(one).Then(ops...).Commit()
	if err != nil {
		return nil, 0, err
	}
	return found(resp), resp.Header.Revision, nil
}

// value returns the sound value of a read of one key, and its row; nil when there is none.
func (s *Store) value(got *clientv3.GetResponse) ([]byte, *mvccpb.KeyValue, error) {
	if len(got.Kvs) == 0 {
		return nil, nil, nil
	}
	v, err := s.unseal(string(got.Kvs[0].Key), got.Kvs[0].Value)
	return v, got.Kvs[0], err
}

// all walks the rows below a full key in order of key, as they are at one revision, a page at a time.
// What visit gets is its own.
func (s *Store) all(prefix string, visit func(kv *mvccpb.KeyValue) error, opts ...clientv3.OpOption) (rev int64, err error) {
	const page = 500
	end := clientv3.GetPrefixRangeEnd(prefix)
	for from := prefix; ; {
		o := append([]clientv3.OpOption{clientv3.WithRange(end), clientv3.WithLimit(page)}, opts...)
		if rev != 0 {
			o = append(o, clientv3.WithRev(rev))
		}
		got, at, err := s.read(clientv3.OpGet(from, o...))
		if err != nil {
			return 0, err
		}
		if rev == 0 {
			rev = at
		}
		for _, kv := range got[0].Kvs {
			if err := visit(kv); err != nil {
				return rev, err
			}
		}
		if !got[0].More {
			return rev, nil
		}
		from = string(got[0].Kvs[len(got[0].Kvs)-1].Key) + "\x00"
	}
}
