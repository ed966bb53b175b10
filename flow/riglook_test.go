package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatIsRiggedIsSeenByTwo: who rigged says that another rig stands there than the
// card has: the lead's word alone does not settle that it is as on the card; whoever
// rigged, or another who looked, says so too. That it is as they told the lead settles.
func TestWhatIsRiggedIsSeenByTwo(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Rerig]
	for _, second := range []string{"Cy", "Di"} {
		p := at.copied(t)
		p.say("Cy", "rigged anew but with 4 parts")
		out := p.say("Ada", "as on the card")
		if v, _ := p.job().Sheet.Get("tackle.parts"); len(p.job().Differs) != 1 || v != "4" || !strings.Contains(told(out["test/Ada"]), "differ.rig_waved") {
			t.Fatalf("by the lead's word alone it is %q, %v: %s", v, p.job().Differs, told(out["test/Ada"]))
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Errorf("nothing keeps the pull: %s", why)
		}
		if got := p.last["test/"+second].Text(); !strings.Contains(got, "Look at the rig yourself") {
			t.Errorf("%s is asked %q", second, got)
		}
		p.at = p.at.Add(20e9)
		for _, c := range p.last["test/"+second].Choices {
			if strings.HasSuffix(c.Choice, ".was") {
				p.pressed(second, c.Choice)
			}
		}
		if v, _ := p.job().Sheet.Get("tackle.parts"); len(p.job().Differs) != 0 || v != "" {
			t.Errorf("%s has looked, and it is %q, %v", second, v, p.job().Differs)
		}
	}
	p := at.copied(t)
	p.say("Cy", "rigged anew but with 4 parts")
	p.say("Ada", "Cy is right")
	if v, _ := p.job().Sheet.Get("tackle.parts"); len(p.job().Differs) != 0 || v != "4" {
		t.Errorf("that it is as told leaves %q, %v", v, p.job().Differs)
	}
}
