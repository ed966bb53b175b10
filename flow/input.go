package flow

import "time"

// An Input is one thing that a person said or pressed, as every channel
// hands it over.
type Input struct {
	Update string // the arrival's key: one update has one effect
	Chat   string // where it was said and where the answer goes, such as telegram/4711
	Person Person
	At     time.Time
	Offset string // the site's offset from UTC, such as +02:00; empty when not known

	Text   string // as it was written; a command keeps its slash and loses the program's name
	Press  *Press // a button, when it was one
	Other  string // what came instead of words: one of the Other constants
	Edited bool   // an earlier message was rewritten

	Group   bool // more than one person reads this chat
	Partial bool // here the channel shows only commands, replies and presses
	Direct  bool // meant for the program: a private chat, a command, a reply to it, its name
	Local   bool // the person at the machine itself, who needs no invitation

	Handle string // the channel's own, for answering a press in place; handed back in Message.Handle
}

// Person is who spoke. ID is the channel's; Name is what they call themselves.
type Person struct {
	ID   string `json:"id"`
	Name string `json:"name,omitempty"`
}

// A Press says which button it was and what it stood under.
type Press struct {
	Session  string `json:"session"`
	Revision uint64 `json:"revision"`
	Choice   string `json:"choice"`
}

// What may come instead of words.
const (
	OtherVoice    = "voice"
	OtherSticker  = "sticker"
	OtherFile     = "file"
	OtherPhoto    = "photo"
	OtherVideo    = "video"
	OtherLocation = "location"
	OtherContact  = "contact"
	OtherUnknown  = "other"
)
