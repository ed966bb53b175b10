package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestWornGearIsNamed: by the debrief every piece that was told to be damaged, told to
// have borne too much, or there at a shock is named among what is laid apart, whoever
// told it and whatever became of it since.
func TestWornGearIsNamed(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, c := range []struct {
		who, words string
		at         flow.Stage
		want       []string
	}{
		{"Cy", "the shackle is bent", flow.GearCheck, []string{"shackle"}},
		{"Ada", "one sling is cut", flow.GearCheck, []string{"sling"}},
		{"Cy", "block was overloaded", flow.GearCheck, []string{"block"}},
		{"Cy", "the shackle got shock loaded", flow.Held, []string{"rope", "block", "shackle", "sling"}},
		{"Di", "the line got jerked", flow.Held, []string{"rope", "block", "shackle", "sling"}},
		{"Bo", "the puller slips", flow.FirstMove, []string{"rope", "block", "shackle", "sling"}},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		if c.at == flow.GearCheck {
			p.to(flow.FirstMove)
			p.press("Ada", "stands_*")
			for _, stage := range []flow.Stage{flow.Securing, flow.SlackOff, flow.SlackIsOff, flow.Unrig} {
				p.to(stage)
			}
		}
		p.to(c.at)
		p.say(c.who, c.words)
		for _, gone := range []bool{false, true} {
			if gone {
				p.say("Ada", "the stop is over, all clear")
				p.say("Ada", "without the shackle")
			}
			var got []string
			for _, r := range flow.Retired(p.engine, p.job()) {
				if r.Do == "quarantine" || r.Do == "scrap" {
					got = append(got, strings.TrimSuffix(r.Kind+r.Name, r.Kind))
					if r.Name == "" {
						got[len(got)-1] = r.Kind
					}
				}
			}
			for _, want := range c.want {
				if !slices.Contains(got, want) {
					t.Errorf("%s says %q at %s: %s is not laid apart, but %q", c.who, c.words, c.at, want, got)
				}
			}
		}
	}
}
