package flow_test

import (
	"fmt"
	"linetender/flow"
	"strings"
	"testing"
)

// TestHazardsComeTogether: a hazard told while another is open is not lost in it,
// and no bare "none" of the lead has either gone before somebody else has looked.
func TestHazardsComeTogether(t *testing.T) {
	flow.Lone(t)
	for _, none := range []string{"none", "its none", "[none]"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		hazards := func() string { h, _ := p.job().Sheet.Get("hazards"); return h }
		p.say("Cy", "smells of diesel")
		if got := text(p.say("Di", "theres a man sitting in the truck cab")["test/Di"]); !strings.Contains(got, "inside") {
			t.Errorf("Di is told %q", got)
		}
		if got := hazards(); got != "fuel, people-inside" {
			t.Errorf("told of both it has %q", got)
		}
		out := p.say("Ada", none)
		if got := hazards(); got != "fuel, people-inside" || len(p.job().Differs) != 1 {
			t.Fatalf("%q of the lead alone leaves %q, %d open", none, got, len(p.job().Differs))
		}
		if got := text(out["test/Bo"]); !strings.Contains(got, "Look yourself") {
			t.Errorf("after %q Bo is told %q", none, got)
		}
		p.press("Bo", fmt.Sprintf("differ.%d.was", p.job().Differs[0].Number))
		if got := hazards(); got != "none" || len(p.job().Differs) != 0 {
			t.Errorf("once Bo has looked it has %q, %d open", got, len(p.job().Differs))
		}
	}
}
