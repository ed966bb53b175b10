package etcd

import (
	"context"
	"fmt"
	"sync"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"
)

// Done marks go with leases: the members remove them by their own clocks, so no
// clock of ours that leaps can open the door to a repeat, and nobody has to sweep.
// A lease holds the marks of a stretch of time, so that they go some at a
// time. A lease that outlives its process does its work all the same; a change of the members'
// leader begins its time anew, which is longer and never shorter.
type marks struct {
	mu    sync.Mutex
	id    clientv3.LeaseID
	until time.Time // the next one is due; by the monotonic clock
}

// stretches is how many leases the marks of Options.Keep are spread over.
const stretches = 240

// lease returns the lease for a mark made now.
func (m *marks) lease(s *Store) (clientv3.LeaseID, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.id != 0 && time.Now().Before(m.until) {
		return m.id, nil
	}
	if err := s.usable(); err != nil {
		return 0, err
	}
	stretch := max(s.o.Keep/stretches, time.Second)
	ctx, cancel := context.WithTimeout(s.ctx, s.o.Wait)
	defer cancel()
	begun := time.Now()
	id, err := s.grant(ctx, s.o.Keep+stretch)
	if err != nil {
		return 0, fmt.Errorf("a lease for done marks: %w", err)
	}
	m.id, m.until = id, begun.Add(stretch)
	return id, nil
}

// drop forgets a lease that has run out.
func (m *marks) drop(id clientv3.LeaseID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.id == id {
		m.id = 0
	}
}

// grant makes a lease. One whose answer was lost holds nothing and runs out.
func (s *Store) grant(ctx context.Context, d time.Duration) (clientv3.LeaseID, error) {
	seconds := int64((d + time.Second - 1) / time.Second)
	wait := firstBackoff
	for tries := 0; ; tries++ {
		one, end := s.try(ctx, tries)
		resp, err := s.client.Grant(one, seconds)
		end()
		if err == nil {
			return resp.ID, nil
		}
		if definite(err) {
			return 0, plain(err)
		}
		s.counts.retries.Add(1)
		if !rest(ctx, wait) {
			return 0, s.gaveUp(err)
		}
		wait = min(2*wait, mostBackoff)
	}
}
