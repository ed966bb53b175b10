// Package contract holds every store to what the conversation relies on. It is
// written once: each store's own tests run it as it stands, so that one can take
// the other's place.
package contract

import (
	"bytes"
	"errors"
	"slices"
	"testing"
	"time"

	"linetender/store"
)

// Store is what stores offer to the rest of the program.
type Store interface {
	Streams
	Inbox
	Outbox
	Looking
	Keeping
	Check() error
	Close() error
}

// Streams are logs of entries, and the one way to write them.
type Streams interface {
	Commit(t store.Turn) (numbers []uint64, err error)
	Replay(stream string, after uint64, visit func(n uint64, entry []byte) error) error
	Head(stream string) (head []byte, last uint64, err error)
	Streams(prefix, from string, newestFirst bool, visit func(stream string, head []byte, last uint64, changed time.Time) error) error
	Erase(stream string) error
}

// Inbox is what has come in and had no turn.
type Inbox interface {
	Accept(source string, cursor int64, arrivals []store.Arrival) error
	Cursor(source string) (cursor int64, at time.Time, err error)
	Chats() ([]string, error)
	Next(chat string) (store.Arrival, bool, error)
	Bury(key, why string) error
}

// Outbox is what is to be sent, and what became of it.
type Outbox interface {
	Due(now time.Time, limit int, busy map[string]bool) ([]store.Due, error)
	Sent(id uint64, slot string, receipt []byte) error
	Receipt(chat, slot string) (receipt []byte, ok bool, err error)
	Delay(id uint64, until time.Time, why string) error
	Drop(id uint64, why string) error
}

// Keeping is the rest: chats that move or are forgotten, what was given up on,
// small blobs, and counts.
type Keeping interface {
	Rekey(oldChat, newChat string) error
	Forget(chat string) error
	ForgetSlots(chat, prefix string) error
	Dead(after uint64, visit func(n uint64, d store.Dead) error) error
	PruneDead(before time.Time) (removed int, err error)
	Secret(name string, make func() ([]byte, error)) ([]byte, error)
	SetSecret(name string, value []byte) error
	DeleteSecret(name string) error
	Stats() (store.Stats, error)
}

// Harness is how a store's tests make what is tested.
type Harness struct {
	// Fresh opens an empty store with the clock given; nil is time.Now.
	Fresh func(t testing.TB, now func() time.Time) Store
	// Again opens the same store anew, once it was closed.
	Again func(t testing.TB, s Store) Store
}

// Test runs the whole contract.
func Test(t *testing.T, h Harness) {
	for _, part := range []struct {
		name string
		test func(*testing.T, Harness)
	}{
		{"CommitWholeTurn", testCommitWholeTurn},
		{"CommitComparesRevision", testCommitComparesRevision},
		{"CommitOncePerUpdate", testCommitOncePerUpdate},
		{"CommitRefusedLeavesNothing", testCommitRefusedLeavesNothing},
		{"CommitRace", testCommitRace},
		{"CommitSameUpdateRace", testCommitSameUpdateRace},
		{"AcceptKeepsOrderAndSkipsRepeats", testAcceptKeepsOrderAndSkipsRepeats},
		{"AcceptManyAtOnce", testAcceptManyAtOnce},
		{"CursorMayGoBack", testCursorMayGoBack},
		{"AcceptRefusesNames", testAcceptRefusesNames},
		{"NamesStayApart", testNamesStayApart},
		{"Bury", testBury},
		{"DueInOrderUrgentFirst", testDueInOrderUrgentFirst},
		{"DelayHoldsTheChat", testDelayHoldsTheChat},
		{"SentKeepsReceipt", testSentKeepsReceipt},
		{"Drop", testDrop},
		{"DeadInOrderAndPruned", testDeadInOrderAndPruned},
		{"Rekey", testRekey},
		{"Forget", testForget},
		{"ForgetSlots", testForgetSlots},
		{"WaitingShowsWhatWaits", testWaitingShowsWhatWaits},
		{"BehindShowsWhatIsQueued", testBehindShowsWhatIsQueued},
		{"ReplayFromTheMiddle", testReplayFromTheMiddle},
		{"ReplayHandsOutCopiesAndPassesErrors", testReplayHandsOutCopiesAndPassesErrors},
		{"HeadIsReplacedOrKept", testHeadIsReplacedOrKept},
		{"Erase", testErase},
		{"StreamsInOrderOfChange", testStreamsInOrderOfChange},
		{"StreamsTellsWhenAndStops", testStreamsTellsWhenAndStops},
		{"StreamsOldestFirstMissesNone", testStreamsOldestFirstMissesNone},
		{"SecretIsMadeOnce", testSecretIsMadeOnce},
		{"StatsCount", testStatsCount},
		{"Closed", testClosed},
		{"Model", testModel},
	} {
		t.Run(part.name, func(t *testing.T) { part.test(t, h) })
	}
}

// open opens an empty store; at the end of the test it must pass its check.
func (h Harness) open(t testing.TB, now func() time.Time) Store {
	t.Helper()
	s := h.Fresh(t, now)
	t.Cleanup(func() { shut(t, s) })
	return s
}

func (h Harness) reopen(t testing.TB, s Store) Store {
	t.Helper()
	must(t, s.Close())
	s = h.Again(t, s)
	t.Cleanup(func() { shut(t, s) })
	return s
}

// shut checks and closes; a store closed before is left alone.
func shut(t testing.TB, s Store) {
	t.Helper()
	if err := s.Check(); errors.Is(err, store.ErrClosed) {
		return
	} else if err != nil {
		t.Errorf("check at the end: %v", err)
	}
	if err := s.Close(); err != nil {
		t.Errorf("close: %v", err)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// wantErr fails unless err is want.
func wantErr(t testing.TB, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Fatalf("got error %v, want %v", err, want)
	}
}

func same(t testing.TB, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

var noon = time.Date(2026, 11, 25, 12, 0, 0, 5, time.UTC)

// hands is a clock moved by hand.
type hands struct{ t time.Time }

func (h *hands) now() time.Time { return h.t }

func arrival(key, chat, body string) store.Arrival {
	return store.Arrival{Key: key, Chat: chat, At: noon, Body: []byte(body)}
}

func accept1(t testing.TB, s Store, key, chat, body string) {
	t.Helper()
	must(t, s.Accept("test", 0, []store.Arrival{arrival(key, chat, body)}))
}

func lines(entries ...string) [][]byte {
	var b [][]byte
	for _, e := range entries {
		b = append(b, []byte(e))
	}
	return b
}

// contents returns the entries of a stream after number after.
func contents(t testing.TB, s Store, stream string, after uint64) []string {
	t.Helper()
	var got []string
	must(t, s.Replay(stream, after, func(n uint64, entry []byte) error {
		if after++; n != after {
			t.Fatalf("stream %q: entry %d where %d was due", stream, n, after)
		}
		got = append(got, string(entry))
		return nil
	}))
	return got
}

// list returns the names that Streams visits.
func list(t testing.TB, s Store, prefix, from string, newestFirst bool) []string {
	t.Helper()
	var names []string
	must(t, s.Streams(prefix, from, newestFirst, func(name string, head []byte, last uint64, _ time.Time) error {
		if h, n, err := s.Head(name); err != nil || !bytes.Equal(h, head) || n != last {
			t.Errorf("stream %q is listed with %q, %d and has %q, %d (%v)", name, head, last, h, n, err)
		}
		names = append(names, name)
		return nil
	}))
	return names
}
