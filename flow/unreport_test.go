package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAReportIsTakenBack: whoever reported a thing takes it back in a few words: it teaches
// nothing any more, all are told, and what was asked again stays asked.
func TestAReportIsTakenBack(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"no the SLING moved, not the puller", "sorry, the puller did not slip", "no, it didn't slip, the sling turned", "I take that back, no slip"} {
		p := at[flow.FirstMove].copied(t)
		p.say("Cy", "the wheels slip")
		if n := len(p.job().Sheet.Seen); n != 1 {
			t.Fatalf("a slip teaches %d things", n)
		}
		again := len(p.job().Again)
		other := p.copied(t)
		if other.say("Di", words); len(other.job().Sheet.Seen) != 1 {
			t.Errorf("Di takes back by %q what Cy saw", words)
		}
		out := p.say("Cy", words)
		s := p.job()
		if len(s.Sheet.Seen) != 0 || s.TimesSeen("slips") != 0 || s.Stage.Moves() {
			t.Errorf("%q leaves %+v, %+v, at %s", words, s.Sheet.Seen, s.Reports, s.Stage)
		}
		if len(s.Again) < again {
			t.Errorf("%q answers what was asked again", words)
		}
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if !strings.Contains(text(out["test/"+who]), "Cy takes back") {
				t.Errorf("of %q %s is told %q", words, who, text(out["test/"+who]))
			}
		}
	}
	p := at[flow.FirstMove].copied(t)
	p.say("Cy", "the wheels slip")
	for _, words := range []string{"no, the puller slipped, not the load", "no", "not good", "is it not the puller?"} {
		if p.say("Cy", words); len(p.job().Sheet.Seen) < 1 {
			t.Errorf("%q takes back the slip", words)
		}
	}
	p = at[flow.FirstMove].copied(t)
	p.say("Cy", "the anchor moves")
	p.say("Cy", "no, the chock moved, not the anchor")
	if s := p.job(); s.State != flow.Halted || s.Reports[0].Kind != "taken-back" {
		t.Errorf("a stop for what is taken back stands at %s, %+v", s.State, s.Reports)
	}
}
