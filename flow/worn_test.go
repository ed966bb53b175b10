package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
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

// TestASlipIsAShockOnlyIfTold: gear counts as shock-loaded after a slip unless whoever leads
// says that the line never snapped tight; where it was told to, nobody is asked.
func TestASlipIsAShockOnlyIfTold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, c := range []struct {
		seen, answer string
		asked, apart bool // whether it was a shock is asked
	}{
		{"the puller slips", "[it never snapped tight]", true, false},
		{"the puller slips", "no it stayed tight, wheels only spun", true, false},
		{"the puller slips", "nope", true, false},
		{"the puller slips", "not sure, maybe once", true, true},
		{"the puller slips", "yeah it snapped tight once", true, true},
		{"the puller slips", "", true, true},
		{"it slipped, the rope went slack and then came tight with a jerk", "", false, true},
	} {
		p := at[flow.Securing].copied(t)
		p.say("Bo", c.seen)
		if !c.asked {
			if !slices.ContainsFunc(p.job().Wear(), func(e calc.Event) bool { return e.What == "jerked" }) {
				t.Errorf("%q is no shock", c.seen)
			}
			continue
		}
		p.until("on with it", func() bool { return p.has("Ada", "release") })
		p.to(flow.GearCheck)
		p.confirm()
		p.press("Ada", "release")
		p.press("Ada", "debrief.there")
		p.say("Ada", "on the lane, chocked both ways, in gear")
		asked := ""
		for range 5 {
			if asked = p.asked("Ada"); strings.Contains(asked, "snap tight") || strings.Contains(asked, "glaze") {
				break
			}
			p.press("Ada", "debrief")
		}
		if strings.Contains(asked, "snap tight") != c.asked {
			t.Errorf("%q: it is asked %s", c.seen, asked)
		}
		if strings.HasPrefix(c.answer, "[") {
			p.press("Ada", "debrief.calm")
		} else if c.answer != "" {
			p.say("Ada", c.answer)
		}
		apart := false
		for _, r := range flow.Retired(p.engine, p.job()) {
			apart = apart || r.Do == "quarantine"
		}
		if apart != c.apart {
			t.Errorf("%q, %q: gear is laid apart: %v", c.seen, c.answer, apart)
		}
	}
}
