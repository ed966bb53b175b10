package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestAVoidHoldIsToldToAll: words at a hold point that take its plan away are told to
// everybody at once, the driver too, and a press for it says that it is void and never
// that it was released.
func TestAVoidHoldIsToldToAll(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	was := p.job().Hold
	button := map[string]string{"Bo": p.choice("Bo", "sure")}
	out := p.say("Cy", "so it is but the sling isnt padded yet")
	s := p.job()
	if s.State == flow.Pulling {
		t.Fatalf("a sling that is not padded leaves it at %s, %s", s.State, s.Stage)
	}
	for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
		if got := textOf(out["test/"+who]); !strings.Contains(got, "Hold "+strconv.Itoa(was)+" is void") {
			t.Errorf("%s is told %q", who, got)
		}
	}
	if got := textOf(p.pressed("Bo", button["Bo"])["test/Bo"]); !strings.Contains(got, "is void") || strings.Contains(got, "released already") {
		t.Errorf("a press for a void hold is told %q", got)
	}
}

// TestAnotherPlanIsToldToAll: a coordinator's word that makes another plan while the list
// is gone through is told to everybody on the spot, with what it has become; their answers
// to the old list are for none.
func TestAnotherPlanIsToldToAll(t *testing.T) {
	flow.Lone(t)
	p := briefed(t, "Bo", "Cy", "Eve")
	p.say("Cy", "yes")
	if s := p.job(); s.Marks["site.under"].Value == "" {
		t.Fatal("the first item is not answered")
	}
	out := p.say("Eve", "the van is 14 t not 2.4, it is loaded with gravel")
	s := p.job()
	if s.Marks["site.under"].Value != "" {
		t.Fatalf("14 t leaves the list as it was, %s", s.State)
	}
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "The plan has changed and is NO-GO now") {
			t.Errorf("%s is told %q", who, got)
		}
	}
}
