package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAFlatPhoneAtAHold: that somebody's phone is flat or silent stops nothing where all
// stands: it stays held under another number, and whoever leads reads how others answer for
// them; while the puller moves it is a signal lost.
func TestAFlatPhoneAtAHold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, row := range []struct {
		stage      flow.Stage
		who, words string
		stop       bool
	}{
		{flow.Held, "Ada", "Bo's phone is dead", false}, {flow.Held, "Ada", "Bo's battery is flat", false}, {flow.LightTension, "Ada", "Di is not answering", false},
		{flow.Held, "Cy", "Bo's phone died", false}, {flow.Bite, "Ada", "Bo's phone is dead", true}, {flow.Held, "Ada", "radio is dead", true},
	} {
		p := at[row.stage].copied(t)
		hold := p.job().Hold
		out := p.say(row.who, row.words)
		s := p.job()
		if s.State == flow.Halted != row.stop {
			t.Errorf("at %s %q leads to %s", row.stage, row.words, s.State)
		}
		if got := said(out["test/Ada"]); !row.stop && (s.Hold == hold || !strings.Contains(got, "remind.ways")) {
			t.Errorf("at %s %q: hold %d, Ada reads %s", row.stage, row.words, s.Hold, got)
		}
	}
}
