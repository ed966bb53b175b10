package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatAStopIsFor: who called a stop says what it is for, others ask and tell that it
// stands, and none of that calls another; what could be another stop is one, and what it
// is for is looked at all the same.
func TestWhatAStopIsFor(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	held := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, row := range []struct {
		called, who, words string
		again              bool
		cause              string
	}{
		{"stop", "Cy", "the sling was slipping up the tree", false, "creeps"},
		{"stop", "Cy", "the sling is slipping up the tree", false, "creeps"},
		{"stop", "Cy", "sorry, a dog ran in", false, "inside"},
		{"stop", "Cy", "i said stop because a dog ran in", false, "inside"},
		{"stop", "Cy", "i stopped because the shackle cracked", false, "sound"},
		{"stop", "Bo", "i stopped because the shackle cracked", false, "sound"},
		{"stop", "Di", "ok it stopped now", false, ""},
		{"stop", "Bo", "the winch has stopped", false, ""},
		{"stop", "Di", "why did you stop?", false, ""},
		{"stop", "Ada", "why did you call stop, Cy?", false, ""},
		{"stop", "Di", "who called stop", false, ""},
		{"stop", "Cy", "the sling slips! stop!", true, "creeps"},
		{"stop", "Cy", "it rolls", true, "runs"},
		{"stop", "Cy", "Bo is hurt", true, "hurt"},
		{"stop", "Cy", "stop the winch", true, ""},
		{"stop", "Cy", "why don't you stop!", true, ""},
		{"stop", "Bo", "stop it now", true, ""},
		{"stop", "Di", "a dog is in the bend", true, "inside"},
		{"stop", "Cy", "it stopped, now it rolls again", true, "runs"},
		{"stop, a dog", "Cy", "the anchor moves", true, "anchor"},
		{"stop, the sling slips", "Cy", "the sling slipped a hand up the tree", false, "creeps"},
	} {
		p := held.copied(t)
		p.say("Cy", row.called)
		out := p.say(row.who, row.words)
		s := p.job()
		stop := s.Stops[len(s.Stops)-1]
		if s.State != flow.Halted || (stop.Calls > 0) != row.again {
			t.Errorf("after %q, %q of %s calls %d, and it is %s", row.called, row.words, row.who, stop.Calls, s.State)
		}
		if row.cause != "" && stop.Cause != row.cause {
			t.Errorf("after %q, %q is for %s", row.called, row.words, stop.Cause)
		}
		for _, who := range []string{"Ada", "Bo", "Di", "Eve"} {
			got := said(out["test/"+who])
			if strings.Contains(got, "stop.called") != row.again {
				t.Errorf("after %q, of %q %s is told %s", row.called, row.words, who, got)
			}
			if row.cause != "" && !row.again && who != row.who && !strings.Contains(got, "stop.explained") {
				t.Errorf("after %q, that it is for %q reaches %s as %s", row.called, row.words, who, got)
			}
		}
		if row.cause == "" && !row.again && !strings.Contains(text(out["test/Ada"])+text(out["test/Cy"]), row.words) {
			t.Errorf("%q is lost: %s", row.words, said(out["test/"+row.who]))
		}
	}
	// What it is for is looked at before the job goes on, said with the stop or after it.
	p := held.copied(t)
	p.say("Cy", "stop")
	p.say("Cy", "the sling was slipping up the tree")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "looked, the sling sits again, tied off")
	if s := p.job(); s.State == flow.Halted || len(s.Again) == 0 && s.Settled["site.anchor_marked"] != "" {
		t.Errorf("of the sling nothing is asked again: %s, %v", s.State, s.Again)
	}
}
