package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhoLeadsWhereNobodyDoes: where who led has let go of a job with a tight line, whoever
// writes there is told that it waits for somebody to lead, and who is named to is asked.
func TestWhoLeadsWhereNobodyDoes(t *testing.T) {
	flow.Lone(t)
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
	p.say("Ada", "leave")
	if got := said(p.say("Di", "what now")["test/Di"]); !strings.Contains(got, "join.lead_lets_tight") || strings.Contains(got, "join.idle") {
		t.Errorf("Di is told %s", got)
	}
	p.say("Cy", "take the lead")
	if !p.has("Cy", "take") {
		t.Fatalf("Cy is asked %q", p.asked("Cy"))
	}
	q := p.copied(t)
	q.press("Cy", "take")
	if p.say("Cy", "I lead"); p.job().Lead.Name != "Cy" || q.job().Lead.Name != "Cy" || !p.job().Seats[0].Taken {
		t.Errorf("it is led by %s and %s: %+v", p.job().Lead.Name, q.job().Lead.Name, p.job().Seats)
	}
}
