package flow_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestNobodyLeadsFromAfar: a coordinator or an observer gets the lead neither
// from its holder nor by the lead's silence; what needs eyes stays with those on
// the spot. Who joins as crew once they are there can lead.
func TestNobodyLeadsFromAfar(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	if got := told(p.say("Ada", "hand over to Eve")["test/Ada"]); !strings.HasPrefix(got, "join.lead_afar ") {
		t.Errorf("handing over to somebody afar says %s", got)
	}
	p.at = p.at.Add(11 * time.Minute)
	if got := told(p.say("Eve", "take the lead")["test/Eve"]); !strings.HasPrefix(got, "join.lead_afar_you") {
		t.Errorf("taking the lead from afar says %s", got)
	}
	if s := p.job(); s.Lead.Name != "Ada" {
		t.Fatalf("%s leads", s.Lead.Name)
	}
	n := p.job().Hold
	if got := told(p.say("Eve", "release "+strconv.Itoa(n))["test/Eve"]); !strings.HasPrefix(got, "join.not_lead") {
		t.Errorf("releasing from afar says %s", got)
	}
	if got := told(p.say("Cy", "take the lead")["test/Cy"]); !strings.Contains(got, "join.new_lead") {
		t.Errorf("somebody on the spot takes the lead: %s", got)
	}
	if got := told(p.join("Cy", "crew code", "Eve")["test/Eve"]); !strings.HasPrefix(got, "welcome.crew") {
		t.Errorf("who has come to the spot is told %s", got)
	}
	p.say("Cy", "hand over to Eve")
	if got := told(p.press("Eve", "take")["test/Eve"]); !strings.Contains(got, "join.new_lead") {
		t.Errorf("who has come to the spot is told %s", got)
	}
}
