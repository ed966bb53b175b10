package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLeadOfOneHurt: where whoever leads is told to be hurt, somebody else on the spot
// takes the lead in their own words, in the stop, and ends it; nobody hurt is asked for a
// post, and who sits at the wheel of a tight line does not lead.
func TestLeadOfOneHurt(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"i lead now", "I take the lead", "i'll take over", "ok i take over the lead"} {
		p := at[flow.Held].copied(t)
		if p.say("Cy", words); p.job().Lead.Name != "Ada" {
			t.Fatalf("%q takes the lead from one who is well", words)
		}
		p.say("Cy", "stop, Ada is hurt")
		for _, who := range []string{"Bo", "Di"} {
			p.press(who, "still")
		}
		if out := p.say("Bo", words); p.job().Lead.Name != "Ada" || strings.Contains(text(out["test/Bo"]), "Passed on") {
			t.Errorf("at the wheel Bo's %q leads to %s", words, told(out["test/Bo"]))
		}
		out := p.say("Cy", words)
		if p.job().Lead.Name != "Cy" || strings.Contains(text(out["test/Cy"]), "Ada is asked") {
			t.Fatalf("%q: %s leads, Cy reads %s", words, p.job().Lead.Name, text(out["test/Cy"]))
		}
		p.press("Cy", "all_still") // Ada answers nothing
		p.say("Cy", "Ada was hurt by the rope, she was looked at")
		s := p.job()
		if s.State != flow.Referred {
			t.Errorf("%q: Cy's reason leads to %s", words, s.State)
		}
		for _, seat := range s.Seats {
			if seat.Name == "Ada" {
				t.Errorf("Ada, hurt, has the post of %s", seat.Post.Does)
			}
		}
	}
}

// TestHandsOverInWords: the lead hands over in one breath with why, and whoever is to
// lead is asked and takes it on, at a tight line and in a stop too.
func TestHandsOverInWords(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"my phone is dying, hand over to cy", "battery is nearly empty. give the lead to Cy", "i hand over to cy now"} {
		for _, stopped := range []bool{false, true} {
			p := at[flow.Held].copied(t)
			if stopped {
				p.say("Di", "stop")
				for _, who := range []string{"Bo", "Cy"} {
					p.press(who, "still")
				}
			}
			out := p.say("Ada", words)
			if got := text(out["test/Cy"]); !strings.Contains(got, "Do you take it on?") {
				t.Errorf("%q, stopped %v: Cy is told %q", words, stopped, got)
				continue
			}
			if p.say("Cy", "i take it"); p.job().Lead.Name != "Cy" {
				t.Errorf("%q, stopped %v: %s leads", words, stopped, p.job().Lead.Name)
			}
		}
	}
}
