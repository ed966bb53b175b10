package terminal

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"linetender/flow"
)

// Scheme is what the names of this channel's chats begin with.
const Scheme = "terminal/"

// Chat is the chat of the terminal in the process that holds the store.
// Terminals that join it have chats of their own.
const Chat = Scheme + "local"

// A Line is what a terminal speaks through: a [Seat] where this process holds
// the store, else the way to the process that does.
//
// Say takes in what the person entered and returns when it has had its turn.
// Next gives the first message that the chat has not been shown, and false
// when there is none; Heard says that it has been shown. Stirs yields when
// there may be something new, and is closed when the line is cut. Parting
// says what it would mean to leave now.
type Line interface {
	Say(context.Context, Written) error
	Next(context.Context) (Parcel, bool, error)
	Heard(ctx context.Context, id uint64) error
	Stirs() <-chan struct{}
	Parting(context.Context) (Parting, error)
}

// Parting is what it means to leave.
type Parting struct {
	Part   string `json:"part,omitempty"`   // in the pull, that would be nobody's
	Others int    `json:"others,omitempty"` // terminals that would lose their line
}

// ErrCut is returned when the process that holds the store is there no more.
var ErrCut = errors.New("the process that holds the jobs has ended")

// A Parcel is a message on its way to a terminal; Body is as
// [flow.Message.Encode] writes it.
type Parcel struct {
	ID   uint64 `json:"id"`
	Body []byte `json:"body"`
}

// Written is what a person entered at once, as it stands in the inbox.
type Written struct {
	Version int         `json:"v"`
	Text    string      `json:"text,omitempty"`
	Press   *flow.Press `json:"press,omitempty"`
	Other   string      `json:"other,omitempty"`
	Files   []flow.File `json:"files,omitempty"`
	Place   *flow.Place `json:"place,omitempty"`
	Person  flow.Person `json:"person"`
	Away    bool        `json:"away,omitempty"`  // nobody entered it: the terminal has closed
	Piped   bool        `json:"piped,omitempty"` // it came out of a pipe or a file
	Offset  string      `json:"offset,omitempty"`
}

// Decode reads an arrival of this channel.
func Decode(a flow.Arrival) (flow.Input, bool, error) {
	var w Written
	if err := json.Unmarshal(a.Body, &w); err != nil {
		return flow.Input{}, false, fmt.Errorf("decode a line: %w", err)
	}
	return flow.Input{
		Text: w.Text, Press: w.Press, Other: w.Other, Files: w.Files, Place: w.Place,
		Person: w.Person, At: a.At, Offset: w.Offset, Direct: true, Local: true, Away: w.Away, Piped: w.Piped,
	}, true, nil
}
