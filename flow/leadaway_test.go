package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestTheNewLeadTakesItAfterTheOldOneLeft: who was asked to lead takes that on in words and
// by the button though whoever led has let go of the job meanwhile; the others are told to
// stay at their posts, and that one of them may lead.
func TestTheNewLeadTakesItAfterTheOldOneLeft(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"i take it", "[I take it]", "take the lead"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Ada", "hand over to Cy")
		out := p.say("Ada", "leave")
		for _, who := range []string{"Bo", "Cy", "Di", "Eve"} {
			if got := out["test/"+who]; len(got) == 0 || !got[0].Urgent || !strings.Contains(text(got), "Stay at your posts") {
				t.Errorf("of a lead who lets go at a tight line %s is told %q", who, text(got))
			}
		}
		p.say("Cy", words)
		if s := p.job(); s.Lead.Name != "Cy" {
			t.Fatalf("%q of Cy, who was asked: %s leads", words, s.Lead.Name)
		}
		n := p.job().Hold
		if p.say("Cy", "take the lead"); p.job().Hold != n {
			t.Errorf("the lead takes the lead, and the hold is another")
		}
		p.say("Cy", "go on")
		if s := p.job(); s.State == flow.Away || s.Stage != flow.Held {
			t.Errorf("%q: it stays at %s, %s", words, s.State, s.Stage)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve") // nobody was asked
	p.to(flow.Held)
	p.say("Ada", "leave")
	if p.say("Cy", "take the lead"); p.job().Lead.Name != "Cy" {
		t.Errorf("of a lead who has let go %s leads", p.job().Lead.Name)
	}
}

// TestALeadWhosePhoneDies: the crew is told that the lead does not answer and how another
// leads, which counts ten minutes after the lead's last word, and the job goes on from there.
func TestALeadWhosePhoneDies(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	told := map[string]string{}
	for range 12 {
		for chat, m := range p.tick(time.Minute) {
			told[chat] += text(m)
		}
	}
	for _, who := range []string{"Bo", "Cy", "Di"} {
		if !strings.Contains(told["test/"+who], "one of you on the spot may lead, and writes: take the lead") {
			t.Errorf("of a lead who is silent %s is told %q", who, told["test/"+who])
		}
	}
	if !strings.Contains(told["test/Ada"], "Bo has no phone. Then you say it for Bo") {
		t.Errorf("of those who don't answer the lead is told %q", told["test/Ada"])
	}
	p.say("Cy", "take the lead")
	if s := p.job(); s.Lead.Name != "Cy" || s.Stage != flow.Held {
		t.Fatalf("%s leads, at %s", s.Lead.Name, s.Stage)
	}
	p.say("Cy", "as before")
	p.say("Cy", "Ada has no phone") // they stand there, and their phone is dead
	p.crew = []string{"Cy", "Bo", "Di", "Eve"}
	for range 120 {
		if p.has("Cy", "release") || !p.willing() {
			break
		}
		p.at = p.at.Add(time.Minute)
	}
	if !p.has("Cy", "release") && !p.has("Cy", "rerig") && !p.has("Cy", "begin_pull") {
		t.Errorf("without Ada's phone it does not go on: %s, %s; Cy is asked %q %v", p.job().State, p.stage(), p.last["test/Cy"].Text(), p.last["test/Cy"].Choices)
	}
}
