package memory

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"linetender/store"
)

// dead is what was given up on, with its number.
type dead struct {
	n uint64
	store.Dead
}

func (s *Store) bury(d store.Dead) {
	s.buried++
	d.At = s.now()
	s.dead = append(s.dead, dead{s.buried, d})
}

// Dead is [store.Store.Dead].
func (s *Store) Dead(after uint64, visit func(n uint64, d store.Dead) error) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	all := slices.Clone(s.dead)
	leave()
	for _, d := range all {
		if d.n <= after {
			continue
		}
		if err := visit(d.n, d.Dead); err != nil {
			return err
		}
	}
	return nil
}

// PruneDead is [store.Store.PruneDead].
func (s *Store) PruneDead(before time.Time) (removed int, err error) {
	leave, err := s.enter()
	if err != nil {
		return 0, err
	}
	defer leave()
	was := len(s.dead)
	s.dead = slices.DeleteFunc(s.dead, func(d dead) bool { return d.At.Before(before) })
	return was - len(s.dead), nil
}

// Rekey is [store.Store.Rekey].
func (s *Store) Rekey(oldChat, newChat string) error {
	if err := errors.Join(store.CheckName("chat", oldChat), store.CheckName("chat", newChat)); err != nil {
		return err
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	if oldChat == newChat {
		return nil
	}
	for _, w := range s.inbox[oldChat] {
		w.Chat = newChat
		i, _ := slices.BinarySearchFunc(s.inbox[newChat], w.seq, func(o *waiting, seq uint64) int { return int(o.seq) - int(seq) })
		s.inbox[newChat] = slices.Insert(s.inbox[newChat], i, w)
	}
	delete(s.inbox, oldChat)
	for _, p := range slices.Clone(s.outbox.queues[oldChat]) {
		s.outbox.remove(p)
		p.Chat = newChat
		s.outbox.put(p)
	}
	s.forgetSlots(oldChat, "")
	return nil
}

// Forget is [store.Store.Forget].
func (s *Store) Forget(chat string) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	s.forgetSlots(chat, "")
	s.dead = slices.DeleteFunc(s.dead, func(d dead) bool { return d.Chat == chat })
	return nil
}

// ForgetSlots is [store.Store.ForgetSlots].
func (s *Store) ForgetSlots(chat, prefix string) error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	s.forgetSlots(chat, prefix)
	return nil
}

func (s *Store) forgetSlots(chat, prefix string) {
	maps.DeleteFunc(s.receipts, func(k [2]string, _ []byte) bool { return k[0] == chat && strings.HasPrefix(k[1], prefix) })
}

// Secret is [store.Store.Secret].
func (s *Store) Secret(name string, make func() ([]byte, error)) ([]byte, error) {
	if err := store.CheckName("secret", name); err != nil {
		return nil, err
	}
	look := func(made []byte) ([]byte, bool, error) {
		leave, err := s.enter()
		if err != nil {
			return nil, false, err
		}
		defer leave()
		if _, ok := s.secrets[name]; !ok && made != nil {
			s.secrets[name] = made
		}
		kept, ok := s.secrets[name]
		return append([]byte{}, kept...), ok, nil
	}
	if kept, ok, err := look(nil); ok || err != nil {
		return kept, err
	}
	made, err := make()
	if err != nil {
		return nil, fmt.Errorf("make secret %q: %w", name, err)
	}
	kept, _, err := look(append([]byte{}, made...))
	return kept, err
}

// SetSecret is [store.Store.SetSecret].
func (s *Store) SetSecret(name string, value []byte) error {
	if err := store.CheckName("secret", name); err != nil {
		return err
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	s.secrets[name] = append([]byte{}, value...)
	return nil
}

// DeleteSecret is [store.Store.DeleteSecret].
func (s *Store) DeleteSecret(name string) error {
	if err := store.CheckName("secret", name); err != nil {
		return err
	}
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	delete(s.secrets, name)
	return nil
}

// Stats is [store.Store.Stats]; there is no file to measure.
func (s *Store) Stats() (store.Stats, error) {
	leave, err := s.enter()
	if err != nil {
		return store.Stats{}, err
	}
	defer leave()
	st := store.Stats{
		Streams: len(s.streams), WaitingChats: len(s.inbox), Unsent: len(s.outbox.parcels), UnsentChats: len(s.outbox.queues),
		Dead: len(s.dead), Marks: s.done,
	}
	for _, p := range s.outbox.parcels {
		if p.Urgent {
			st.UnsentUrgent++
		}
	}
	var oldest *waiting
	for _, list := range s.inbox {
		st.Waiting += len(list)
		if oldest == nil || list[0].seq < oldest.seq {
			oldest = list[0]
		}
	}
	if oldest != nil {
		st.OldestWaiting = oldest.At
	}
	return st, nil
}

// Check holds what is kept twice against each other.
func (s *Store) Check() error {
	leave, err := s.enter()
	if err != nil {
		return err
	}
	defer leave()
	waits := 0
	for chat, list := range s.inbox {
		for _, w := range list {
			if s.updates[w.Key] != w || w.Chat != chat {
				return fmt.Errorf("memory: update %q of chat %q: %w", w.Key, chat, store.ErrCorrupt)
			}
		}
		waits += len(list)
	}
	if waits+s.done != len(s.updates) {
		return fmt.Errorf("memory: %d updates wait and %d are done of %d: %w", waits, s.done, len(s.updates), store.ErrCorrupt)
	}
	queued := 0
	for _, p := range s.outbox.fronts {
		queue := s.outbox.queues[p.Chat]
		if len(queue) == 0 || queue[0] != p || !slices.IsSortedFunc(queue, before) {
			return fmt.Errorf("memory: the queue of chat %q: %w", p.Chat, store.ErrCorrupt)
		}
		queued += len(queue)
	}
	if queued != len(s.outbox.parcels) || !slices.IsSortedFunc(s.outbox.fronts, before) {
		return fmt.Errorf("memory: the front of the outbox: %w", store.ErrCorrupt)
	}
	return nil
}
