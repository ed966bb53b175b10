package memory

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"linetender/store"
)

// waiting is an arrival that has had no turn; seq is its place among all.
type waiting struct {
	store.Arrival
	seq uint64
}

type cursor struct {
	at  int64
	set time.Time
}

// Accept is [store.Store.Accept].
func (s *Store) Accept(source string, at int64, arrivals []store.Arrival) error {
	if err := store.CheckName("source", source); err != nil {
		return err
	}
	for _, a := range arrivals {
		if err := store.CheckName("update", a.Key); err != nil {
			return err
		}
		if err := store.CheckName("chat of update "+a.Key, a.Chat); err != nil {
			return err
		}
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	for _, a := range arrivals {
		if _, known := s.updates[a.Key]; known {
			continue
		}
		s.arrived++
		a.At, a.Body = a.At.UTC(), slices.Clone(a.Body)
		w := &waiting{a, s.arrived}
		s.updates[a.Key] = w
		s.inbox[a.Chat] = append(s.inbox[a.Chat], w)
	}
	if at != 0 {
		s.cursors[source] = cursor{at, s.now()}
	}
	return nil
}

// Cursor is [store.Store.Cursor].
func (s *Store) Cursor(source string) (int64, time.Time, error) {
	leave, err := s.enter()
	if err != nil {
		return 0, time.Time{}, err
	}
	defer leave()
	c := s.cursors[source]
	return c.at, c.set, nil
}

// Chats is [store.Store.Chats].
func (s *Store) Chats() ([]string, error) {
	leave, err := s.enter()
	if err != nil {
		return nil, err
	}
	defer leave()
	chats := make([]string, 0, len(s.inbox))
	for chat := range s.inbox {
		chats = append(chats, chat)
	}
	slices.SortFunc(chats, func(a, b string) int { return cmp.Compare(s.inbox[a][0].seq, s.inbox[b][0].seq) })
	return chats, nil
}

// Next is [store.Store.Next].
func (s *Store) Next(chat string) (store.Arrival, bool, error) {
	leave, err := s.enter()
	if err != nil {
		return store.Arrival{}, false, err
	}
	defer leave()
	list := s.inbox[chat]
	if len(list) == 0 {
		return store.Arrival{}, false, nil
	}
	return list[0].Arrival, true, nil
}

// Waiting is [store.Store.Waiting].
func (s *Store) Waiting(visit func(store.Arrival) bool) error {
	chats, err := s.Chats()
	if err != nil {
		return err
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	slices.Sort(chats)
	var all []*waiting
	for _, chat := range chats {
		all = append(all, s.inbox[chat]...)
	}
	leave()
	for _, w := range all {
		if !visit(w.Arrival) {
			return nil
		}
	}
	return nil
}

// finish takes an update out of the inbox, if it waits there, and marks it done.
func (s *Store) finish(key string, w *waiting) {
	s.updates[key] = nil
	s.done++
	if w == nil {
		return
	}
	left := slices.DeleteFunc(s.inbox[w.Chat], func(o *waiting) bool { return o == w })
	if s.inbox[w.Chat] = left; len(left) == 0 {
		delete(s.inbox, w.Chat)
	}
}

// Bury is [store.Store.Bury].
func (s *Store) Bury(key, why string) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	w, known := s.updates[key]
	switch {
	case !known:
		return fmt.Errorf("bury update %q: %w", key, store.ErrUnknown)
	case w == nil:
		return fmt.Errorf("bury update %q: %w", key, store.ErrDone)
	}
	s.bury(store.Dead{Kind: store.DeadUpdate, Key: key, Chat: w.Chat, Why: why, Body: w.Body})
	s.finish(key, w)
	return nil
}

// outbox is what is to be sent: parcels by number, those of each chat in their
// order, and of each chat the first.
type outbox struct {
	last    uint64
	parcels map[uint64]*store.Due
	queues  map[string][]*store.Due
	fronts  []*store.Due
}

func newOutbox() outbox {
	return outbox{parcels: map[uint64]*store.Due{}, queues: map[string][]*store.Due{}}
}

// before is the order of parcels, in a chat and over all.
func before(a, b *store.Due) int {
	if a.Urgent != b.Urgent {
		if a.Urgent {
			return -1
		}
		return 1
	}
	return cmp.Compare(a.ID, b.ID)
}

func (o *outbox) add(chat string, urgent bool, body []byte) {
	o.last++
	o.put(&store.Due{ID: o.last, Chat: chat, Urgent: urgent, Body: slices.Clone(body)})
}

func (o *outbox) put(p *store.Due) {
	o.parcels[p.ID] = p
	o.change(p.Chat, func(queue []*store.Due) []*store.Due { return insert(queue, p) })
}

func (o *outbox) remove(p *store.Due) {
	delete(o.parcels, p.ID)
	o.change(p.Chat, func(queue []*store.Due) []*store.Due { return without(queue, p) })
}

// change changes the queue of a chat and keeps the fronts true to it.
func (o *outbox) change(chat string, how func([]*store.Due) []*store.Due) {
	queue := o.queues[chat]
	if len(queue) > 0 {
		o.fronts = without(o.fronts, queue[0])
	}
	if queue = how(queue); len(queue) == 0 {
		delete(o.queues, chat)
		return
	}
	o.queues[chat] = queue
	o.fronts = insert(o.fronts, queue[0])
}

func insert(list []*store.Due, p *store.Due) []*store.Due {
	i, _ := slices.BinarySearchFunc(list, p, before)
	return slices.Insert(list, i, p)
}

func without(list []*store.Due, p *store.Due) []*store.Due {
	i, _ := slices.BinarySearchFunc(list, p, before)
	return slices.Delete(list, i, i+1)
}

// Due is [store.Store.Due].
func (s *Store) Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error) {
	leave, err := s.enter()
	if err != nil {
		return nil, err
	}
	defer leave()
	var due []store.Due
	for _, p := range s.outbox.fronts {
		if len(due) == limit {
			break
		}
		if !busy[p.Chat] && !p.NotBefore.After(now) {
			due = append(due, *p)
		}
	}
	return due, nil
}

