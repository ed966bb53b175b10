package telegram

import (
	"fmt"
	"strconv"
	"sync"
)

// homes knows the groups that have got another id, as a group does that becomes a supergroup. To the
// conversation such a chat keeps the name under which it was first met, so that its job, its
// crew and what is on its way stay where they are; only calls go to the id that it has now.
//
// Both directions are kept durably as cursors of the inbox, the one register of numbers that
// an inbox has: a source is no more than a name to it.
type homes struct {
	inbox  Inbox
	source func() string

	mu  sync.Mutex
	now map[int64]int64 // first id → present id
	was map[int64]int64 // present id → first id
}

func newHomes(inbox Inbox, source func() string) *homes {
	return &homes{inbox: inbox, source: source, now: map[int64]int64{}, was: map[int64]int64{}}
}

func (h *homes) register(what string, id int64) string {
	return h.source() + "/" + what + "/" + strconv.FormatInt(id, 10)
}

// present is the id that a chat first met as id has now.
func (h *homes) present(id int64) (int64, error) { return h.look(h.now, "now", id) }

// first is the id under which a chat was first met.
func (h *homes) first(id int64) (int64, error) { return h.look(h.was, "was", id) }

func (h *homes) look(known map[int64]int64, what string, id int64) (int64, error) {
	if id >= 0 {
		return id, nil // only groups move
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if other, ok := known[id]; ok {
		return other, nil
	}
	other, _, err := h.inbox.Cursor(h.register(what, id))
	if err != nil {
		return 0, fmt.Errorf("whether a group has moved: %w", err)
	}
	if other == 0 {
		other = id
	}
	known[id] = other
	return other, nil
}

// moved notes durably that the group from is to now.
func (h *homes) moved(from, to int64) error {
	first, err := h.first(from)
	if err != nil {
		return err
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.now[first] == to && h.was[to] == first {
		return nil
	}
	// Where it was goes first: what arrives under the new id must never be taken for a new chat
	// once calls go there.
	if err := h.inbox.Accept(h.register("was", to), first, nil); err != nil {
		return fmt.Errorf("note that a group has moved: %w", err)
	}
	if err := h.inbox.Accept(h.register("now", first), to, nil); err != nil {
		return fmt.Errorf("note that a group has moved: %w", err)
	}
	h.now[first], h.was[to] = to, first
	return nil
}

// meet notes a move if the update tells of one. The channel tells it in both groups.
func (h *homes) meet(u update) error {
	m := u.Message
	switch {
	case m == nil:
		return nil
	case m.MovedTo != 0:
		return h.moved(m.Chat.ID, m.MovedTo)
	case m.MovedFrom != 0:
		return h.moved(m.MovedFrom, m.Chat.ID)
	}
	return nil
}
