package store

import (
	"fmt"
	"os"
	"runtime/debug"
	"sync/atomic"
	"time"

	"go.etcd.io/bbolt"
)

// The types below are aliases of unnamed structs, so that a package that may not
// import this one can declare the same and be satisfied by a *Store.
type (
	// Write appends to one stream. After is the number of the last entry the writer
	// saw, 0 for a stream that it found empty. Head is the latest summary of the
	// stream, for listing; nil keeps the one there is. With neither Entries nor Head it
	// changes nothing and only insists that the stream has not moved.
	Write = struct {
		Stream  string
		After   uint64
		Entries [][]byte
		Head    []byte
	}

	// Parcel is one thing to send. An empty Chat means the chat of the turn.
	Parcel = struct {
		Chat   string
		Urgent bool
		Body   []byte
	}

	// Turn is what one update led to. Update is the Key of its Arrival, or empty for a
	// turn that no update caused. A stream appears in Writes at most once.
	Turn = struct {
		Update string
		Chat   string
		Writes []Write
		Outbox []Parcel
	}

	// Arrival is one update as it came in. Key is unique to the update for ever, say
	// "telegram:7:123456". At comes back in UTC.
	Arrival = struct {
		Key  string
		Chat string
		At   time.Time
		Body []byte
	}

	// Due is one parcel to send now. Tries counts the delays it has had.
	Due = struct {
		ID        uint64
		Chat      string
		Urgent    bool
		Body      []byte
		Tries     int
		NotBefore time.Time
	}
)

// Options say how a store is opened. The zero value is right for serving.
type Options struct {
	// Timeout is how long to wait for another process to let go of the file;
	// 0 means half a second.
	Timeout time.Duration
	// Keep is how long a done mark is kept at the least; 0 means ten days. A channel
	// must not redeliver an update after that.
	Keep time.Duration
	// MaxSize bounds the file, in bytes; 0 means no bound. At the bound, changes are
	// refused with ErrFull.
	MaxSize int
	// ReadOnly opens an existing file for looking only.
	ReadOnly bool
	// Now is the clock; nil means time.Now.
	Now func() time.Time
}

// Store is an open store. Its methods may be called from any goroutine.
type Store struct {
	db       *bbolt.DB
	file     *os.File // the file below db, to let go of the lock when db is past trusting
	path     string
	now      func() time.Time
	keep     time.Duration
	line     line   // changes that wait to be written
	least    uint64 // this many latest done marks outlive any age
	readOnly bool
	broken   atomic.Pointer[error] // set once; every later call returns it
	panicked atomic.Bool           // bbolt gave up in mid-call and may hold its own locks
}

// Path returns the file that the store is kept in.
func (s *Store) Path() string { return s.path }

// Close lets go of the file. Calls still running end first.
func (s *Store) Close() error {
	if s.panicked.Load() {
		return abandon(s.file)
	}
	return s.db.Close()
}

// view runs fn over one consistent state of the store.
func (s *Store) view(fn func(tx *bbolt.Tx) error) (err error) {
	if err := s.usable(); err != nil && s.panicked.Load() {
		return err
	}
	defer s.shield(&err)()
	return s.plain(s.db.View(fn))
}

func (s *Store) usable() error {
	if e := s.broken.Load(); e != nil {
		return *e
	}
	return nil
}

// shield turns a panic or a memory fault, which is how bbolt meets a damaged or
// shortened file, into ErrCorrupt. bbolt may then still hold its locks, so
// nothing is tried again on it.
func (s *Store) shield(err *error) func() {
	old := debug.SetPanicOnFault(true)
	return func() {
		debug.SetPanicOnFault(old)
		if r := recover(); r != nil {
			corrupt := fmt.Errorf("%s: %w (a page of it can't be read: %v)", s.path, ErrCorrupt, r)
			s.panicked.Store(true)
			s.broken.Store(&corrupt)
			*err = corrupt
		}
	}
}
