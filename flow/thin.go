package flow

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// A Thinned is what stands in the place of entries of a stream once it is
// taken out who wrote them and what.
type Thinned struct {
	After  uint64            // number of the last entry
	Redone map[uint64][]byte // by number; entries that are not here stay
	Empty  bool              // nothing is left that anything rests on
}

// ThinChat takes the words and names out of a chat that nobody has used for
// long. Its leave to talk, its units and its kits stay, and the jobs of it
// that gone does not report as removed.
func ThinChat(log Log, chat string, gone func(job string) bool) (Thinned, error) {
	t := Thinned{Redone: map[uint64][]byte{}, Empty: true}
	err := log.Replay(chatStream(chat), 0, func(n uint64, body []byte) error {
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of chat %q: %w", n, chat, err)
		}
		e.Who, e.Update, e.Heard, e.Said = Person{}, "", Heard{}, nil
		e.Acts = slices.DeleteFunc(e.Acts, func(a Act) bool {
			return a.Do == DoTry || (a.Do == DoEnter || a.Do == DoGuest) && a.Value != "" && gone(a.Value)
		})
		for _, a := range e.Acts {
			t.Empty = t.Empty && (a.Do == DoUnits || a.Do == DoEnter && a.Value == "")
		}
		return t.add(n, body, e)
	})
	return t, err
}

// ThinDoor takes out of the door's stream who made and used codes before the
// time given. The owner stays known.
func ThinDoor(log Log, before time.Time) (Thinned, error) {
	return thinDoor(log, func(e doorEntry) bool {
		at, err := time.Parse(time.RFC3339, e.At)
		return err == nil && at.Before(before)
	})
}

func thinDoor(log Log, pick func(e doorEntry) bool) (Thinned, error) {
	t := Thinned{Redone: map[uint64][]byte{}}
	d, err := readDoor(log)
	if err != nil {
		return t, err
	}
	err = log.Replay(doorStream, 0, func(n uint64, body []byte) error {
		var e doorEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of the door: %w", n, err)
		}
		if e.Chat != d.owner && pick(e) {
			e.Chat, e.Who = "", Person{}
		}
		return t.add(n, body, e)
	})
	return t, err
}

func (t *Thinned) add(n uint64, was []byte, e any) error {
	t.After = n
	is, err := json.Marshal(e)
	if err != nil {
		return fmt.Errorf("encode entry %d: %w", n, err)
	}
	if !bytes.Equal(is, was) {
		t.Redone[n] = is
	}
	return nil
}

// leaveDoor takes a chat out of the door's stream.
func (d *Desk) leaveDoor(chat string) error {
	for range races {
		t, err := thinDoor(d.Log, func(e doorEntry) bool { return e.Chat == chat })
		if err != nil || len(t.Redone) == 0 {
			return err
		}
		err = d.Eraser.Redact(Write{Stream: doorStream, After: t.After}, t.Redone)
		if !Moved(err) {
			return err
		}
	}
	return fmt.Errorf("take chat %q out of the door: others were first %d times", chat, races)
}

// ChatStream returns the name of the stream of a chat. The names of all chats'
// begin with ChatStream("").
func ChatStream(chat string) string { return chatStream(chat) }

// DoorStream is the name of the door's stream.
const DoorStream = doorStream
