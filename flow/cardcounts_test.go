package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheSameCardCountsAgain: where a job is no go for a while and then a go by the same
// plan, no phone gets the card that it has a second time, but is told that it counts; a
// card that says another thing is handed out whole.
func TestTheSameCardCountsAgain(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	issued := p.job().Issued["test/Bo"]
	if got := told(p.say("Ada", "change weight 5 t")["test/Bo"]); !strings.Contains(got, "nosignal.void") {
		t.Fatalf("Bo is told %s", got)
	}
	q := p.copied(t)
	if got := told(q.say("Ada", "change weight 2.3 t weighed")["test/Bo"]); !strings.Contains(got, "nosignal.head") || q.job().Issued["test/Bo"] != issued+1 {
		t.Errorf("of another plan Bo is told %s", got)
	}
	got := map[string]string{}
	for to, m := range p.say("Ada", "change weight 2.4 t weighed") {
		got[to] = told(m)
	}
	for _, who := range []string{"Ada", "Bo", "Di", "Eve"} {
		if all := got["test/"+who]; strings.Count(all, "nosignal.counts") != 1 || strings.Contains(all, "nosignal.head") {
			t.Errorf("%s is told %q", who, all)
		}
	}
	if n := p.job().Issued["test/Bo"]; n != issued {
		t.Errorf("Bo has card %d, had %d", n, issued)
	}
}
