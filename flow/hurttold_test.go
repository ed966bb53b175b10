package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestHurtIsExplained: who was hurt and who has them now, told while the stop for it is
// on, calls no other, by whoever it is told; somebody else who is hurt does, and so does
// the same one who still is.
func TestHurtIsExplained(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for text, again := range map[string]bool{
		"Di broke her arm, she is in the ambulance":                      false,
		"Di broke her arm, she's with the paramedics":                    false,
		"she broke her arm, she is being looked after":                   false,
		"Cy broke his arm, he is in the ambulance":                       true,
		"Di broke her arm, she is in the ambulance, Cy cut his hand too": true,
		"Di is bleeding badly":                                           true,
		"somebody else is hurt, he is with the paramedics":               true,
	} {
		for _, who := range []string{"Ada", "Eve"} {
			p := at.copied(t)
			p.say("Cy", "stop, Di broke her arm")
			for _, on := range []string{"Bo", "Di", "Cy", "Eve"} {
				p.pressed(on, "still")
			}
			out := p.say(who, text)
			s := p.job()
			if stop := s.Stops[len(s.Stops)-1]; (stop.Calls > 0) != again {
				t.Errorf("%q of %s calls it again %v: %s", text, who, stop.Calls > 0, said(out["test/"+who]))
			}
			if who == "Eve" && !again && !strings.Contains(said(out["test/Eve"]), "stop.words_kept") {
				t.Errorf("Eve is told %s", said(out["test/Eve"]))
			}
			if who == "Ada" && !again && s.State != flow.Referred {
				t.Errorf("after %q it is %s", text, s.State)
			}
		}
	}
	p := at.copied(t)
	p.say("Cy", "stop, Di broke her arm")
	for _, on := range []string{"Bo", "Di"} {
		p.pressed(on, "still")
	}
	p.say("Ada", "Di broke her arm, she is in the ambulance")
	if out := p.say("Ada", "Bo is hurt too"); p.job().State != flow.Halted {
		t.Errorf("with the job handed over and the line tight another who is hurt leads to %s: %s", p.job().State, said(out["test/Ada"]))
	}
}

// TestHurtHoldNothing: nobody who is hurt is told to stay at a part, nor is anybody but
// whoever drives told what only they have in hand.
func TestHurtHoldNothing(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	p := at.copied(t)
	p.say("Di", "stop, i hurt my hand")
	if got := text(p.say("Di", "leave")["test/Di"]); strings.Contains(got, "Stay at this") || !strings.Contains(got, "You are hurt") {
		t.Errorf("Di, hurt, leaves and is told %q", got)
	}
	p = at.copied(t)
	p.say("Cy", "stop, Di is hurt")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	out := p.say("Ada", "Di was hurt by the rope, she was looked at")
	if got := text(out["test/Di"]); strings.Contains(got, "Hold where you are") || !strings.Contains(got, "you have no part now") {
		t.Errorf("Di, hurt, is told %q", got)
	}
	for _, who := range []string{"Cy", "Di", "Eve"} {
		if got := strings.ToLower(text(out["test/"+who])); strings.Contains(got, "foot off") {
			t.Errorf("%s has no pedal and is told %q", who, got)
		}
	}
	if got := text(p.say("Eve", "leave")["test/Eve"]); strings.Contains(got, "You are hurt") {
		t.Errorf("Eve, not hurt, is told %q", got)
	}
}
