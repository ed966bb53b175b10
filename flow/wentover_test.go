package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLoadGoesOver: that the load rolled or went over, in whatever words, stops it from
// whoever sees it, says what to look at and asks how it leans; as the reason for a stop
// it ends it, and what lies on its side hands the job over.
func TestLoadGoesOver(t *testing.T) {
	flow.Lone(t)
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, row := range []struct {
		text, cause string
		lies        bool
	}{
		{"tipped over", "tips", true}, {"it fell on its side", "tips", true}, {"it rolled onto its side", "tips", true}, {"van keeled over", "tips", true},
		{"the truck is upside down", "tips", true}, {"the van is on its roof", "tips", true}, {"its lying on the side", "tips", true},
		{"the truck went over", "tips", false}, {"it flipped", "tips", false}, {"load shifted", "tips", false},
		{"load rolled", "runs", false}, {"the truck has rolled", "runs", false}, {"rolled load", "runs", false},
	} {
		for _, who := range []string{"Ada", "Cy"} {
			p := held.copied(t)
			out := p.say(who, row.text)
			s := p.job()
			if s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause != row.cause || !strings.Contains(said(out["test/Bo"]), "look."+row.cause) {
				t.Errorf("%q of %s leads to %s, %+v; Bo is told %s", row.text, who, s.State, s.Stops, said(out["test/Bo"]))
			}
			if h, _ := s.Sheet.Get("hazards"); (h == "overturned") != row.lies {
				t.Errorf("%q has the hazards %s", row.text, h)
			}
		}
		p := held.copied(t)
		p.say("Cy", "stop, "+row.text)
		for _, who := range []string{"Bo", "Di"} {
			p.pressed(who, "still")
		}
		p.say("Ada", "it went wrong and was looked at from uphill, nobody is near")
		s := p.job()
		if row.lies && s.State != flow.Referred || !row.lies && s.Settled["side_slope"] != "" {
			t.Errorf("after %q it is %s, side slope %q", row.text, s.State, s.Settled["side_slope"])
		}
	}
	for _, text := range []string{"the load tipped over", "it fell on its side"} { // as the reason, by who leads
		p := held.copied(t)
		p.say("Cy", "stop")
		for _, who := range []string{"Bo", "Di"} {
			p.pressed(who, "still")
		}
		p.say("Ada", text)
		if s := p.job(); s.State != flow.Referred || s.Stops[len(s.Stops)-1].Over == "" {
			t.Errorf("%q for a stop leads to %s", text, s.State)
		}
	}
	for _, text := range []string{"the rope lies on the side", "marks shifted to the other side"} {
		p := held.copied(t)
		if p.say("Cy", text); p.job().State == flow.Halted && p.job().Stops[len(p.job().Stops)-1].Cause == "tips" {
			t.Errorf("%q is a load that goes over", text)
		}
	}
}
