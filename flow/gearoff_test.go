package flow_test

import (
	"reflect"
	"strings"
	"testing"

	"linetender/flow"
)

// TestGearOff: once the gear comes off what is told of it is held against what was there
// and kept; nothing is reckoned anew, no hold begins over, and a piece is missing until it
// is found.
func TestGearOff(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, c := range []struct {
		at    flow.Stage
		who   string
		words string
		to    flow.Stage
		said  string // in that chat
	}{
		{flow.Unrig, "Ada", "gears off, counted 2 shackles", flow.GearCheck, "pull.tally pull.missing"},
		{flow.Unrig, "Ada", "all off. only 2 shackles here, one missing", flow.GearCheck, "pull.tally pull.missing"},
		{flow.Unrig, "Ada", "all the kit is off and counted", flow.GearCheck, "hold.gear_check"},
		{flow.Unrig, "Ada", "gear is off except the block", flow.Unrig, ""},
		{flow.Unrig, "Ada", "gear not off yet", flow.Unrig, ""},
		{flow.Unrig, "Cy", "gear is off", flow.Unrig, "join.passed"},
		{flow.Unrig, "Cy", "got 2 of 3 shackles, cant find the other one", flow.Unrig, "pull.tally pull.missing"},
		{flow.Unrig, "Ada", "change weight 3 t", flow.Unrig, "pull.over_note"},
		{flow.Unrig, "Ada", "the block is cracked", flow.Unrig, "pull.marked"},
		{flow.Unrig, "Ada", "the holding line has a cut", flow.UnrigHeld, "stop.called"},
		{flow.Unrig, "Ada", "the shackle just snapped", flow.UnrigHeld, "stop.called"},
		{flow.GearCheck, "Cy", "counted 2 shackles", flow.GearCheck, "pull.tally pull.missing"},
		{flow.GearCheck, "Cy", "one shackle missing", flow.GearCheck, "pull.missing"},
		{flow.GearCheck, "Cy", "slope was more like 25 degrees", flow.GearCheck, "pull.over_note"},
		{flow.GearCheck, "Cy", "everything there, one sling has a cut", flow.GearCheck, "pull.marked"},
		{flow.GearCheck, "Cy", "everthing counted n looked at, all fine", flow.GearCheck, "pull.sure"},
		{flow.GearCheck, "Cy", "all counted, nothing broken", flow.GearCheck, "pull.sure"},
		{flow.GearCheck, "Cy", "all counted and fine, one shackle missing", flow.GearCheck, "pull.missing"},
	} {
		p := at[c.at].copied(t)
		was := p.job().Sheet
		out := said(p.say(c.who, c.words)["test/"+c.who])
		s := p.job()
		if s.Stage != c.to || !reflect.DeepEqual(s.Sheet, was) {
			t.Errorf("%s at %s says %q: it stands at %s, the sheet is another: %v", c.who, c.at, c.words, s.Stage, !reflect.DeepEqual(s.Sheet, was))
		}
		for _, k := range strings.Fields(c.said) {
			if !strings.Contains(out, k) {
				t.Errorf("%s at %s says %q and reads no %s: %s", c.who, c.at, c.words, k, out)
			}
		}
	}
	p := at[flow.GearCheck].copied(t)
	p.say("Cy", "counted 2 shackles")
	p.say("Cy", "found it, it hung on the load")
	if out := said(p.say("Cy", "one block, slightly frayed strop")["test/Cy"]); strings.Contains(out, "pull.missing") {
		t.Errorf("what was found is missing still: %s", out)
	}
}
