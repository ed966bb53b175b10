package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatHandsOverIsTheLeads: where what somebody of the crew saw hands the job over, the
// lead reads the reasons and has the card, and who told it reads that it is so.
func TestWhatHandsOverIsTheLeads(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Bite)
	out := p.say("Bo", "diesel is leaking out of the tank")
	for range 4 {
		if p.job().State == flow.Referred {
			break
		}
		for _, who := range []string{"Bo", "Cy", "Di"} {
			p.pressed(who, "still")
		}
		out = p.say("Bo", "diesel is leaking out of the tank of the load")
	}
	if p.job().State != flow.Referred {
		t.Fatalf("a leak leads to %s", p.job().State)
	}
	lead, driver := said(out["test/Ada"]), said(out["test/Bo"])
	if !strings.Contains(lead, "hazard.fuel") || !strings.Contains(lead, "card.head") || strings.Count(lead, "plan.refer") != 1 {
		t.Errorf("the lead is told %s", lead)
	}
	if strings.Contains(driver, "card.head") || strings.Count(driver, "plan.refer") != 1 {
		t.Errorf("the driver is told %s", driver)
	}
}
