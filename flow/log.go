package flow

import (
	"errors"
	"time"
)

// A Write appends entries to one stream. After is the number of the last
// entry the writer had seen; if another has been appended since, the whole
// turn is refused. Head, when not nil, becomes the stream's summary.
type Write = struct {
	Stream  string
	After   uint64
	Entries [][]byte
	Head    []byte
}

// A Parcel is one message on its way to a chat. Body is a [Message] as
// [Message.Encode] writes it. Urgent parcels go ahead of all others.
type Parcel = struct {
	Chat   string
	Urgent bool
	Body   []byte
}

// A Turn is everything that one update did: it is kept whole or not at all.
type Turn = struct {
	Update string
	Chat   string
	Writes []Write
	Outbox []Parcel
}

// An Arrival is one update as its channel wrote it down.
type Arrival = struct {
	Key  string
	Chat string
	At   time.Time
	Body []byte
}

// Log keeps streams of entries in the order in which they were appended.
//
// Commit keeps one turn: its entries, the mark that its update is done, and
// what is to be sent. It returns the number of the last entry of each write,
// and only once all of it would survive a loss of power. An error for which
// [Moved] reports true means that another writer was first and nothing was
// kept; one for which [Done] reports true, that the update has had its turn.
//
// Replay visits the entries of a stream after the given number, in order.
// The bytes are the visitor's only until it returns. An unknown stream has
// no entries.
type Log interface {
	Commit(Turn) ([]uint64, error)
	Replay(stream string, after uint64, visit func(uint64, []byte) error) error
}

// Inbox keeps what has arrived until its turn is committed.
//
// Accept keeps the arrivals of a source and its cursor, durably, dropping
// those it has seen before. Next gives the oldest arrival of a chat. Bury
// takes an arrival out that can't be worked on and keeps it with the reason.
type Inbox interface {
	Accept(source string, cursor int64, arrivals []Arrival) error
	Chats() ([]string, error)
	Next(chat string) (Arrival, bool, error)
	Bury(key, why string) error
}

// Moved reports whether err says that another writer was first.
func Moved(err error) bool {
	var m interface{ Moved() bool }
	return errors.As(err, &m) && m.Moved()
}

// Done reports whether err says that the update has had its turn.
func Done(err error) bool {
	var d interface{ Done() bool }
	return errors.As(err, &d) && d.Done()
}
