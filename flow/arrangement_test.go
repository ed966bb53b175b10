package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/calc/unit"
	"linetender/flow"
)

// TestRigStands: another plan in the middle of the list keeps the rig as long as
// that is still a go, though it finds another as good; where it can't be kept
// everybody reads what is another now and has a card that says which it
// replaces, what was looked at is asked again, and a line laid out by the old one
// is not pulled.
func TestRigStands(t *testing.T) {
	flow.Lone(t)
	flips := func(keeps bool) func(c job.Case) calc.Plan {
		return func(c job.Case) calc.Plan {
			p := reckon(c)
			if c.Load.Mass.High > unit.Tonnes(1.3) || p.Tackle == nil {
				return p
			}
			tackle := *p.Tackle
			p.Tackle = &tackle
			switch {
			case c.Tackle.Parts == 0:
				tackle.Parts, tackle.HaulFrom = 3, "standing"
			case !keeps:
				p.Decision = calc.NoGo
			}
			return p
		}
	}
	for _, keeps := range []bool{true, false} {
		for _, stage := range []flow.Stage{flow.NotBegun, flow.Held} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(stage)
			p.engine.Reckon = flips(keeps)
			before := p.job()
			if len(before.Rig) == 0 || !strings.HasPrefix(before.Rig[0], "2 ") {
				t.Fatalf("the rig on the list is %v", before.Rig)
			}
			out := p.say("Eve", "change weight 1.2 t, off the weighbridge")
			for range 4 { // the lead settles the two figures
				for _, c := range p.last["test/Ada"].Choices {
					if strings.HasPrefix(c.Choice, "differ") || strings.HasPrefix(c.Choice, "agree") {
						out = p.pressed("Ada", c.Choice)
						break
					}
				}
			}
			s := p.job()
			all := ""
			for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				all += " " + said(out["test/"+who])
			}
			if keeps {
				if !slices.Equal(s.Rig, before.Rig) || strings.Contains(all, "plan.rig_anew") {
					t.Errorf("%s: the rig is %v and was %v: %s", stage, s.Rig, before.Rig, all)
				}
				continue
			}
			if s.Rig[0] != "3 standing" || s.RigNo != before.RigNo+1 {
				t.Errorf("%s: the rig is %v, number %d", stage, s.Rig, s.RigNo)
			}
			for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
				if m := out["test/"+who]; !strings.Contains(text(m), "The rig is another now: 3 parts, hauled from the block at the anchor instead of 2 parts") {
					t.Errorf("%s: of the other rig %s is told %s", stage, who, text(m))
				}
			}
			if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
				t.Errorf("%s: it bars nothing: %s", stage, why)
			}
			if stage == flow.NotBegun && !strings.Contains(all, "nosignal.anew") {
				t.Errorf("no other cards are given out: %s", all)
			}
		}
	}
}
