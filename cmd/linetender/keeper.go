package main

import (
	"context"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"linetender/flow"
	"linetender/flow/archive"
	"linetender/store"
)

// Store is a store as the program uses it: the file in the data folder, or what another build of
// the program opens. Package store/contract says what each must keep.
type Store interface {
	flow.Log
	flow.Inbox
	archive.Source
	lookout
	outbox
	keeping
}

// lookout is what of the inbox is asked for beyond what the desk needs.
type lookout interface {
	Cursor(source string) (cursor int64, at time.Time, err error)
	Waiting(visit func(flow.Arrival) bool) error
	Behind(chat string, id uint64, limit int, visit func(body []byte) bool) error
}

// outbox is what the channels need.
type outbox interface {
	Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error)
	Sent(id uint64, slot string, receipt []byte) error
	Receipt(chat, slot string) (receipt []byte, ok bool, err error)
	Delay(id uint64, until time.Time, why string) error
	Drop(id uint64, why string) error
}

// keeping is the rest: what is taken out, small blobs, and how it is.
type keeping interface {
	Erase(stream string) error
	Redact(w flow.Write, redone map[uint64][]byte) error
	Forget(chat string) error
	ForgetSlots(chat, prefix string) error
	PruneDead(before time.Time) (removed int, err error)
	Secret(name string, make func() ([]byte, error)) ([]byte, error)
	SetSecret(name string, value []byte) error
	Stats() (store.Stats, error)
	Check() error
	Path() string
	Close() error
}

// A keeper is an open store and this process's part in it.
type keeper struct {
	Store       // all of it
	own   Store // what this process works on; all of it where no other process does

	// events, when not nil, takes what is to be called when something may have arrived or
	// may be to be sent, by whichever process, and when chats have come to this one.
	events func(arrived, posted, taken func())

	// lead runs work while this process holds the post, of which there is one among all that
	// work on the store; nil where this is the only one.
	lead func(ctx context.Context, post string, work func(context.Context) error) error

	// takeOver brings over what a file holds, or its logs only, and says what was done; nil for a file.
	takeOver func(from *store.Store, ahead bool) (said string, err error)

	// figures, when not nil, are for the metrics.
	figures func() []figure
}

// figure is one figure for the metrics, without the program's name in front.
type figure = struct {
	Name  string
	Help  string
	Rises bool // it counts, and only goes up
	Value float64
}

// openers open a store at an address, by the address's scheme. This build has none but the
// file; a build that has more puts them here as it starts.
var openers = map[string]func(address, process string) (*keeper, error){}

// openKeeper opens the store at address, or the file in dir where there is none. process is
// what this one is called where there are several; empty for one that works on no chat.
func openKeeper(c *cobra.Command, address, dir, process string) (*keeper, error) {
	if address == "" {
		st, err := store.Open(dir, store.Options{})
		if err != nil {
			return nil, err
		}
		return &keeper{Store: st, own: st}, nil
	}
	scheme, _, ok := strings.Cut(address, "://")
	if !ok {
		return nil, wrongCall("%s: %q is no address; write one such as etcd://10.0.0.1,10.0.0.2,10.0.0.3", c.CommandPath(), address)
	}
	open := openers[scheme]
	if open == nil {
		return nil, wrongCall("%s: this build keeps jobs in the data folder only; the guide for developers says how one is built that can use etcd", c.CommandPath())
	}
	return open(address, process)
}

// leading runs work while this process leads.
func (k *keeper) leading(ctx context.Context, post string, work func(context.Context) error) error {
	if k.lead == nil {
		return work(ctx)
	}
	return k.lead(ctx, post, work)
}
