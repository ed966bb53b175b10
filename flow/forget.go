package flow

import (
	"strings"

	"linetender/flow/wording"
)

// Eraser takes out for good what is kept. Neither EraseStream nor Forget may
// fail because there is nothing to take out.
//
// Redact puts other bytes in the place of entries of a stream, by number, and
// appends what w holds, all at once. An error for which [Moved] reports true
// means that the stream no longer ends at w.After, and nothing was done. Head
// returns a stream's summary and the number of its last entry.
type Eraser interface {
	EraseStream(stream string) error
	Forget(chat string) error
	Redact(w Write, redone map[uint64][]byte) error
	Head(stream string) (head []byte, last uint64, err error)
}

// What a person writes, in a chat of their own, to have what is kept of them
// removed: first what that means, then that it is meant.
const (
	forgetAsk = "forget me"
	forgetNow = "forget me now"
)

// forgetting answers a wish to be forgotten. What is kept goes first and the
// turn is committed after it, so that a crash between the two does it again.
// The log of a job belongs to all who worked by it: where others did, the one
// who asks is taken out of it, and the rest stays.
func (d *Desk) forgetting(in Input) (Turn, bool, error) {
	text := strings.Trim(strings.ToLower(strings.TrimSpace(in.Text)), "./")
	if d.Eraser == nil || in.Press != nil || text != forgetAsk && text != forgetNow {
		return Turn{}, false, nil
	}
	door, err := readDoor(d.Log)
	if err != nil {
		return Turn{}, false, &storageError{err}
	}
	key := wording.ForgetDone
	switch {
	case door.owner == in.Chat && !in.Group:
		key = wording.ForgetOwner
	case text == forgetAsk && in.Group:
		key = wording.ForgetGroup
	case text == forgetAsk:
		key = wording.ForgetAsk
	default:
		if err := d.takeOut(in); err != nil {
			return Turn{}, false, &storageError{err}
		}
	}
	said, err := d.Engine.Words.Say(0, key, nil)
	if err != nil {
		return Turn{}, false, err
	}
	body, err := Message{Parts: []Said{{Key: string(key), Text: said}}}.Encode()
	if err != nil {
		return Turn{}, false, err
	}
	return Turn{Update: in.Update, Chat: in.Chat, Outbox: []Parcel{{Chat: in.Chat, Body: body}}}, true, nil
}

// takeOut takes the one who asks out of the jobs that the chat has been in, and
// then out of what is kept of the chat, which names those jobs.
func (d *Desk) takeOut(in Input) error {
	defer d.Engine.Forget()
	x := Takeout{Log: d.Log, Eraser: d.Eraser, IDs: []string{in.Person.ID}, At: in.At, Group: in.Group}
	codes, err := Jobs(d.Log, in.Chat)
	if err != nil {
		return err
	}
	for _, code := range codes {
		if _, err := x.Job(code); err != nil {
			return err
		}
	}
	if _, err = x.Chat(in.Chat, !in.Group); err != nil || in.Group {
		return err
	}
	return d.leaveDoor(in.Chat)
}
