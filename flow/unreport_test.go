package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAReportIsTakenBack: whoever reported a thing takes it back in a few words: it teaches
// nothing any more, all are told, nothing was shocked by it, and what was asked again for it
// and for nothing else is so no more.
func TestAReportIsTakenBack(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"no the SLING moved, not the puller", "sorry, the puller did not slip", "no, it didn't slip, the sling turned", "I take that back, no slip",
		"no sorry that was the rachet clickin, winch dint slip", "winch didn't slip", "the tractor dint slip", "the puller did not slip at all",
		"report was wrong, the puller did not slip", "the report was wrong", "take back the puller slips", "take back it slips", "I take back that the wheels slip"} {
		p := at[flow.FirstMove].copied(t)
		p.say("Cy", "the wheels slip")
		if n := len(p.job().Sheet.Seen); n != 1 {
			t.Fatalf("a slip teaches %d things", n)
		}
		again := len(p.job().Again)
		other := p.copied(t)
		if other.say("Di", words); len(other.job().Sheet.Seen) < 1 || len(other.job().Sheet.Seen) > 1 && !strings.HasPrefix(words, "no") {
			t.Errorf("Di takes back by %q what Cy saw", words)
		}
		out := p.say("Cy", words)
		s := p.job()
		if len(s.Sheet.Seen) != 0 || s.TimesSeen("slips") != 0 || s.Stage.Moves() {
			t.Errorf("%q leaves %+v, %+v, at %s", words, s.Sheet.Seen, s.Reports, s.Stage)
		}
		// Where something else moved, it stays asked; else it was asked for nothing that was seen.
		if else1 := strings.Contains(words, "sling") || strings.Contains(words, "SLING"); else1 && len(s.Again) < again {
			t.Errorf("%q answers what was asked again", words)
		} else if !else1 && len(s.Again) > 0 {
			t.Errorf("%q leaves asked for a slip that nobody saw: %+v", words, s.Again)
		}
		if !strings.Contains(strings.ToLower(words), "sling") {
			for _, w := range s.Worn {
				t.Errorf("%q leaves %+v as shocked by it", words, w)
			}
		}
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if !strings.Contains(text(out["test/"+who]), "Cy takes back") {
				t.Errorf("of %q %s is told %q", words, who, text(out["test/"+who]))
			}
		}
	}
	p := at[flow.FirstMove].copied(t)
	p.say("Cy", "the wheels slip")
	for _, words := range []string{"no, the puller slipped, not the load", "no", "not good", "is it not the puller?", "did the winch not slip?", "the load didn't slip", "the chocks did not slip", "the winch doesn't slip any more", "take back the rope", "take back the anchor moves"} {
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

// TestAMachineNamedInPassingPullsNothing: once the rig stands, what pulls is another only
// where that is told with more than its name, asked, or changed by a change.
func TestAMachineNamedInPassingPullsNothing(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, who := range []string{"Ada", "Cy"} {
		for _, words := range []string{"the winch is fine", "winch is ok now", "that was the winch", "the digger is parked there"} {
			p := at[flow.FirstMove].copied(t)
			p.say("Cy", "the wheels slip")
			before := len(p.job().Differs)
			out := p.say(who, words)
			s := p.job()
			if s.Sheet.Puller.Kind != "wheeled" || s.Sheet.Puller.Name != "tractor" || len(s.Differs) != before {
				t.Errorf("%q of %s makes %+v of the puller, with %+v", words, who, s.Sheet.Puller, s.Differs)
			}
			if text(out["test/"+who]) == "" {
				t.Errorf("%s gets no answer to %q", who, words)
			}
		}
	}
	p := at[flow.FirstMove].copied(t)
	p.say("Cy", "the wheels slip")
	p.say("Ada", "change puller hand winch 1.6 t")
	if kind := p.job().Sheet.Puller.Kind; kind != "hand-winch" {
		t.Errorf("a change leaves %q as the puller", kind)
	}
}
