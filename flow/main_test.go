package flow_test

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain has the collector come seldom: the tests read jobs on all the time and
// keep little of them, and a sixth of their work was looking for it. The longest of
// them that set nothing for others run side by side.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
