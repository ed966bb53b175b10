package flow

import (
	"encoding/json"
	"fmt"
	"strings"
)

// A Message is one thing to be shown in one chat, in words already.
// A channel decides only how its choices look.
type Message struct {
	Version  int      `json:"v"`
	Session  string   `json:"session,omitempty"`  // code of the job it belongs to
	Revision uint64   `json:"revision,omitempty"` // goes back in Press.Revision
	Parts    []Said   `json:"parts,omitempty"`    // paragraphs, in order
	Choices  []Choice `json:"choices,omitempty"`  // buttons, in order
	Slot     string   `json:"slot,omitempty"`     // names this message's buttons, where it has some
	Settles  []Settle `json:"settles,omitempty"`  // earlier buttons that are over
	Urgent   bool     `json:"urgent,omitempty"`   // ahead of everything else
	Notice   bool     `json:"notice,omitempty"`   // belongs to the press with Handle: shown in place where the channel can
	Handle   string   `json:"handle,omitempty"`   // Input.Handle of the press that this answers
}

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
