package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLoadLeftOnItsSlope: a load that is secured short of where it was to come to is
// unrigged only after two have said what keeps it there, and its holding line is never
// ordered off; one that arrived has stood with that line slack, as two say.
func TestLoadLeftOnItsSlope(t *testing.T) {
	flow.Lone(t)
	for _, arrived := range []bool{false, true} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		if arrived {
			p.say("Ada", "it is up on the road")
		}
		p.to(flow.SlackIsOff)
		asked := map[string]string{}
		for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
			asked[who] = p.last["test/"+who].Text()
		}
		if p.has("Ada", "release") {
			t.Error("a release is offered before anybody has confirmed")
		}
		p.confirm()
		p.press("Ada", "release")
		for _, who := range []string{"Ada", "Bo", "Di"} {
			order := p.last["test/"+who].Text()
			if off := strings.Contains(order, "holding line last"); off != arrived {
				t.Errorf("arrived %t: %s is told %q", arrived, who, order)
			}
			if !arrived && !strings.Contains(order, "STAYS ON") {
				t.Errorf("%s is told %q", who, order)
			}
		}
		who, words := []string{"Ada", "Cy"}, "When all have gone"
		if arrived {
			who, words = []string{"Ada", "Bo"}, "with the holding line slack as well"
		}
		for _, name := range who {
			if !strings.Contains(asked[name], words) {
				t.Errorf("arrived %t: %s is asked %q", arrived, name, asked[name])
			}
		}
	}
}

// TestStopWhileUnriggingAsksForItsReason: a stop while the load is secured or unrigged
// waits for two who have looked at what it was for; before that no release is offered,
// and nothing is listed that isn't asked there.
func TestStopWhileUnriggingAsksForItsReason(t *testing.T) {
	flow.Lone(t)
	for _, stage := range []flow.Stage{flow.Securing, flow.SlackIsOff, flow.Unrig} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Bo", "took in 60 cm, moved 10 cm") // questions are open, and nothing is pulled by them
		p.press("Cy", "mark_stands")              // more came in than the load moved: the anchor is asked after first
		p.say("Ada", "secure it here")
		p.say("Ada", "secure it here")
		p.to(stage)
		p.say("Bo", "stpo its rolling back!!")
		for _, who := range []string{"Cy", "Di"} {
			p.pressed(who, "still")
		}
		p.say("Ada", "a chock slipped, put right")
		asked := map[string]bool{}
		for _, who := range []string{"Ada", "Cy"} {
			asked[who] = strings.Contains(p.last["test/"+who].Text(), "What the stop was called for")
		}
		if !asked["Ada"] || !asked["Cy"] || p.has("Ada", "release") {
			t.Errorf("%s: of the stop's reason are asked %v; the lead has %q", stage, asked, p.last["test/Ada"].Text())
		}
		p.press("Ada", "sure")
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := p.last["test/"+who].Text(); strings.Contains(got, "(1)") || strings.Contains(got, "The stop is over,") {
				t.Errorf("%s: %s is told %q", stage, who, got)
			}
		}
		p.confirm()
		out := p.press("Ada", "release")
		if stage == flow.Unrig {
			if got := said(out["test/Bo"]); !strings.Contains(got, "stop.put_right") {
				t.Errorf("%s: with the release Bo is told %s", stage, got)
			}
			continue
		}
		// The load ran into its line, so the strap on the tree is looked at once that is
		// slack, and the stop is open until then.
		if got := said(out["test/Bo"]); strings.Contains(got, "stop.put_right") {
			t.Errorf("%s: the stop is over before the strap was looked at: %s", stage, got)
		}
		if p.to(flow.Unrig); p.job().Held["stop_open"] != "" {
			t.Errorf("%s: the stop stays open when the gear comes off", stage)
		}
	}
}

// TestLeftOnItsSlopeStaysSo: a load that was secured where it can roll stays so whatever
// is told otherwise afterwards: an answer that is changed moves no load, so its holding line
// stays on and is asked after.
func TestLeftOnItsSlopeStaysSo(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"change slope 0 deg", "change slope 0 deg, by the phone level", "change distance 1 m", "change ground mud", "change depth hubs"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Ada", "secure it here")
		p.say("Ada", "secure it here")
		p.to(flow.SlackIsOff)
		if p.say("Ada", words); p.stage() != flow.SlackIsOff {
			t.Fatalf("%q: at %s", words, p.stage())
		}
		for range 20 {
			if !p.willing() {
				break
			}
		}
		if got := p.asked("Ada"); !strings.Contains(got, "stays on") {
			t.Errorf("%q: the hold says %q", words, got)
		}
		if !p.has("Ada", "release") {
			continue // the change asks for something else first
		}
		p.press("Ada", "release")
		for _, who := range []string{"Ada", "Bo", "Di"} {
			if order := p.asked(who); !strings.Contains(order, "STAYS ON") {
				t.Errorf("%q: %s is told %q", words, who, order)
			}
		}
	}
}
