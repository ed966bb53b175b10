package apitest

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"time"
)

// intake is what waits for the bot.
type intake struct {
	next    int64
	queue   []update
	past    []update        // all that ever were, for Redeliver
	allowed map[string]bool // nil: the channel's default
	poll    chan struct{}   // closed to end the poll that waits
	hook    hook
}

type update struct {
	id   int64
	kind string
	body json.RawMessage
}

// firstUpdate is an id as a bot that has run for a while sees it.
const firstUpdate = 884_100_001

func newIntake() intake { return intake{next: firstUpdate} }

// byDefault are the kinds that the channel sends unless asked for others: all but these.
var notByDefault = []string{"chat_member", "message_reaction", "message_reaction_count"}

// push queues an update and returns its id, or 0 if the bot did not ask for its kind; the
// caller holds mu. The server's own updates are held to the API table too.
func (s *Server) push(kind string, payload map[string]any) int64 {
	in := &s.intake
	if in.allowed != nil && !in.allowed[kind] || in.allowed == nil && slices.Contains(notByDefault, kind) {
		return 0
	}
	id := in.next
	in.next++
	body, err := json.Marshal(map[string]any{"update_id": id, kind: payload})
	if err != nil {
		panic("apitest: own update: " + err.Error())
	}
	v, err := decodeJSON(body)
	if err == nil {
		err = api.fits([]string{"Update"}, v, "update")
	}
	if err != nil {
		panic("apitest: own update: " + err.Error())
	}
	s.enqueue(update{id, kind, body})
	return id
}

func (s *Server) enqueue(u update) {
	s.intake.queue = append(s.intake.queue, u)
	s.intake.past = append(s.intake.past, u)
	s.notify()
}

// Inject queues an update as raw JSON, unchecked: what a newer API, or a broken channel, might
// send. An update_id is put in if raw is an object without one.
func (s *Server) Inject(raw string) (id int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var obj map[string]json.RawMessage
	if err := json.Unmarshal([]byte(raw), &obj); err == nil {
		if _, ok := obj["update_id"]; !ok {
			obj["update_id"] = json.RawMessage(fmt.Sprint(s.intake.next))
			b, _ := json.Marshal(obj)
			raw = string(b)
		}
		json.Unmarshal(obj["update_id"], &id)
	}
	s.intake.next = max(s.intake.next, id) + 1
	s.enqueue(update{id, "raw", json.RawMessage(raw)})
	return id
}

// NextUpdate sets the id that the next update gets. After a quiet week the channel starts again
// anywhere, which may be below the last id.
func (s *Server) NextUpdate(id int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.intake.next = id
}

// Redeliver queues an update once more that was confirmed already, as a channel does that has
// lost the confirmation. It fails the test if there was no such update.
func (s *Server) Redeliver(id int64) {
	s.tb.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, u := range s.intake.past {
		if u.id == id {
			s.intake.queue = append([]update{u}, s.intake.queue...)
			s.notify()
			return
		}
	}
	s.tb.Errorf("there was no update %d to redeliver", id)
}

// Pending is the number of updates that are not confirmed yet.
func (s *Server) Pending() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.intake.queue)
}

// getUpdates waits for updates. It takes mu itself, and never waits with it held.
func (s *Server) getUpdates(ctx context.Context, p params) (any, error) {
	s.mu.Lock()
	if s.intake.hook.url != "" {
		s.mu.Unlock()
		return nil, conflict("can't use getUpdates method while webhook is active; use deleteWebhook to delete the webhook first")
	}
	if s.intake.poll != nil {
		close(s.intake.poll) // the newer poll wins
	}
	mine := make(chan struct{})
	s.intake.poll = mine
	s.takeAllowed(p)
	s.confirm(p.number("offset"))
	s.mu.Unlock()
	defer func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.intake.poll == mine {
			s.intake.poll = nil
		}
	}()

	limit := int(p.number("limit"))
	if limit == 0 {
		limit = 100
	}
	timeout := time.NewTimer(time.Duration(p.number("timeout")) * time.Second)
	defer timeout.Stop()
	late := p.number("timeout") == 0
	for {
		s.mu.Lock()
		batch := s.batch(limit)
		changed, revoked := s.changed, s.revoked
		s.mu.Unlock()
		if revoked {
			return nil, &refusal{code: http.StatusUnauthorized, text: "Unauthorized"}
		}
		if len(batch) > 0 || late {
			return batch, nil
		}
		select {
		case <-changed:
		case <-timeout.C:
			late = true
		case <-mine:
			return nil, conflict("terminated by other getUpdates request; make sure that only one bot instance is running")
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-s.closed:
			return []json.RawMessage{}, nil
		}
	}
}

func (s *Server) batch(limit int) []json.RawMessage {
	batch := []json.RawMessage{}
	for _, u := range s.intake.queue {
		if len(batch) == limit {
			break
		}
		batch = append(batch, u.body)
	}
	return batch
}

// confirm drops what an offset confirms: every update with a lower id, whenever it came. A
// negative offset keeps that many of the last ones.
func (s *Server) confirm(offset int64) {
	in := &s.intake
	switch {
	case offset > 0:
		in.queue = slices.DeleteFunc(in.queue, func(u update) bool { return u.id < offset })
	case offset < 0 && int64(len(in.queue)) > -offset:
		in.queue = slices.Clone(in.queue[int64(len(in.queue))+offset:])
	}
	s.notify()
}

// takeAllowed remembers the kinds asked for; kinds that are not named leave the setting as it was.
func (s *Server) takeAllowed(p params) {
	list, given := p["allowed_updates"].([]any)
	if !given {
		return
	}
	s.intake.allowed = nil
	for _, kind := range list {
		name, _ := kind.(string)
		if _, ok := api.types["Update"].field(name); !ok || name == "update_id" {
			s.note("allowed_updates: %q is not a kind of update", name)
			continue
		}
		if s.intake.allowed == nil {
			s.intake.allowed = map[string]bool{}
		}
		s.intake.allowed[name] = true
	}
}

func conflict(text string) *refusal {
	return &refusal{code: http.StatusConflict, text: "Conflict: " + text}
}

// Waiting returns the updates that are not confirmed yet, as they will be sent.
func (s *Server) Waiting() []json.RawMessage {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.batch(len(s.intake.queue))
}
