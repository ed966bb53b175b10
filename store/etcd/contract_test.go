package etcd

import (
	"flag"
	"fmt"
	"io"
	"log"
	"sync/atomic"
	"testing"
	"time"

	"linetender/store/contract"
)

var silent = log.New(io.Discard, "", 0)

var names atomic.Int64

// fresh opens an empty store of its own; at the end of the test it must pass its check.
func fresh(t testing.TB, o Options) *Store {
	t.Helper()
	return open(t, oneMember(t).address(fmt.Sprint("t", names.Add(1))), o)
}

func open(t testing.TB, address string, o Options) *Store {
	t.Helper()
	s, err := Open(address, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if s.closed.Load() {
			return
		}
		if err := s.Check(); err != nil {
			t.Errorf("check at the end: %v", err)
		}
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	})
	return s
}

// TestContract holds the store to what every store must keep, word for word what
// the file is held to.
func TestContract(t *testing.T) {
	setRapid(t, campaign(20, 50, 200))
	h := contract.Harness{
		Fresh: func(t testing.TB, now func() time.Time) contract.Store { return fresh(t, Options{Now: now}) },
		Again: func(t testing.TB, s contract.Store) contract.Store {
			old := s.(*Store)
			again, err := Open(oneMember(t).address(old.prefix), Options{Now: nil})
			if err != nil {
				t.Fatal(err)
			}
			return again
		},
	}
	contract.Test(t, h)
	t.Run("Redact", func(t *testing.T) { contract.TestRedact(t, h) })
}

// setRapid sets how many runs of the model there are: each of their steps asks the members some forty times.
func setRapid(t *testing.T, checks int) {
	t.Helper()
	for name, value := range map[string]int{"rapid.checks": checks, "rapid.steps": 30} {
		old := flag.Lookup(name).Value.String()
		must(t, flag.Set(name, fmt.Sprint(value)))
		t.Cleanup(func() { _ = flag.Set(name, old) })
	}
}
