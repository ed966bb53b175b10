package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

func fuelTold(s *flow.Session) bool {
	return s.Sheet.Hazards != nil && slices.Contains(*s.Sheet.Hazards, "fuel")
}

// TestLessWeightTakesAnotherLook: a job that was handed over for its weight is not taken
// back by a lower one of who told it; with somebody else who looked it is.
func TestLessWeightTakesAnotherLook(t *testing.T) {
	flow.Lone(t)
	for words, taken := range map[string]bool{
		"change weight 2 t": false, "it weighs 2 t": false, "change weight 2.4 t, I checked it": false, "change weight 12 t": false,
		"change weight 2 t, Gary checked it": true, "change weight 50 t": true,
	} {
		c := newChair(t)
		for _, w := range []string{"/start", "none", "40 t weighed", "10 deg", "grass, not sunk, all wheels turn", "uphill"} {
			c.say(w)
		}
		if c.session().State != flow.Referred {
			t.Fatalf("40 t stands at %s", c.session().State)
		}
		got := textOf(c.say(words))
		if s := c.session(); taken != (s.Sheet.Load.Mass != "40 t") || !taken && (s.State != flow.Referred || !strings.Contains(got, "somebody else who looked")) {
			t.Errorf("%q leaves %s at %s, and is answered %q", words, s.Sheet.Load.Mass, s.State, got)
		}
	}
}

// TestIChecked: who told of a hazard and has checked it themselves reads that somebody
// else must look.
func TestIChecked(t *testing.T) {
	for _, words := range []string{"change hazards none, I checked it", "change hazards none, i looked", "change hazards none, we have looked"} {
		c := newChair(t)
		c.say("/start")
		c.say("fuel leaking")
		if got := textOf(c.say(words)); !strings.Contains(got, "Somebody else who went and looked") || !fuelTold(c.session()) || c.session().State != flow.Referred {
			t.Errorf("%q is answered %q", words, got)
		}
	}
}

// TestAStopNamesAHazard: a hazard in the words of a stop is on the sheet, whoever calls
// it and wherever the job stands.
func TestAStopNamesAHazard(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"stop, smells of diesel", "STOP! fuel leaking", "stop i smell gas"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		out := p.say("Cy", words)
		for _, who := range []string{"Ada", "Bo", "Cy"} {
			if got := said(out["test/"+who]); !strings.Contains(got, "hazard.fuel") {
				t.Errorf("%q: %s is told %s", words, who, got)
			}
		}
		alone := readyToPull(t)
		alone.to(flow.Bite)
		alone.say("Ada", words)
		for on, s := range map[string]*flow.Session{"five phones": p.job(), "one": alone.job(), "the list": func() *flow.Session {
			c := toItem(t, "Nobody is under")
			c.say(words)
			return c.session()
		}()} {
			if s.State != flow.Halted || !fuelTold(s) {
				t.Errorf("on %s %q leaves %v at %s", on, words, s.Sheet.Hazards, s.State)
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if p.say("Cy", "stop"); fuelTold(p.job()) {
		t.Error("a bare stop names a hazard")
	}
}
