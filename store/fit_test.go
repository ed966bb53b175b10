package store_test

import (
	"fmt"
	"log"
	"os"
	"time"

	"linetender/store"
)

// What a package that may not import store declares for itself, word for word in
// std types. That these are satisfied is the point of the store's unnamed structs.
type (
	write = struct {
		Stream  string
		After   uint64
		Entries [][]byte
		Head    []byte
	}
	parcel = struct {
		Chat   string
		Urgent bool
		Body   []byte
	}
	turn = struct {
		Update string
		Chat   string
		Writes []write
		Outbox []parcel
	}
	arrival = struct {
		Key  string
		Chat string
		At   time.Time
		Body []byte
	}
	due = struct {
		ID        uint64
		Chat      string
		Urgent    bool
		Body      []byte
		Tries     int
		NotBefore time.Time
	}
)

var (
	_ interface {
		Commit(t turn) (numbers []uint64, err error)
		Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
		Head(stream string) (head []byte, last uint64, err error)
		Streams(prefix, from string, newestFirst bool, visit func(stream string, head []byte, last uint64, changed time.Time) error) error
	} = (*store.Store)(nil)
	_ interface {
		Accept(source string, cursor int64, arrivals []arrival) error
		Cursor(source string) (cursor int64, at time.Time, err error)
		Chats() ([]string, error)
		Next(chat string) (arrival, bool, error)
		Bury(key, why string) error
	} = (*store.Store)(nil)
	_ interface {
		Due(now time.Time, limit int, busy map[string]bool) ([]due, error)
		Sent(id uint64, slot string, receipt []byte) error
		Receipt(chat, slot string) ([]byte, bool, error)
		Delay(id uint64, until time.Time, why string) error
		Drop(id uint64, why string) error
		Rekey(oldChat, newChat string) error
	} = (*store.Store)(nil)
	_ interface {
		Secret(name string, make func() ([]byte, error)) ([]byte, error)
		SetSecret(name string, value []byte) error
		DeleteSecret(name string) error
	} = (*store.Store)(nil)
)

// One update from its arrival to the answer that is sent.
func Example() {
	dir, err := os.MkdirTemp("", "store")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	s, err := store.Open(dir, store.Options{})
	if err != nil {
		log.Fatal(err)
	}
	defer s.Close()

	// Durable first, then acknowledged to the channel.
	in := store.Arrival{Key: "telegram:7:1001", Chat: "-42", At: time.Now(), Body: []byte("2.4 t")}
	if err := s.Accept("telegram:7", 1002, []store.Arrival{in}); err != nil {
		log.Fatal(err)
	}

	// The turn: all of it or nothing.
	a, _, err := s.Next("-42")
	if err != nil {
		log.Fatal(err)
	}
	_, after, err := s.Head("session/KX4")
	if err != nil {
		log.Fatal(err)
	}
	numbers, err := s.Commit(store.Turn{
		Update: a.Key, Chat: a.Chat,
		Writes: []store.Write{{Stream: "session/KX4", After: after, Entries: [][]byte{[]byte("heard 2.4 t"), []byte("asked grade")}}},
		Outbox: []store.Parcel{{Body: []byte("How steep is the ground?")}},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("last entry", numbers[0])

	// The sender, on its own.
	out, err := s.Due(time.Now(), 10, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range out {
		fmt.Printf("to %s: %s\n", p.Chat, p.Body)
		if err := s.Sent(p.ID, "live", []byte("message 77")); err != nil {
			log.Fatal(err)
		}
	}

	// Delivered again, the update has no second effect.
	_, err = s.Commit(store.Turn{Update: a.Key})
	fmt.Println(err)
	// Output:
	// last entry 2
	// to -42: How steep is the ground?
	// commit a turn: update "telegram:7:1001": the update is done already
}