// Behind is [store.Store.Behind].
func (s *Store) Behind(chat string, id uint64, limit int, visit func(body []byte) bool) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	queue := slices.Clone(s.outbox.queues[chat])
	leave()
	for _, p := range queue {
		if p.Urgent || p.ID <= id {
			continue
		}
		if limit == 0 || !visit(p.Body) {
			return nil
		}
		limit--
	}
	return nil
}

// parcel runs do on an unsent parcel.
func (s *Store) parcel(id uint64, do func(p *store.Due)) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	p := s.outbox.parcels[id]
	if p == nil {
		return fmt.Errorf("parcel %d: %w", id, store.ErrUnknown)
	}
	do(p)
	return nil
}

// Sent is [store.Store.Sent].
func (s *Store) Sent(id uint64, slot string, receipt []byte) error {
	if len(slot) > store.MaxName {
		return store.CheckName("slot", slot)
	}
	return s.parcel(id, func(p *store.Due) {
		s.outbox.remove(p)
		if slot != "" {
			s.receipts[[2]string{p.Chat, slot}] = append([]byte{}, receipt...)
		}
	})
}

// Receipt is [store.Store.Receipt].
func (s *Store) Receipt(chat, slot string) ([]byte, bool, error) {
	leave, err := s.enter()
	if err != nil {
		return nil, false, err
	}
	defer leave()
	receipt, ok := s.receipts[[2]string{chat, slot}]
	return slices.Clone(receipt), ok, nil
}

// Delay is [store.Store.Delay].
func (s *Store) Delay(id uint64, until time.Time, why string) error {
	return s.parcel(id, func(p *store.Due) {
		p.Tries++
		p.NotBefore = until
	})
}

// Drop is [store.Store.Drop].
func (s *Store) Drop(id uint64, why string) error {
	return s.parcel(id, func(p *store.Due) {
		s.outbox.remove(p)
		s.bury(store.Dead{Kind: store.DeadParcel, Key: fmt.Sprint(id), Chat: p.Chat, Why: why, Body: p.Body})
	})
}
