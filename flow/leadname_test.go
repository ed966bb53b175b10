package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLeadGoesByTheNameTold: who holds the lead's phone goes by the name that they
// told for themselves, whatever the channel or the machine calls them, with other
// phones in the job as well: nobody is asked through themselves.
func TestLeadGoesByTheNameTold(t *testing.T) {
	flow.Lone(t)
	p := planned(t, "Bo", "Cy", "Eve")
	in := p.input("Ada")
	in.Person.Name, in.Text = "root", "call me root"
	p.run(in)
	out := p.say("Ada", "Ada, Bo, Cy, Di")
	got := text(out["test/Ada"])
	if strings.Contains(got, "Ada has no phone") || p.job().Lead.Name != "Ada" {
		t.Errorf("the lead goes by %s and is told %q", p.job().Lead.Name, got)
	}
	p = planned(t, "Bo", "Cy", "Eve")
	in = p.input("Ada")
	in.Text = "call me root"
	p.run(in)
	p.say("Ada", "Bo, Cy, Ada, Di")
	if p.job().Lead.Name == "Bo" {
		t.Error("the lead goes by the name of somebody with a phone")
	}
}
