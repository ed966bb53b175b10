package flow

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"
)

// A Takeout takes one person out of what is kept. Where others worked in a job
// too, their log is theirs to keep: the person's words, name and numbers are
// taken out of its entries, what the job learnt of them stays, and the chain
// still holds. Where nobody else did, the job goes whole. Engines that work on
// the log are to be told of it with [Engine.Forget].
type Takeout struct {
	Log    Log
	Eraser Eraser
	IDs    []string // the person's, as channels give them
	By     string   // who has it done, for the record; empty: the person
	At     time.Time
	Group  bool // asked for in a group, whose jobs stay though nobody else has spoken there yet
	Dry    bool // only say what would be done
}

// TakenOut is what became of a job.
type TakenOut struct {
	Whole   bool     // it was removed
	Entries []uint64 // from which the person was taken out
	Files   []string // SHA-256 of the pictures that nothing in the job names any more
	Chats   []string // that were the person's own
}

// Touched reports whether there was anything of the person in it.
func (o TakenOut) Touched() bool { return o.Whole || len(o.Entries) > 0 }

// Job takes the person out of the job with a code. It is done whole or not at
// all, and doing it again does nothing.
//
// Errors: those of the log and the eraser; that the job could not be read any
// more afterwards, in which case nothing is done.
func (x Takeout) Job(code string) (TakenOut, error) {
	for range races {
		out, err := x.job(code)
		if !Moved(err) {
			return out, err
		}
	}
	return TakenOut{}, fmt.Errorf("take a person out of job %q: another writer was first %d times", code, races)
}

func (x Takeout) job(code string) (TakenOut, error) {
	r, err := x.read(code)
	if err != nil || !r.there() {
		return TakenOut{}, err
	}
	out := TakenOut{Files: r.files(), Chats: slices.Sorted(maps.Keys(r.own))}
	if r.alone && !x.Group {
		out.Whole = true
		if x.Dry {
			return out, nil
		}
		return out, x.Eraser.EraseStream(jobStream(code))
	}
	redone, after, err := r.redo()
	if err != nil {
		return TakenOut{}, err
	}
	out.Entries = slices.Sorted(maps.Keys(redone))
	if len(redone) == 0 || x.Dry {
		return out, nil
	}
	w, err := x.record(code, r, redone, after)
	if err != nil {
		return TakenOut{}, err
	}
	return out, x.Eraser.Redact(w, redone)
}

// read reads a job and gathers what it has of the person.
func (x Takeout) read(code string) (*redactor, error) {
	r := &redactor{ids: map[string]bool{}, own: map[string]bool{}, alone: true}
	for _, id := range x.IDs {
		r.ids[id] = true
	}
	err := x.Log.Replay(jobStream(code), 0, func(n uint64, body []byte) error {
		e, err := DecodeEntry(body)
		if err != nil {
			return fmt.Errorf("take a person out of job %q: entry %d: %w", code, n, err)
		}
		r.add(e, body)
		return nil
	})
	r.settle()
	return r, err
}

// record makes the entry by which the job says what was done to it, and its
// new summary.
func (x Takeout) record(code string, r *redactor, redone map[uint64][]byte, s *Session) (Write, error) {
	e := Entry{N: s.Last + 1, Prev: s.Chain, At: x.At.UTC().Format(time.RFC3339), Who: Person{Name: x.By},
		Update: fmt.Sprintf("erase/%s/%d", code, s.Last+1), State: s.State, Topic: s.Topic}
	for _, n := range slices.Sorted(maps.Keys(redone)) {
		e.Acts = append(e.Acts, Act{Do: DoNote, Topic: erasedTopic, Path: fmt.Sprint(n), Value: readLink(redone[n]).raw})
	}
	if m := s.member(r.alias); m != nil && !m.Gone {
		// Nothing can be said to them any more.
		e.Acts = append(e.Acts, Act{Do: DoGone, Value: r.alias})
	}
	body, err := e.encode()
	if err != nil {
		return Write{}, err
	}
	if err := s.fold(e.N, e); err != nil && !r.broken {
		return Write{}, fmt.Errorf("take a person out of job %q: its record: %w", code, err)
	}
	head, _, err := x.Eraser.Head(jobStream(code))
	if err != nil {
		return Write{}, err
	}
	head, err = r.head(head, e.N, Link(e.Prev, body))
	return Write{Stream: jobStream(code), After: e.N - 1, Entries: [][]byte{body}, Head: head}, err
}

// Chat takes the person out of what is kept of a chat outside of jobs: all of
// it where the chat is their own.
func (x Takeout) Chat(name string, own bool) (bool, error) {
	if own {
		return x.ownChat(name)
	}
	redone, last := map[uint64][]byte{}, uint64(0)
	err := x.Log.Replay(chatStream(name), 0, func(n uint64, body []byte) error {
		last = n
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil || !slices.Contains(x.IDs, e.Who.ID) {
			return err
		}
		e.Who, e.Heard, e.Said = Person{}, Heard{}, nil
		body, err := json.Marshal(e)
		redone[n] = body
		return err
	})
	if err != nil || len(redone) == 0 || x.Dry {
		return len(redone) > 0, err
	}
	return true, x.Eraser.Redact(Write{Stream: chatStream(name), After: last}, redone)
}

func (x Takeout) ownChat(name string) (bool, error) {
	some := errors.New("there is some")
	err := x.Log.Replay(chatStream(name), 0, func(uint64, []byte) error { return some })
	found := errors.Is(err, some)
	if err != nil && !found || x.Dry {
		return found, ignore(err, some)
	}
	if err := x.Eraser.Forget(name); err != nil {
		return false, err
	}
	return found, x.Eraser.EraseStream(chatStream(name))
}

func ignore(err, known error) error {
	if errors.Is(err, known) {
		return nil
	}
	return err
}

// Door takes the person out of who used an invitation. The owner stays: without
// one, nobody could invite.
func (x Takeout) Door() (owner bool, err error) {
	d, err := readDoor(x.Log)
	if err != nil {
		return false, err
	}
	err = x.Log.Replay(doorStream, 0, func(_ uint64, body []byte) error {
		var e doorEntry
		err := json.Unmarshal(body, &e)
		owner = owner || d.owner != "" && e.Chat == d.owner && slices.Contains(x.IDs, e.Who.ID)
		return err
	})
	if err != nil {
		return false, err
	}
	t, err := thinDoor(x.Log, func(e doorEntry) bool { return slices.Contains(x.IDs, e.Who.ID) })
	if err != nil || len(t.Redone) == 0 || x.Dry {
		return owner, err
	}
	return owner, x.Eraser.Redact(Write{Stream: doorStream, After: t.After}, t.Redone)
}

// Jobs are the codes of the jobs that a chat has been in.
func Jobs(log Log, chat string) (codes []string, err error) {
	err = log.Replay(chatStream(chat), 0, func(n uint64, body []byte) error {
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of chat %q: %w", n, chat, err)
		}
		for _, a := range e.Acts {
			if a.Do == DoEnter && a.Value != "" && !slices.Contains(codes, a.Value) {
				codes = append(codes, a.Value)
			}
		}
		return nil
	})
	return codes, err
}
