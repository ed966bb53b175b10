package flow

import (
	"encoding/json"
	"fmt"
	"strings"

	"linetender/calc/unit"
	"linetender/flow/wording"
)

// A Message is one thing to be shown in one chat, in words already.
// A channel decides only how its choices look.
type Message struct {
	Version  int      `json:"v"`
	Session  string   `json:"session,omitempty"`  // code of the job it belongs to
	Revision uint64   `json:"revision,omitempty"` // goes back in Press.Revision
	Parts    []Said   `json:"parts,omitempty"`    // paragraphs, in order
	Choices  []Choice `json:"choices,omitempty"`  // buttons, in order
	Numbered bool     `json:"numbered,omitempty"` // no number answers what is asked, so that it may pick a choice
	Slot     string   `json:"slot,omitempty"`     // names this message's buttons, where it has some
	Settles  []Settle `json:"settles,omitempty"`  // earlier buttons that are over
	Urgent   bool     `json:"urgent,omitempty"`   // ahead of everything else
	Notice   bool     `json:"notice,omitempty"`   // belongs to the press with Handle: shown in place where the channel can
	Handle   string   `json:"handle,omitempty"`   // Input.Handle of the press that this answers
	Live     string   `json:"live,omitempty"`     // names one message that is kept up to date: shown once, then changed in place where the channel can
	Shows    []Show   `json:"shows,omitempty"`    // pictures and pages that go with the words, after them
}

// A Show is a picture or a page to be shown. It is made when it is sent, from
// the log as it was after entry Entry of the job, so that no parcel grows
// beyond what a store takes and a repeat shows the same.
type Show struct {
	What    string `json:"what"` // one of the Show constants
	Job     string `json:"job"`
	Entry   uint64 `json:"entry"`
	Caption string `json:"caption,omitempty"`
}

// What can be shown.
const (
	ShowRig    = "rig"    // how to lay the rig out, a picture
	ShowForce  = "force"  // where the force comes from, a picture
	ShowCard   = "card"   // the plan card, a page to print
	ShowReport = "report" // the report of the job, a page
)

// Said is one paragraph and the key of its wording.
type Said struct {
	Key  string `json:"key"`
	Text string `json:"text"`
}

// A Choice is one button. Choice is short and plain: Press carries it back.
type Choice struct {
	Choice string `json:"choice"`
	Label  string `json:"label"`
}

// A Settle takes the buttons off an earlier message and shows Text there in
// its place: the question and the answer it got.
type Settle struct {
	Slot string `json:"slot"`
	Text string `json:"text"`
}

// Text returns the paragraphs with an empty line between them.
func (m Message) Text() string {
	var b strings.Builder
	for i, p := range m.Parts {
		if i > 0 {
			b.WriteString("\n\n")
		}
		b.WriteString(p.Text)
	}
	return b.String()
}

// Overtaken returns m as a channel shows it that has said an urgent message before
// it that was written after it: headed by that, so that nobody takes what was so
// before a stop for what is so since. What is kept up to date says how it is now.
func (m Message) Overtaken(b *wording.Book) Message {
	if m.Live != "" || m.Urgent || len(m.Parts) == 0 {
		return m
	}
	text, err := b.Say(unit.Metric, wording.StopEarlier, nil)
	if err != nil {
		panic("flow: " + err.Error()) // a sentence without arguments
	}
	m.Parts = append([]Said{{Key: string(wording.StopEarlier), Text: text}}, m.Parts...)
	return m
}

// Shown is what a [Show] has been made into.
type Shown struct {
	Name  string // of a file, with its ending
	Type  string // such as image/png
	Bytes []byte
	Alt   string // in a few words what a picture says, short enough for a message
}

// messageVersion is written into every message; a channel of an older
// release refuses what a newer one left in the outbox.
const messageVersion = 1

// Encode returns the body of the parcel that carries m.
func (m Message) Encode() ([]byte, error) {
	m.Version = messageVersion
	b, err := json.Marshal(m)
	if err != nil {
		return nil, fmt.Errorf("encode message: %w", err)
	}
	return b, nil
}

// DecodeMessage reads the body of a parcel.
func DecodeMessage(body []byte) (Message, error) {
	var m Message
	if err := json.Unmarshal(body, &m); err != nil {
		return Message{}, fmt.Errorf("decode message: %w", err)
	}
	if m.Version != messageVersion {
		return Message{}, fmt.Errorf("decode message: version %d is not one this release writes", m.Version)
	}
	return m, nil
}
