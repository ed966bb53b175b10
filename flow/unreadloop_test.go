package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestNothingWrongEndsIt: that nothing is wrong with what was not read ends it, typed as
// pressed, and is itself never what was not read.
func TestNothingWrongEndsIt(t *testing.T) {
	for _, good := range []string{"no, Gerd checked it", "no", "no it stands straight"} {
		c := newChair(t)
		c.until(readAnswers(t, answersDir+"/s01-go-two-parts.txt"), "verdict")
		c.say("change anchor's lean")
		c.say("2")
		c.say("zorble tree")
		if got := textOf(c.say(good)); !strings.Contains(got, "You also wrote") {
			t.Errorf("%q: what was not read is not put back: %s", good, got)
		}
		if got := textOf(c.say("nothing wrong")); strings.Contains(got, "You also wrote") || strings.Contains(got, "can't read that") || len(c.session().Unread) > 0 {
			t.Errorf("%q, nothing wrong: %s", good, got)
		}
	}
}

// TestAQuestionHoldsNothingUp: whoever asks whether it goes on, or says that nothing is wrong,
// tells of nothing that could be; a question that may mean something does.
func TestAQuestionHoldsNothingUp(t *testing.T) {
	flow.Lone(t)
	at := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	at.to(flow.AllPlaced)
	for words, left := range map[string]bool{
		"can we go?": false, "can we go now": false, "so can we start pulling?": false, "what now?": false, "are we ready?": false, "how long still?": false, "whos next?": false,
		"is it my turn?": false, "nothing wrong": false, "when do we start?": false, "should we go on then?": false, "are you there?": false,
		"the wheel nuts look queer to me but we keep going": true, "why does the truck hum": true,
	} {
		p := at.copied(t)
		p.say("Cy", words)
		if s := p.job(); s.State == flow.Pulling && len(s.Unread) > 0 != left {
			t.Errorf("%q is left open: %v", words, s.Unread)
		}
	}
}
