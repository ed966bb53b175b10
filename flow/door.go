package flow

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// The door lets chats in. Its stream holds the codes that are out, as digests
// only, and who used them; whether a chat is in stands in the chat's own
// stream, so that a turn reads the door only when somebody knocks or invites.
const doorStream = "door/front"

// doorState is a chat's standing at the door.
type doorState struct {
	in    bool
	guest string   // code of the only job it is let into
	tries []string // times of wrong codes
}

// A code is good for so long, and a chat may be wrong so often in an hour.
const (
	codeLife  = 24 * time.Hour
	wrongMost = 5
	wrongSpan = time.Hour

	// strangerMost is how much is kept of a chat that is not in, in entries.
	// Beyond it only a stop and a code are answered.
	strangerMost = 50
)

// doorEntry is one entry of the door's stream.
type doorEntry struct {
	Version int    `json:"v"`
	At      string `json:"at"`
	Do      string `json:"do"` // made, used
	Code    string `json:"code"`
	Owner   bool   `json:"owner,omitempty"`
	Chat    string `json:"chat,omitempty"`
	Who     Person `json:"who,omitzero"`
}

// door is what its stream comes to.
type door struct {
	last  uint64
	owner string // chat
	codes map[string]doorEntry
}

func readDoor(log Log) (*door, error) {
	d := &door{codes: map[string]doorEntry{}}
	err := log.Replay(doorStream, 0, func(n uint64, body []byte) error {
		var e doorEntry
		if err := json.Unmarshal(body, &e); err != nil {
			return fmt.Errorf("decode entry %d of the door: %w", n, err)
		}
		switch e.Do {
		case "made":
			d.codes[e.Code] = e
		case "used":
			if d.codes[e.Code].Owner {
				d.owner = e.Chat
			}
			delete(d.codes, e.Code)
		}
		d.last = n
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the door: %w", err)
	}
	return d, nil
}

func digest(code string) string {
	sum := sha256.Sum256([]byte(strings.ToLower(strings.TrimSpace(code))))
	return hex.EncodeToString(sum[:])
}

// OwnerCode returns a new code by which one chat becomes the owner, to be
// printed where only the owner reads. It is empty when there is an owner.
// A code made before and not used stops counting.
func (e *Engine) OwnerCode(log Log, now time.Time) (string, error) {
	d, err := readDoor(log)
	if err != nil || d.owner != "" {
		return "", err
	}
	code := e.newSecret()
	var entries [][]byte
	for old, made := range d.codes {
		if made.Owner {
			entries = append(entries, doorEntry{Do: "used", Code: old}.encode(now))
		}
	}
	entries = append(entries, doorEntry{Do: "made", Code: digest(code), Owner: true}.encode(now))
	turn := Turn{Update: "door/" + now.UTC().Format(time.RFC3339Nano), Writes: []Write{{Stream: doorStream, After: d.last, Entries: entries}}}
	if _, err := log.Commit(turn); err != nil {
		return "", fmt.Errorf("keep the owner's code: %w", err)
	}
	return code, nil
}

func (e doorEntry) encode(now time.Time) []byte {
	e.Version, e.At = entryVersion, now.UTC().Format(time.RFC3339)
	body, err := json.Marshal(e)
	if err != nil {
		panic("flow: door entry: " + err.Error())
	}
	return body
}

// door answers a chat that is not in, and an invitation. It returns nil when
// the turn goes on as for anybody.
func (t *turn) door(log Log) (*Turn, error) {
	text := strings.ToLower(strings.TrimSpace(t.in.Text))
	if t.chat.front.guest != "" && (t.chat.front.guest == t.chat.job || t.chat.job == "" && slices.Contains(t.chat.jobs, t.chat.front.guest)) {
		return nil, nil // what it may do there, the job decides
	}
	if t.chat.front.in {
		if text == "invite" || text == "/invite" {
			return t.invite(log)
		}
		return nil, nil
	}
	if t.stops() {
		return nil, nil
	}
	code := strings.TrimSpace(strings.TrimPrefix(text, "/start"))
	if read, ok := CodeFrom(code); ok {
		code = read
	}
	if !looksSecret(code) {
		if t.chat.last >= strangerMost {
			return &Turn{Update: t.in.Update, Chat: t.in.Chat}, nil
		}
		t.say(wording.DoorClosed, nil)
		return t.done()
	}
	// A code, right or wrong, is no part of any log.
	t.in.Text, t.entry.Heard.Text = "", ""
	if t.wrongLately() >= wrongMost {
		if t.chat.last >= strangerMost {
			return &Turn{Update: t.in.Update, Chat: t.in.Chat}, nil
		}
		t.say(wording.DoorShut, nil)
		return t.done()
	}
	d, err := readDoor(log)
	if err != nil {
		return nil, &storageError{err}
	}
	made, ok := d.codes[digest(code)]
	if ok && !made.Owner {
		at, err := time.Parse(time.RFC3339, made.At)
		ok = err == nil && t.in.At.Sub(at) < codeLife
	}
	if !ok {
		t.kept = append(t.kept, Act{Do: DoTry})
		t.say(wording.DoorWrong, nil)
		return t.done()
	}
	used := doorEntry{Do: "used", Code: digest(code), Chat: t.in.Chat, Who: t.in.Person}
	t.kept = append(t.kept, Act{Do: DoAdmit})
	t.say(wording.DoorWelcome, nil)
	if made.Owner {
		t.say(wording.DoorOwner, nil)
	}
	t.begin()
	t.next()
	out, err := t.done()
	if err == nil {
		out.Writes = append(out.Writes, Write{Stream: doorStream, After: d.last, Entries: [][]byte{used.encode(t.in.At)}})
	}
	return out, err
}

func (t *turn) invite(log Log) (*Turn, error) {
	d, err := readDoor(log)
	if err != nil {
		return nil, &storageError{err}
	}
	if d.owner != t.in.Chat {
		t.say(wording.DoorNotOwner, nil)
		return t.done()
	}
	code := t.e.newSecret()
	t.say(wording.DoorInvite, wording.Args{"Secret": code})
	messages, _, err := t.messages(t.mail)
	if err != nil {
		return nil, err
	}
	// What is said here is sent and not kept: it holds the code.
	out := &Turn{Update: t.in.Update, Chat: t.in.Chat}
	for _, m := range messages {
		body, err := m.Encode()
		if err != nil {
			return nil, err
		}
		out.Outbox = append(out.Outbox, Parcel{Chat: t.in.Chat, Body: body})
	}
	made := doorEntry{Do: "made", Code: digest(code), Chat: t.in.Chat, Who: t.in.Person}
	out.Writes = []Write{{Stream: doorStream, After: d.last, Entries: [][]byte{made.encode(t.in.At)}}}
	return out, nil
}

func (t *turn) done() (*Turn, error) {
	out, err := t.finish()
	if err != nil {
		return nil, err
	}
	return &out, nil
}

// looksSecret reports whether a text could be a code: anything else is an
// ordinary message of somebody who has not been let in.
func looksSecret(text string) bool {
	return strings.Count(text, "-") >= 2 && len(text) <= 64 && !strings.ContainsAny(text, " \n")
}

func (t *turn) wrongLately() int {
	n := 0
	for _, at := range t.chat.front.tries {
		if when, err := time.Parse(time.RFC3339, at); err == nil && t.in.At.Sub(when) < wrongSpan {
			n++
		}
	}
	return n
}

// moreWords are the pages of what can be written, behind the first.
var moreWords = []wording.Key{wording.HelpCrew, wording.HelpPull, wording.HelpShow, wording.HelpMore}

// chatWords takes what can be said without a job.
func (t *turn) chatWords(text string, h hear.Heard) bool {
	switch h.Act {
	case hear.Words:
		t.say(wording.HelpWords, nil)
		for _, k := range moreWords {
			t.say(k, nil)
		}
		return true
	case hear.Sum:
		t.quickSum(h.Object)
		return true
	case hear.Leave:
		t.say(wording.RefuseNoJob, nil)
		return true
	case hear.New:
		return false
	}
	if strings.HasPrefix(strings.ToLower(text), "start") || !t.strayed() {
		return false
	}
	t.say(wording.DoorNotIn, nil)
	return true
}

// strayed reports whether who speaks meant to join others and is in no job: the
// code was wrong. What they write next is meant for those others, and must not
// begin a job that nobody hears of.
func (t *turn) strayed() bool {
	return t.s == nil && t.chat.job == "" && t.wrongLately() > 0
}
