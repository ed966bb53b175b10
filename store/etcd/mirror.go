package etcd

import (
	"cmp"
	"fmt"
	"slices"
	"sync"
	"time"

	mvccpb "go.etcd.io/etcd/api/v3/mvccpb"
	clientv3 "go.etcd.io/etcd/client/v3"
)

// A mirror holds in memory what waits, in and out, as a watch tells it: in the order
// of etcd's revisions, and never one without those before it. What is new is taken
// from the watch alone, therefore, be it from this process: another may have been
// ahead. A look waits until the watch has told what this process has done.
//
// What this process takes out, and what it changes in its place, shows at once;
// the watch's later word of it, or any older one, changes nothing.
type mirror struct {
	s *Store

	mu    sync.Mutex
	rows  map[string]*row // by full key
	ids   map[uint64]*row // parcels
	chats map[string]*chat
	bad   map[string]error // what can't be read, by full key
	gone  map[string]int64 // deleted by this process, until the watch is past it
	rev   int64            // the watch has told all up to here
	own   int64            // this process has put in something at this revision
	moved chan struct{}    // closed and replaced whenever rev rises
	hooks []func(arrived, posted bool)
	again chan struct{} // asks for everything to be read anew
}

// chat is what waits of one chat, each in order.
type chat struct {
	in     []*row
	urgent []*row
	plain  []*row
}

func newMirror(s *Store) *mirror {
	m := &mirror{s: s, gone: map[string]int64{}, moved: make(chan struct{}), again: make(chan struct{}, 1)}
	m.clear()
	return m
}

func (m *mirror) clear() {
	m.rows, m.ids, m.chats, m.bad = map[string]*row{}, map[uint64]*row{}, map[string]*chat{}, map[string]error{}
}

func (m *mirror) prefix() string { return m.s.key("w/", "") }

// start reads what there is and follows it from there on.
func (m *mirror) start() error {
	rev, err := m.load()
	if err != nil {
		return err
	}
	m.s.follow(m.prefix(), rev, m.load, m.heard, m.again)
	return nil
}

// refresh asks for everything to be read anew.
func (m *mirror) refresh() {
	select {
	case m.again <- struct{}{}:
	default:
	}
}

// load reads what waits, and returns as of which revision.
func (m *mirror) load() (int64, error) {
	var fresh []row
	rev, err := m.s.all(m.prefix(), func(kv *mvccpb.KeyValue) error {
		fresh = append(fresh, m.s.readRow(kv))
		return nil
	})
	if err != nil {
		return 0, fmt.Errorf("read what waits: %w", err)
	}
	m.mu.Lock()
	there := make(map[string]bool, len(fresh))
	for _, r := range fresh {
		there[r.key] = true
		m.set(r)
	}
	for key, r := range m.rows {
		if !there[key] && r.mod <= rev {
			m.take(r)
		}
	}
	for key := range m.bad {
		if !there[key] {
			delete(m.bad, key)
		}
	}
	m.passed(rev)
	m.mu.Unlock()
	m.tell(true, true)
	return rev, nil
}

// heard takes in what the watch says.
func (m *mirror) heard(resp clientv3.WatchResponse) {
	arrived, posted := false, false
	m.mu.Lock()
	for _, e := range resp.Events {
		if e.Type == clientv3.EventTypeDelete {
			if r := m.rows[string(e.Kv.Key)]; r != nil && r.mod < e.Kv.ModRevision {
				m.take(r)
			}
			delete(m.bad, string(e.Kv.Key))
			// The next in line may be another's work now.
			arrived, posted = true, true
			continue
		}
		r := m.s.readRow(e.Kv)
		m.set(r)
		arrived, posted = arrived || r.arrival != nil, posted || r.parcel != nil
	}
	m.passed(resp.Header.GetRevision())
	m.mu.Unlock()
	if arrived || posted {
		m.tell(arrived, posted)
	}
}

// passed forgets deletions that the watch is past.
func (m *mirror) passed(rev int64) {
	if rev <= m.rev {
		return
	}
	m.rev = rev
	close(m.moved)
	m.moved = make(chan struct{})
	for key, at := range m.gone {
		if at <= m.rev {
			delete(m.gone, key)
		}
	}
}

func (m *mirror) tell(arrived, posted bool) {
	m.mu.Lock()
	hooks := slices.Clone(m.hooks)
	m.mu.Unlock()
	for _, h := range hooks {
		h(arrived, posted)
	}
}

func (m *mirror) onChange(h func(arrived, posted bool)) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.hooks = append(m.hooks, h)
}

// change takes in what a row has become in its place.
func (m *mirror) change(r row) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if old := m.rows[r.key]; old != nil && old.chat == r.chat {
		m.set(r)
	}
}

// expect has every look wait until the watch has told of a revision.
func (m *mirror) expect(rev int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.own = max(m.own, rev)
}

// look locks the mirror for a look, once it shows all that this process has done.
// On success the caller unlocks it.
func (m *mirror) look() error {
	if err := m.s.usable(); err != nil {
		return err
	}
	var late <-chan time.Time
	for {
		m.mu.Lock()
		if m.own <= m.rev {
			// Nothing is worked on past what can't be read: it might be what comes first.
			for _, err := range m.bad {
				m.mu.Unlock()
				return err
			}
			return nil
		}
		moved := m.moved
		m.mu.Unlock()
		if late == nil {
			t := time.NewTimer(2 * m.s.o.Try)
			defer t.Stop()
			late = t.C
		}
		select {
		case <-moved:
		case <-m.s.ctx.Done():
			return m.s.usable()
		case <-late:
			return fmt.Errorf("what waits is not known yet: %w", ErrAway)
		}
	}
}

// remove takes out a row that this process knows to be gone as of rev.
func (m *mirror) remove(key string, rev int64) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if r := m.rows[key]; r != nil && r.mod <= rev {
		m.take(r)
	}
	delete(m.bad, key)
	if rev > m.rev {
		m.gone[key] = max(m.gone[key], rev)
	}
}

func (m *mirror) set(r row) {
	if old := m.rows[r.key]; old != nil {
		if old.mod >= r.mod {
			return
		}
		m.take(old)
	}
	if m.gone[r.key] >= r.mod {
		return
	}
	if r.bad != nil {
		m.bad[r.key] = r.bad
		return
	}
	delete(m.bad, r.key)
	m.rows[r.key] = &r
	if r.parcel != nil {
		m.ids[r.id()] = &r
	}
	c := m.chats[r.chat]
	if c == nil {
		c = &chat{}
		m.chats[r.chat] = c
	}
	line := c.line(&r)
	i, _ := slices.BinarySearchFunc(*line, &r, byID)
	*line = slices.Insert(*line, i, &r)
}

func (m *mirror) take(r *row) {
	delete(m.rows, r.key)
	if r.parcel != nil {
		delete(m.ids, r.id())
	}
	c := m.chats[r.chat]
	line := c.line(r)
	if i, ok := slices.BinarySearchFunc(*line, r, byID); ok {
		*line = slices.Delete(*line, i, i+1)
	}
	if len(c.in)+len(c.urgent)+len(c.plain) == 0 {
		delete(m.chats, r.chat)
	}
}

func byID(a, b *row) int { return cmp.Compare(a.id(), b.id()) }

func (c *chat) line(r *row) *[]*row {
	switch {
	case r.arrival != nil:
		return &c.in
	case r.parcel.urgent:
		return &c.urgent
	}
	return &c.plain
}
