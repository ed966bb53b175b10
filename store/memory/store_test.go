package memory_test

import (
	"testing"
	"time"

	"linetender/store/contract"
	"linetender/store/memory"
)

// TestContract holds the store to what every store must keep, so that a
// benchmark on it does all that the program does but write.
func TestContract(t *testing.T) {
	h := contract.Harness{
		Fresh: func(_ testing.TB, now func() time.Time) contract.Store { return memory.New(now) },
		Again: func(_ testing.TB, s contract.Store) contract.Store { return s.(*memory.Store).Reopen() },
	}
	contract.Test(t, h)
	t.Run("Redact", func(t *testing.T) { contract.TestRedact(t, h) })
}
