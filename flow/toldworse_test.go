package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/flow"
)

// TestWorseIsTakenFromTheLead: what whoever leads tells at a hold, in passing, and makes
// the job worse off is another plan; what would make it better is a remark.
func TestWorseIsTakenFromTheLead(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for words, want := range map[string][2]string{
		"further up its deep mud": {"load.ground", "mud"}, "its boggy further up": {"load.ground", "mud"},
		"the slope gets 25 deg up there": {"load.slope", "25 deg"}, "the van is 4 t, i just saw the plate": {"load.mass", "4 t"},
	} {
		p := at[flow.Held].copied(t)
		out := text(p.say("Ada", words)["test/Ada"])
		s := p.job()
		if got, _ := s.Sheet.Get(want[0]); got != want[1] || s.State == flow.Pulling && planOf(t, s).Decision != calc.Go {
			t.Errorf("%q leaves %s at %s, %s: %q", words, want[0], got, s.State, out)
		}
	}
	for _, words := range []string{"further up its gravel", "the van is 1.5 t", "is it mud up there?"} {
		p := at[flow.Held].copied(t)
		before := flat(t, p.job().Sheet)
		if p.say("Ada", words); p.job().State != flow.Pulling || len(flat(t, p.job().Sheet)) != len(before) {
			t.Errorf("%q leads to %s", words, p.job().State)
		}
		if got, _ := p.job().Sheet.Get("load.mass"); got != before["load.mass"] {
			t.Errorf("%q makes the load %s", words, got)
		}
	}
}

// TestHeldFastStandsNot: whoever is held fast has not stood clear, is a stop, and nothing
// that the load does; a line that rides over a wheel is told what to look at.
func TestHeldFastStandsNot(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"my boot is stuck", "boot stuck in the mud", "foot's caught"} {
		p := at[flow.Held].copied(t)
		p.say("Di", words)
		s := p.job()
		if s.State != flow.Halted || len(s.Sheet.Seen) > 0 || slices.Contains(s.Stops[len(s.Stops)-1].Still, "test/Di") {
			t.Errorf("%q leads to %s, %+v, still %+v", words, s.State, s.Sheet.Seen, s.Stops)
		}
		p = at[flow.Held].copied(t)
		p.say("Cy", "stop")
		p.say("Di", "i stand still but "+words)
		if stop := p.job().Stops[len(p.job().Stops)-1]; slices.Contains(stop.Still, "test/Di") {
			t.Errorf("%q counts as standing", words)
		}
	}
	for _, words := range []string{"lines riding over the wheel", "the line is over the wheel"} {
		p := at[flow.Bite].copied(t)
		if out := said(p.say("Cy", words)["test/Cy"]); !strings.Contains(out, "look.wheel") {
			t.Errorf("%q is answered %s", words, out)
		}
	}
}
