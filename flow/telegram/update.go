package telegram

import (
	"encoding/json"
	"fmt"
	"slices"
)

// The parts of an update that the conversation can use. The bot library's own types are not used
// to read updates: they refuse a whole update for one member of a kind that they do not know.

type update struct {
	ID      int64    `json:"update_id"`
	Message *message `json:"message"`
	Edited  *message `json:"edited_message"`
	Press   *press   `json:"callback_query"`
	Member  *member  `json:"my_chat_member"`
}

type chat struct {
	ID    int64  `json:"id"`
	Type  string `json:"type"`
	Title string `json:"title"`
}

func (c chat) group() bool { return c.Type != "private" }

type person struct {
	ID    int64  `json:"id"`
	Bot   bool   `json:"is_bot"`
	First string `json:"first_name"`
	Last  string `json:"last_name"`
}

type entity struct {
	Type   string `json:"type"`
	Offset int    `json:"offset"`
	Length int    `json:"length"`
}

// message is a message.
type message struct {
	ID        int64   `json:"message_id"`
	Date      int64   `json:"date"`
	EditDate  int64   `json:"edit_date"`
	Chat      chat    `json:"chat"`
	From      *person `json:"from"`
	As        *chat   `json:"sender_chat"`
	Forwarded bool    `json:"is_automatic_forward"`
	Thread    int64   `json:"message_thread_id"`
	Topic     bool    `json:"is_topic_message"`
	ReplyTo   *struct {
		From *person `json:"from"`
	} `json:"reply_to_message"`

	Text            string   `json:"text"`
	Entities        []entity `json:"entities"`
	Caption         string   `json:"caption"`
	CaptionEntities []entity `json:"caption_entities"`

	Voice     there           `json:"voice"`
	Audio     there           `json:"audio"`
	Sticker   there           `json:"sticker"`
	Photo     loose[[]photo]  `json:"photo"`
	Video     loose[document] `json:"video"`
	VideoNote loose[document] `json:"video_note"`
	Animation loose[document] `json:"animation"`
	Document  loose[document] `json:"document"`
	Location  loose[location] `json:"location"`
	Venue     loose[venue]    `json:"venue"`
	Contact   there           `json:"contact"`
	Dice      there           `json:"dice"`
	Poll      there           `json:"poll"`
	Story     there           `json:"story"`
	Game      there           `json:"game"`
	PaidMedia there           `json:"paid_media"`
	Checklist there           `json:"checklist"`

	MovedTo   int64 `json:"migrate_to_chat_id"`
	MovedFrom int64 `json:"migrate_from_chat_id"`
}

// there is a member of which it matters only that it is there.
type there bool

func (t *there) UnmarshalJSON(b []byte) error {
	*t = string(b) != "null"
	return nil
}

func oneOf(list ...there) bool { return slices.Contains(list, true) }

// loose is a member of which is known that it is there, and what it holds as far as that is of the
// kind that is known. Most messages have none of those, so what they hold is not part of it.
type loose[T any] struct {
	there bool
	it    *T
}

func (l *loose[T]) UnmarshalJSON(b []byte) error {
	*l = loose[T]{there: string(b) != "null"}
	it := new(T)
	if l.there && json.Unmarshal(b, it) == nil {
		l.it = it
	}
	return nil
}

// holds is what it holds, nothing where that is not known.
func (l loose[T]) holds() (it T) {
	if l.it != nil {
		it = *l.it
	}
	return it
}

// document is what all files have; a video note has no name and no type.
type document struct {
	ID   string `json:"file_id"`
	Same string `json:"file_unique_id"`
	Name string `json:"file_name"`
	Type string `json:"mime_type"`
	Size int64  `json:"file_size"`
}

// photo is a picture in one of its sizes.
type photo struct {
	ID     string `json:"file_id"`
	Same   string `json:"file_unique_id"`
	Width  int64  `json:"width"`
	Height int64  `json:"height"`
	Size   int64  `json:"file_size"`
}

type location struct {
	Lat  *float64 `json:"latitude"`
	Lon  *float64 `json:"longitude"`
	Good float64  `json:"horizontal_accuracy"`
}

type venue struct {
	Location location `json:"location"`
}

// place is the chat and, in a group with topics, the topic.
func (m *message) place() (id, thread int64) {
	if !m.Topic {
		return m.Chat.ID, 0 // there, a thread is only a chain of replies
	}
	return m.Chat.ID, m.Thread
}

func (m *message) key() string { return ChatKey(m.place()) }

type press struct {
	ID      string   `json:"id"`
	From    person   `json:"from"`
	Message *message `json:"message"` // of one that is too old, only the ids
	Data    string   `json:"data"`
}

type member struct {
	Chat chat   `json:"chat"`
	From person `json:"from"`
	Date int64  `json:"date"`
	New  struct {
		Status string `json:"status"`
	} `json:"new_chat_member"`
}

// readUpdate reads raw JSON. On error the update has no more than its id, 0 if not even that can be
// read. Errors hold nothing of what the update says.
func readUpdate(raw []byte) (update, error) {
	var u update
	if err := json.Unmarshal(raw, &u); err != nil {
		var head struct {
			ID int64 `json:"update_id"`
		}
		if json.Unmarshal(raw, &head) != nil || head.ID < 0 {
			head.ID = 0
		}
		return update{ID: head.ID}, fmt.Errorf("update is not what the Bot API describes: %s", jsonTrouble(err))
	}
	if u.ID <= 0 {
		return update{}, fmt.Errorf("update has no update_id")
	}
	return u, nil
}

// chat is the chat that the update belongs to, and the topic; false if it belongs to none.
func (u update) chat() (id, thread int64, ok bool) {
	switch {
	case u.Message != nil:
		id, thread = u.Message.place()
	case u.Edited != nil:
		id, thread = u.Edited.place()
	case u.Press != nil && u.Press.Message != nil:
		id, thread = u.Press.Message.place()
	case u.Member != nil:
		id = u.Member.Chat.ID
	}
	return id, thread, id != 0 && thread >= 0
}

// jsonTrouble words an error of encoding/json without the text that it may quote.
func jsonTrouble(err error) string {
	switch err := err.(type) {
	case *json.UnmarshalTypeError:
		return fmt.Sprintf("member %q has the wrong type", err.Field)
	case *json.SyntaxError:
		return fmt.Sprintf("not JSON from byte %d on", err.Offset)
	}
	return "not JSON"
}
