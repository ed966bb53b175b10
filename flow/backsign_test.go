package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestBackAtASignature: back goes to the signature's own first question, whichever
// of its questions stands, and never to an item that others answer; whatever is
// offered with the question that it leads to is taken.
func TestBackAtASignature(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, say := range [][]string{{}, {"Ada Holm"}, {"Ada Holm", "Di"}, {"Ada Holm", "Cy", "throttle at idle"}} {
		p := toSign(t, "", "", "Bo", "Cy", "Di", "Eve")
		for _, words := range say {
			p.say("Ada", words)
		}
		got := told(p.say("Ada", "back")["test/Ada"])
		s := p.job()
		if s.State != flow.Signing || s.Topic != "sign_name" || s.Held["sign"] == "" || s.Held["sign_name"] != "" || !strings.Contains(got, "ask.sign_name") {
			t.Errorf("after %v back says %s and leads to %s, %s, with %v", say, got, s.State, s.Topic, s.Held)
		}
		for _, c := range p.last["test/Ada"].Choices {
			if got := told(p.say("Ada", "["+c.Label+"]")["test/Ada"]); strings.Contains(got, "refuse.miss") {
				t.Errorf("after %v and back, %q is offered and not read: %s", say, c.Label, got)
			}
			break // the first is the answer; it leads elsewhere
		}
	}
	p := briefed(t, "Bo", "Cy")
	p.answer("", "Ada")
	p.say("Ada", "back")
	if s := p.job(); s.State != flow.Checks {
		t.Errorf("back on the list that others answer leads to %s, %s", s.State, s.Topic)
	}
}

// TestADrillThatWasShouted: the drill's stop may be shouted: then the lead says that
// all stood. A button of a drill that is over does not.
func TestADrillThatWasShouted(t *testing.T) {
	for _, words := range []string{"foot off, all stood", "shouted: all stood", "[shouted: all stood]"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		p.say("Bo", "shouted: all stood")
		if p.stage() != flow.StopDrill {
			t.Fatalf("%q: Bo ends the drill", words)
		}
		out := p.say("Ada", words)
		if p.stage() != flow.AllPlaced || !strings.Contains(told(out["test/Cy"]), "drill.good") {
			t.Errorf("%q says %s, and %s to Cy", words, told(out["test/Ada"]), told(out["test/Cy"]))
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.StopDrill)
	p.press("Ada", "drill")
	p.say("Cy", "stop")
	p.press("Bo", "still")
	p.press("Di", "still")
	p.press("Ada", "drill_again")
	p.pressed("Ada", "drill_ok.1-0")
	if p.stage() != flow.StopDrill {
		t.Errorf("the button of a drill that did not do leads to %s", p.stage())
	}
}
