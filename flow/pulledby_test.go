package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestDebriefIsOfThePlanThatWasPulled: what is reckoned once the line is off was never
// rigged, and is neither what was planned nor what any piece has carried.
func TestDebriefIsOfThePlanThatWasPulled(t *testing.T) {
	flow.Lone(t)
	debriefed := func(words ...string) (rows []flow.Row, gear string) {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.GearCheck].copied(t)
		for _, w := range words {
			p.say("Ada", w)
		}
		p.confirm()
		p.press("Ada", "release")
		if p.job().State != flow.Debrief {
			t.Fatalf("after %q it stands at %s: %q", words, p.job().State, p.asked("Ada"))
		}
		rows = p.job().Rows
		p.press("Ada", "debrief.there")
		p.say("Ada", "on the lane, chocked both ways, in gear")
		for p.job().State != flow.Closed {
			if p.job().Past["gear"] == "" && p.job().Past["near:"+p.job().Lead.ID] != "" {
				return rows, text(p.say("Ada", "the shackle is bent")["test/Ada"])
			}
			p.press("Ada", "debrief")
		}
		t.Fatal("it never asked for the gear")
		return nil, ""
	}
	rows, gear := debriefed()
	other, gearOther := debriefed("change weight 3.4 t")
	if len(rows) != len(other) {
		t.Fatalf("%d rows and %d", len(rows), len(other))
	}
	for i, r := range rows {
		if other[i] != r {
			t.Errorf("what was reckoned after the pull stands as %v, and it was pulled by %v", other[i], r)
		}
	}
	if gear != gearOther {
		t.Errorf("the gear to be laid apart is\n%s\nand was\n%s", gearOther, gear)
	}
}
