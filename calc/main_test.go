package calc

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain has the collector come seldom: plans are made all the time and none is
// kept, and a third of the tests' work was looking for them.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
