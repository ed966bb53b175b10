package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestChecksInAPull: the word that sentences of the pull propose works there: with
// nothing open it says so, and with something open it is asked.
func TestChecksInAPull(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Ada", "checks")
	if got := p.last["test/Ada"].Text(); !strings.Contains(got, "Nothing on the list is open") || p.stage() != flow.Held {
		t.Errorf("with nothing open it says %q", got)
	}
	p.say("Bo", "leave")
	p.say("Ada", "checks")
	if got := p.last["test/Ada"].Text(); strings.Contains(got, "can't be done here") || p.job().State == flow.Pulling {
		t.Errorf("with a person gone it says %q", got)
	}
}
