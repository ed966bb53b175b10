package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSupposedIsOnlyReckoned: what would be is answered with the decision that it would
// come to, and nothing of it is on the sheet, nor asked, nor in the next plan.
func TestSupposedIsOnlyReckoned(t *testing.T) {
	flow.Lone(t)
	light := []string{"none", "5 t weighed", "10 deg by level", "grass, not sunk, wheels turn", "uphill", "4x4 tractor 2 t on level grass, drawbar, towing eye", "nothing"}
	for words, want := range map[string]string{
		"what if weight 1 t":              "open",
		"would a 20 t tractor be enough?": "open",
		"what if the slope was 9 deg":     "no-go",
		"what if weight 40 t":             "professional",
	} {
		c := after(t, light...)
		before := c.session().Sheet
		_, plan, _ := strings.Cut(textOf(c.say("plan")), "NO-GO") // not how long ago it was reckoned
		sent := c.say(words)
		if got := textOf(sent); !strings.Contains(said(sent), "suppose.") || !strings.Contains(strings.ToLower(got), want) {
			t.Errorf("%q is answered %q, want %s", words, got, want)
		}
		s := c.session()
		if got := s.Sheet; got.Load.Mass != before.Load.Mass || got.Load.Slope != before.Load.Slope || got.Puller.Mass != before.Puller.Mass || s.State != flow.Verdict {
			t.Errorf("%q leaves %s, %s and %s at %s", words, got.Load.Mass, got.Load.Slope, got.Puller.Mass, s.State)
		}
		if _, again, _ := strings.Cut(textOf(c.say("plan")), "NO-GO"); again != plan || plan == "" {
			t.Errorf("after %q the plan is %q, before it was %q", words, again, plan)
		}
	}
}

// TestUnloadedIsWeighedAnew: what came off the load makes it no lighter before somebody
// says what it weighs now.
func TestUnloadedIsWeighedAnew(t *testing.T) {
	flow.Lone(t)
	c := after(t, "none", "5 t off the plate", "10 deg by level", "grass, not sunk, wheels turn", "uphill", "4x4 tractor 2 t on level grass, drawbar, towing eye", "nothing")
	if got := said(c.say("we unloaded the hay")); !strings.Contains(got, "ask.mass") {
		t.Fatalf("what came off leads to %s", got)
	}
	if s := c.session(); s.Sheet.Load.Mass != "5 t" {
		t.Errorf("it weighs %s", s.Sheet.Load.Mass)
	}
	if c.say("3 t weighed"); c.session().Sheet.Load.Mass != "3 t" {
		t.Errorf("weighed anew it is %s", c.session().Sheet.Load.Mass)
	}
}
