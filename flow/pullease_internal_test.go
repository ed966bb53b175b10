package flow

import "testing"

// TestNoItemSendsToATightLine: what is looked at on the line, its ends or its anchors waits
// for the slack line, also where a new plan asks for it for the first time.
func TestNoItemSendsToATightLine(t *testing.T) {
	for stage, waits := range map[Stage]bool{Held: true, Proving: true, HoldProved: true, LineSlack: true, AllPlaced: false, Rerig: false} {
		for _, field := range nearItems {
			if got := (&Session{Stage: stage}).itemWaits(siteCheck{field: field}); got != waits {
				t.Errorf("%s at %s waits for the slack line: %v", field, stage, got)
			}
		}
		if (&Session{Stage: stage}).itemWaits(siteCheck{field: "chocks"}) {
			t.Errorf("the chocks wait at %s", stage)
		}
	}
}
