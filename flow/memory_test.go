package flow_test

import (
	"errors"
	"fmt"
	"sync"

	"linetender/flow"
)

// memory is a log and an inbox that live as long as a test.
type memory struct {
	mu      sync.Mutex
	streams map[string][][]byte
	heads   map[string][]byte
	done    map[string]bool
	waiting map[string][]flow.Arrival
	order   []string
	outbox  []flow.Parcel
	buried  map[string]string
	refuse  func(flow.Turn) error // a fault to inject
}

func newMemory() *memory {
	return &memory{
		streams: map[string][][]byte{}, heads: map[string][]byte{}, done: map[string]bool{},
		waiting: map[string][]flow.Arrival{}, buried: map[string]string{},
	}
}

type movedError struct{ error }

func (movedError) Moved() bool { return true }

type doneError struct{ error }

func (doneError) Done() bool { return true }

func (m *memory) Commit(t flow.Turn) ([]uint64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.refuse != nil {
		if err := m.refuse(t); err != nil {
			return nil, err
		}
	}
	if t.Update != "" && m.done[t.Update] {
		return nil, fmt.Errorf("commit: %w", doneError{errors.New("done")})
	}
	for _, w := range t.Writes {
		if uint64(len(m.streams[w.Stream])) != w.After {
			return nil, fmt.Errorf("commit: %w", movedError{fmt.Errorf("%s stands at %d, not %d", w.Stream, len(m.streams[w.Stream]), w.After)})
		}
	}
	var last []uint64
	for _, w := range t.Writes {
		m.streams[w.Stream] = append(m.streams[w.Stream], w.Entries...)
		if w.Head != nil {
			m.heads[w.Stream] = w.Head
		}
		last = append(last, uint64(len(m.streams[w.Stream])))
	}
	m.outbox = append(m.outbox, t.Outbox...)
	m.done[t.Update] = true
	m.remove(t.Update)
	return last, nil
}

func (m *memory) remove(key string) {
	for chat, list := range m.waiting {
		for i, a := range list {
			if a.Key == key {
				m.waiting[chat] = append(append([]flow.Arrival{}, list[:i]...), list[i+1:]...)
				return
			}
		}
	}
}

func (m *memory) Head(stream string) ([]byte, uint64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	head, ok := m.heads[stream]
	if !ok {
		return nil, 0, fmt.Errorf("there is no stream %s", stream)
	}
	return head, uint64(len(m.streams[stream])), nil
}

func (m *memory) Replay(stream string, after uint64, visit func(uint64, []byte) error) error {
	m.mu.Lock()
	entries := m.streams[stream]
	m.mu.Unlock()
	for i := int(after); i < len(entries); i++ {
		if err := visit(uint64(i+1), append([]byte{}, entries[i]...)); err != nil {
			return err
		}
	}
	return nil
}

func (m *memory) Accept(source string, cursor int64, arrivals []flow.Arrival) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, a := range arrivals {
		if m.done[a.Key] {
			continue
		}
		if len(m.waiting[a.Chat]) == 0 {
			m.order = append(m.order, a.Chat)
		}
		m.waiting[a.Chat] = append(m.waiting[a.Chat], a)
	}
	return nil
}

func (m *memory) Chats() ([]string, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []string
	for chat, list := range m.waiting {
		if len(list) > 0 {
			out = append(out, chat)
		}
	}
	return out, nil
}

func (m *memory) Next(chat string) (flow.Arrival, bool, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.waiting[chat]) == 0 {
		return flow.Arrival{}, false, nil
	}
	return m.waiting[chat][0], true, nil
}

func (m *memory) Bury(key, why string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.buried[key] = why
	m.done[key] = true
	m.remove(key)
	return nil
}

// sent takes what was posted since the last call.
func (m *memory) sent() []flow.Message {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []flow.Message
	for _, p := range m.outbox {
		msg, err := flow.DecodeMessage(p.Body)
		if err != nil {
			panic(err)
		}
		out = append(out, msg)
	}
	m.outbox = nil
	return out
}
