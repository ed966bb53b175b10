package flow

import (
	"fmt"
	"time"
)

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
	Files  []File // pictures and papers that came; Text is what was written under them
	Place  *Place // where they say they are
	Edited bool   // an earlier message was rewritten

	Group   bool // more than one person reads this chat
	Partial bool // here the channel shows only commands, replies and presses
	Direct  bool // meant for the program: a private chat, a command, a reply to it, its name
	Local   bool // the person at the machine itself, who needs no invitation

	Piped bool // it came out of a pipe or a file: when it was entered is not known

	Away bool // nobody spoke, but the terminal of this chat has closed and nothing reaches who sat there

	Tick string // code of a job: nobody spoke, but a time came that the job waited for (Head.Wake)

	Handle string // the channel's own, for answering a press in place; handed back in Message.Handle
}

// Person is who spoke. ID is the channel's; Name is what they call themselves.
type Person struct {
	ID   string `json:"id"`
	Name string `json:"name,omitempty"`
}

// A File is a picture or a paper that somebody sent. Only what the channel
// says of it is kept, unless the operator keeps the bytes as well.
type File struct {
	Kind string `json:"kind"`           // one of the Other constants
	ID   string `json:"id"`             // the channel's, by which it hands the bytes out
	Same string `json:"same,omitempty"` // the channel's mark of equal bytes
	Name string `json:"name,omitempty"`
	Type string `json:"type,omitempty"` // such as image/jpeg
	Size int64  `json:"size,omitempty"`
	Sum  string `json:"sum,omitempty"` // SHA-256 of the bytes in hex, where they were read
}

// A Place is a spot on the earth, WGS 84, degrees.
type Place struct {
	Lat  float64 `json:"lat"`
	Lon  float64 `json:"lon"`
	Good float64 `json:"good,omitempty"` // good to so many metres, 0 where not told
}

// String writes the place as latitude and longitude, to about a metre.
func (p Place) String() string { return fmt.Sprintf("%.5f, %.5f", p.Lat, p.Lon) }

// A Press says which button it was and what it stood under.
type Press struct {
	Session  string `json:"session"`
	Revision uint64 `json:"revision"`
	Choice   string `json:"choice"`
}

// otherAway stands in the log where a terminal has closed.
const otherAway = "away"

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
