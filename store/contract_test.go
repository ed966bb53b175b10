package store_test

import (
	"path/filepath"
	"testing"
	"time"

	"linetender/store"
	"linetender/store/contract"
)

// TestContract holds the store to what every store must keep.
func TestContract(t *testing.T) {
	open := func(t testing.TB, dir string, now func() time.Time) contract.Store {
		t.Helper()
		s, err := store.Open(dir, store.Options{Now: now})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	h := contract.Harness{
		Fresh: func(t testing.TB, now func() time.Time) contract.Store { return open(t, t.TempDir(), now) },
		Again: func(t testing.TB, s contract.Store) contract.Store {
			return open(t, filepath.Dir(s.(*store.Store).Path()), nil)
		},
	}
	contract.Test(t, h)
	t.Run("Redact", func(t *testing.T) { contract.TestRedact(t, h) })
}
