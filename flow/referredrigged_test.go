package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestReferredWithALineOnIt: a job that is for professionals in the middle of a pull
// has a line and a load to be left safely first, and that is what is offered.
func TestReferredWithALineOnIt(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Ada", "change weight 40 t")
	if s := p.job(); s.State != flow.Referred || !s.Stage.Lies() {
		t.Fatalf("40 t in a pull stand at %s, %s", s.State, s.Stage)
	}
	if got := p.last["test/Ada"].Text(); !strings.Contains(got, "nothing pulls") {
		t.Errorf("the lead is told %q", got)
	}
	if p.press("Ada", "secure_here"); p.job().Stage != flow.Securing {
		t.Errorf("secured it stands at %s, %s", p.job().State, p.job().Stage)
	}
}
