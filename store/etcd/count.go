package etcd

import (
	"fmt"
	"strings"
	"sync/atomic"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// counts are what happened since the store was opened.
type counts struct {
	retries   atomic.Int64 // requests made again
	conflicts atomic.Int64 // transactions whose conditions did not hold
	resolved  atomic.Int64 // changes whose answer was lost and that had been made
	reloads   atomic.Int64 // times that what waits was read anew
	heard     atomic.Int64 // when a watch last spoke, in ns of the Unix time
	taken     atomic.Int64 // shards taken
	lost      atomic.Int64 // shards lost or let go
	lapsed    atomic.Int64 // leases of this replica that ran out
}

// Figure is one figure for whoever watches over the store.
type Figure = struct {
	Name  string
	Help  string
	Rises bool // it counts, and only goes up
	Value float64
}

// Figures returns what happened since the store was opened.
func (s *Store) Figures() []Figure {
	c := &s.counts
	count := func(name, help string, n *atomic.Int64) Figure { return Figure{name, help, true, float64(n.Load())} }
	lag := 0.0
	if at := c.heard.Load(); at != 0 {
		lag = max(0, time.Since(time.Unix(0, at)).Seconds())
	}
	return []Figure{
		count("etcd_retries_total", "Requests to the etcd members that were made again.", &c.retries),
		count("etcd_conflicts_total", "Transactions that another writer was ahead of.", &c.conflicts),
		count("etcd_resolved_total", "Changes whose answer was lost and that were found to be made.", &c.resolved),
		count("etcd_reloads_total", "Times that what waits was read anew.", &c.reloads),
		{"etcd_lag_seconds", "How long the members' watch has said nothing; it is asked every second.", false, lag},
	}
}

// Stats counts what the store holds now. Size and Free are of the member that answers first.
func (s *Store) Stats() (st store.Stats, err error) {
	var ops []clientv3.Op
	for _, kind := range []string{"s/", "x/", "d/"} {
		ops = append(ops, clientv3.OpGet(s.key(kind, ""), clientv3.WithPrefix(), clientv3.WithCountOnly()))
	}
	got, _, err := s.read(ops...)
	if err != nil {
		return store.Stats{}, fmt.Errorf("count the store: %w", err)
	}
	st.Streams, st.Dead, st.Marks = int(got[0].Count), int(got[1].Count), int(got[2].Count)
	if err := s.countWaiting(&st); err != nil {
		return store.Stats{}, fmt.Errorf("count the store: %w", err)
	}
	for _, endpoint := range s.client.Endpoints() {
		ctx, end := s.try(s.ctx, 0)
		member, err := s.client.Status(ctx, endpoint)
		end()
		if err == nil {
			st.Size, st.Free = member.DbSize, member.DbSize-member.DbSizeInUse
			break
		}
	}
	return st, nil
}

func (s *Store) countWaiting(st *store.Stats) error {
	m := s.mirror
	if err := m.look(); err != nil {
		return err
	}
	defer m.mu.Unlock()
	var oldest *row
	for _, c := range m.chats {
		st.Waiting += len(c.in)
		st.Unsent += len(c.urgent) + len(c.plain)
		st.UnsentUrgent += len(c.urgent)
		if len(c.urgent)+len(c.plain) > 0 {
			st.UnsentChats++
		}
		if len(c.in) > 0 {
			st.WaitingChats++
			if oldest == nil || c.in[0].id() < oldest.id() {
				oldest = c.in[0]
			}
		}
	}
	if oldest != nil {
		st.OldestWaiting = oldest.arrival.At
	}
	return nil
}

// Figures adds what this replica holds, and what it took and lost.
func (r *Replica) Figures() []Figure {
	c := &r.counts
	r.mu.Lock()
	now, held, replicas := time.Now(), 0, 0
	for n := range r.held {
		if r.owns(n, now) {
			held++
		}
	}
	for key := range r.holders {
		if strings.HasPrefix(key, "r/") {
			replicas++
		}
	}
	r.mu.Unlock()
	return append(r.Store.Figures(),
		Figure{"replicas", "Replicas that are alive, as this one sees it.", false, float64(replicas)},
		Figure{"shards", fmt.Sprintf("Of the %d parts that the chats are dealt into, those that are this replica's.", Shards), false, float64(held)},
		Figure{"shards_taken_total", "Parts that this replica took.", true, float64(c.taken.Load())},
		Figure{"shards_lost_total", "Parts that this replica lost or let go.", true, float64(c.lost.Load())},
		Figure{"leases_lapsed_total", "Leases of this replica that ran out before it renewed them.", true, float64(c.lapsed.Load())},
	)
}
