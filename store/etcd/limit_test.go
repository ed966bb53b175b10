package etcd

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	clientv3 "go.etcd.io/etcd/client/v3"

	"linetender/store"
)

// turnOf is a turn of so many parts: parcels, the mark and the inbox's row.
func turnOf(parts int) store.Turn {
	return store.Turn{Update: "k", Chat: "c", Outbox: slices.Repeat([]store.Parcel{{Body: []byte("b")}}, parts-2)}
}

// large is a turn of many entries.
func large(entries, each int) store.Turn {
	return store.Turn{Writes: []store.Write{{Stream: "s", Entries: slices.Repeat([][]byte{bytes.Repeat([]byte("x"), each)}, entries)}}}
}

// At the members' limits a turn is made, beyond them it is refused whole.
func TestLimits(t *testing.T) {
	for name, tt := range map[string]struct {
		turn store.Turn
		ok   bool
	}{
		"as many parts as are taken": {turnOf(128), true},
		"one part too many":          {turnOf(129), false},
		"many entries":               {large(10_000, 100), true},
		"as large as is taken":       {large(100, 15_500), true},
		"too large":                  {large(100, 15_900), false},
		"one entry too large":        {large(1, 3<<19), false},
	} {
		s := fresh(t, Options{})
		_, err := s.Commit(tt.turn)
		if tt.ok {
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if !errors.Is(err, ErrLarge) {
			t.Errorf("%s: got %v, want ErrLarge", name, err)
		}
		n, err := s.Stats()
		must(t, err)
		if n.Streams+n.Unsent+n.Marks != 0 {
			t.Errorf("%s: part of it was written: %+v", name, n)
		}
	}
	// What must not be split is refused; what may be is not.
	s := fresh(t, Options{})
	var many []store.Arrival
	for i := range 500 {
		many = append(many, arrival(fmt.Sprint("k", i), "c"))
		many[i].Body = bytes.Repeat([]byte("b"), 20_000)
	}
	must(t, s.Accept("x", 7, many))
	if n, err := s.Stats(); err != nil || n.Waiting != 500 {
		t.Errorf("%d wait, %v", n.Waiting, err)
	}
}

// A done mark goes when its time has come, and not before.
func TestMarksGoWithTheirLease(t *testing.T) {
	s := fresh(t, Options{Keep: time.Second})
	_, err := s.Commit(store.Turn{Update: "k"})
	must(t, err)
	if _, err := s.Commit(store.Turn{Update: "k"}); !errors.Is(err, store.ErrDone) {
		t.Fatalf("got %v, want ErrDone", err)
	}
	until(t, "the mark is gone", func() bool {
		n, err := s.Stats()
		must(t, err)
		return n.Marks == 0
	})
	// The lease is gone with it, and the store gets another when it finds out.
	s.marks.mu.Lock()
	s.marks.until = time.Now().Add(time.Hour)
	s.marks.mu.Unlock()
	_, err = s.Commit(store.Turn{Update: "k"})
	must(t, err)
}

// A bit that flipped is found by whoever reads it, and by Check.
func TestChangedValuesAreNoticed(t *testing.T) {
	s, err := Open(oneMember(t).address(fmt.Sprint("t", names.Add(1))), Options{})
	must(t, err)
	defer s.Close()
	must(t, s.Accept("source", 1, []store.Arrival{arrival("k1", "c"), arrival("k2", "c")}))
	_, err = s.Commit(store.Turn{Update: "k1", Writes: []store.Write{{Stream: "s", Entries: [][]byte{[]byte("e")}, Head: []byte("h")}},
		Outbox: []store.Parcel{{Chat: "c", Body: []byte("1")}, {Chat: "c", Body: []byte("2")}}})
	must(t, err)
	due, err := s.Due(noon, 1, nil)
	must(t, err)
	must(t, s.Sent(due[0].ID, "slot", []byte("r")))
	must(t, s.Accept("source", 0, []store.Arrival{arrival("k3", "c")}))
	must(t, s.Bury("k3", "why"))
	must(t, s.SetSecret("name", []byte("v")))
	must(t, s.Check())
	for _, kind := range []string{"e/", "n/", "s/", "h/", "w/i/", "w/o/", "d/", "r/", "x/", "c/", "k/", "m/"} {
		got, err := s.client.Get(t.Context(), s.key(kind, ""), clientv3.WithPrefix(), clientv3.WithLimit(1))
		must(t, err)
		if len(got.Kvs) == 0 {
			t.Fatalf("there is no row of kind %s: this shows nothing", kind)
		}
		kv := got.Kvs[0]
		sound := string(kv.Value)
		kv.Value[0] ^= 1
		_, err = s.client.Put(t.Context(), string(kv.Key), string(kv.Value))
		must(t, err)
		if err := s.Check(); !errors.Is(err, store.ErrCorrupt) {
			t.Errorf("a value of %s was changed: Check says %v", kind, err)
		}
		if strings.HasPrefix(kind, "w/") {
			until(t, "the mirror notices", func() bool {
				_, _, next := s.Next("c")
				_, due := s.Due(noon, 9, nil)
				return errors.Is(next, store.ErrCorrupt) && errors.Is(due, store.ErrCorrupt)
			})
		} else if err := readAll(s); !errors.Is(err, store.ErrCorrupt) && kind != "d/" && kind != "m/" {
			t.Errorf("a value of %s was changed: reading gives %v", kind, err)
		}
		_, err = s.client.Put(t.Context(), string(kv.Key), sound)
		must(t, err)
		until(t, "all is well again", func() bool {
			_, _, next := s.Next("c")
			return errors.Join(s.Check(), readAll(s), next) == nil
		})
	}
}

func readAll(s *Store) error {
	_, _, head := s.Head("s")
	replay := s.Replay("s", 0, func(uint64, []byte) error { return nil })
	list := s.Streams("", "", false, func(string, []byte, uint64, time.Time) error { return nil })
	dead := s.Dead(0, func(uint64, store.Dead) error { return nil })
	_, _, receipt := s.Receipt("c", "slot")
	_, _, cursor := s.Cursor("source")
	_, secret := s.Secret("name", nil)
	return errors.Join(head, replay, list, dead, receipt, cursor, secret)
}
