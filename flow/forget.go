package flow

import (
	"encoding/json"
	"fmt"
	"strings"

	"linetender/flow/wording"
)

// Eraser takes out for good what is kept. Neither EraseStream nor Forget may
// fail because there is nothing to take out.
//
// Redact puts other bytes in the place of entries of a stream, by number, and
// appends what w holds, all at once. An error for which [Moved] reports true
// means that the stream no longer ends at w.After, and nothing was done.
type Eraser interface {
	EraseStream(stream string) error
	Forget(chat string) error
	Redact(w Write, redone map[uint64][]byte) error
}

// What a person writes, in a chat of their own, to have what is kept of them
// removed: first what that means, then that it is meant.
const (
	forgetAsk = "forget me"
	forgetNow = "forget me now"
)

// forgetting answers a wish to be forgotten. What is kept goes first and the
// turn is committed after it, so that a crash between the two does it again.
// In a group the log belongs to all who worked by it, and nothing is removed.
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
	case in.Group:
		key = wording.ForgetGroup
	case door.owner == in.Chat:
		key = wording.ForgetOwner
	case text == forgetAsk:
		key = wording.ForgetAsk
	default:
		if err := d.erase(in.Chat); err != nil {
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

// erase removes the jobs that only this chat worked in, and then what is kept
// of the chat itself, which names those jobs.
func (d *Desk) erase(chat string) error {
	var jobs []string
	err := d.Log.Replay(chatStream(chat), 0, func(n uint64, body []byte) error {
		var e chatEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of chat %q: %w", n, chat, err)
		}
		for _, a := range e.Acts {
			if a.Do == DoEnter {
				jobs = append(jobs, a.Value)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, code := range jobs {
		own := true
		err := d.Log.Replay(jobStream(code), 0, func(_ uint64, body []byte) error {
			e, err := DecodeEntry(body)
			own = own && err == nil && e.Chat == chat
			return nil
		})
		if err != nil {
			return err
		}
		if !own {
			continue
		}
		if err := d.Eraser.EraseStream(jobStream(code)); err != nil {
			return err
		}
	}
	if err := d.Eraser.Forget(chat); err != nil {
		return err
	}
	return d.Eraser.EraseStream(chatStream(chat))
}
