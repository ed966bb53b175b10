package etcd

import (
	"cmp"
	"maps"
	"slices"

	"linetender/store"
)

// Waiting shows all arrivals that wait, chat by chat and in order in each,
// until visit returns false.
func (s *Store) Waiting(visit func(store.Arrival) bool) error { return s.waiting(everyone, visit) }

func (s *Store) waiting(mine func(chat string) bool, visit func(store.Arrival) bool) error {
	all, err := s.arrivals(mine)
	if err != nil {
		return err
	}
	for _, a := range all {
		a.Body = slices.Clone(a.Body)
		if !visit(a) {
			return nil
		}
	}
	return nil
}

func (s *Store) arrivals(mine func(chat string) bool) (all []store.Arrival, err error) {
	m := s.mirror
	if err := m.look(); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	shortFirst := func(a, b string) int { return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b)) }
	for _, name := range slices.SortedFunc(maps.Keys(m.chats), shortFirst) {
		if !mine(name) {
			continue
		}
		for _, r := range m.chats[name].in {
			all = append(all, *r.arrival)
		}
	}
	return all, nil
}

// Behind shows the bodies of the parcels of a chat that are not urgent and are
// queued behind number id, in order and at most limit of them, until visit
// returns false. A body is the visitor's only until it returns.
func (s *Store) Behind(chat string, id uint64, limit int, visit func(body []byte) bool) error {
	bodies, err := s.behind(chat, id, limit)
	if err != nil {
		return err
	}
	for _, b := range bodies {
		if !visit(slices.Clone(b)) {
			return nil
		}
	}
	return nil
}

func (s *Store) behind(chat string, id uint64, limit int) (bodies [][]byte, err error) {
	m := s.mirror
	if err := m.look(); err != nil {
		return nil, err
	}
	defer m.mu.Unlock()
	c := m.chats[chat]
	if c == nil {
		return nil, nil
	}
	for _, r := range c.plain {
		if r.id() > id && len(bodies) < limit {
			bodies = append(bodies, r.parcel.body)
		}
	}
	return bodies, nil
}
