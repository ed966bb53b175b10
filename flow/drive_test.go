package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestDriverKnowsHowFar: whoever drives is told of each bite how far the puller
// goes, on the card too; the others how far the load goes.
func TestDriverKnowsHowFar(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	p := at[flow.Held].copied(t)
	if !strings.Contains(text(p.say("Bo", "card")["test/Bo"]), "2 times as much rope comes in as the load goes") {
		t.Error("the driver's card does not say how far")
	}
	for stage, far := range map[flow.Stage]string{flow.LightTension: "60 cm", flow.Held: ""} {
		p := at[stage].copied(t)
		var out map[string][]flow.Message
		p.until("a release", func() bool { return p.has("Ada", "release") })
		out = p.press("Ada", "release")
		s := p.job()
		if !s.Stage.Moves() || len(s.Bites) == 0 || s.Bites[len(s.Bites)-1].Most == "" {
			t.Fatalf("%s: released it stands at %s", stage, s.Stage)
		}
		if got := text(out["test/Bo"]); !strings.Contains(got, "Driver: "+far) || !strings.Contains(said(out["test/Bo"]), "pull.drive_far") {
			t.Errorf("%s: the driver is told %s", stage, got)
		}
		if got := said(out["test/Cy"]); !strings.Contains(got, "pull.goes_far") {
			t.Errorf("%s: Cy is told %s", stage, got)
		}
	}
	// Where the driver has no phone it is the lead who tells it.
	q := readyToPull(t)
	q.to(flow.FirstMove)
	if got := q.last["test/Ada"].Text(); !strings.Contains(got, "Driver: ") {
		t.Errorf("without a driver's phone the lead is told %s", got)
	}
}

// TestTheDriversSeatIsNoHazard: the driver who says where they sit reports nobody
// inside the stuck vehicle.
func TestTheDriversSeatIsNoHazard(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	driver := ""
	for _, s := range p.job().Seats {
		if s.Post.Does == "driver" {
			driver = s.Name
		}
	}
	p.say(driver, "im in the seat behind glass window")
	if s := p.job(); s.State == flow.Referred || s.State == flow.Halted || s.Sheet.Hazards != nil && len(*s.Sheet.Hazards) > 0 || len(s.Differs) > 0 {
		t.Errorf("%s in the seat leads to %s, hazards %v, %v", driver, s.State, s.Sheet.Hazards, s.Differs)
	}
}
