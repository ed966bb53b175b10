package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAtAPostNothingIsOnlyPassedOn: with a line rigged, whoever goes to it is told
// to stay out and all hold, whoever pulls with nothing released has stopped it all,
// and what isn't understood as harmless takes back what was confirmed.
func TestAtAPostNothingIsOnlyPassedOn(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, text := range []string{"ok i go in and fix the sling", "i climbed over the line and looked at it, good", "im getting out to have a look at the hook"} {
		for _, stage := range []flow.Stage{flow.LightTension, flow.Held, flow.Bite} {
			p := at[stage].copied(t)
			n := p.job().Hold
			out := p.say("Cy", text)
			for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				if m := out["test/"+who]; !strings.Contains(said(m), "pull.stay_out") || !m[0].Urgent {
					t.Errorf("%s: %q tells %s %s", stage, text, who, said(m))
				}
			}
			if s := p.job(); s.Stage.Moves() || s.Hold == n {
				t.Errorf("%s: %q leaves it at %s, hold %d after %d", stage, text, s.Stage, s.Hold, n)
			}
			p.say("Bo", "stop")
			if got := said(p.say("Cy", text)["test/Ada"]); !strings.Contains(got, "pull.stay_out") {
				t.Errorf("%s: in a stop %q tells %s", stage, text, got)
			}
		}
	}
	// Nobody's yes sends anybody to a tight line, so it is never asked for.
	for _, text := range []string{"ok if i walk over to beno across the rope?", "am i ok standing by the line here?", "should i step over the rope to the other side?",
		"ill just crawl under n kick the chock", "is it safe to go to the block?", "can we fix the shackle"} {
		p := at[flow.Held].copied(t)
		n := p.job().Hold
		out := p.say("Cy", text)
		if got := said(out["test/Cy"]); !strings.Contains(got, "pull.stay_out") || strings.Contains(said(out["test/Ada"]), "talk.asks") || p.job().Hold == n {
			t.Errorf("%q is answered %s, and the lead is told %s", text, got, said(out["test/Ada"]))
		}
	}
	for _, text := range []string{"can i chock it now?", "is it ok to tell the coordinator?", "how long do we wait for the rope", "can i go home after"} {
		p := at[flow.Held].copied(t)
		if got := said(p.say("Cy", text)["test/Cy"]); strings.Contains(got, "pull.stay_out") {
			t.Errorf("%q is answered %s", text, got)
		}
	}
	for _, text := range []string{"ok pulling", "im pulling it now a bit, its loose", "i'll pull a bit"} {
		for _, stage := range []flow.Stage{flow.AllPlaced, flow.LightTension, flow.Held} {
			p := at[stage].copied(t)
			if out := p.say("Bo", text); p.job().State != flow.Halted || !strings.Contains(said(out["test/Di"]), "look.unreleased") {
				t.Errorf("%s: %q leads to %s and tells %s", stage, text, p.job().State, said(out["test/Di"]))
			}
		}
	}
	// Who has the holding line takes slack in at each hold, and pulls nothing by that; who
	// drives does.
	for who, halts := range map[string]bool{"Di": false, "Bo": true} {
		p := at[flow.Held].copied(t)
		if p.say(who, "im still taking in slack"); (p.job().State == flow.Halted) != halts || p.job().Stage.Moves() {
			t.Errorf("%s takes in slack: %s, %s", who, p.job().State, p.job().Stage)
		}
	}
	for _, text := range []string{"brake pedal goes to the floor", "the thing does a thing", "so it is, but the pedal feels wrong"} {
		p := at[flow.LightTension].copied(t)
		n := p.job().Hold
		if out := p.say("Cy", text); p.job().State == flow.Pulling && p.job().Hold == n || !strings.Contains(text1(out["test/Ada"]), text) {
			t.Errorf("%q is told %s and leaves hold %d", text, said(out["test/Ada"]), n)
		}
	}
	for _, text := range []string{"all good", "standing", "how far is it?"} {
		p := at[flow.LightTension].copied(t)
		n := p.job().Hold
		if p.say("Cy", text); p.job().Hold != n || p.job().State != flow.Pulling {
			t.Errorf("%q takes back what was confirmed", text)
		}
	}
	p := at[flow.Held].copied(t)
	if out := p.say("Cy", "i gotta go, wife calls, bye"); !strings.Contains(said(out["test/Ada"]), "pull.lost_relief") {
		t.Errorf("who must go is told on as %s", said(out["test/Ada"]))
	}
	p.say("Bo", "stop")
	if out := p.say("Ada", "they all stand"); !strings.Contains(said(out["test/Ada"]), "stop.must_go") {
		t.Errorf("who must go is counted: %s", said(out["test/Ada"]))
	}
	drill := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	drill.press("Ada", "begin_pull")
	if drill.say("Bo", "whoa whoa"); drill.job().State != flow.Halted {
		t.Errorf("whoa leaves it %s", drill.job().State)
	}
}

func text1(m []flow.Message) string {
	var out strings.Builder
	for _, m := range m {
		out.WriteString(m.Text() + "\n")
	}
	return out.String()
}

// TestSecuringIsAlwaysThere: the load can be secured where it stands from every
// hold, in words without a number, and while something is asked again, whatever
// number is written.
func TestSecuringIsAlwaysThere(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.AllPlaced, flow.SlackOut, flow.SlackIsOut, flow.LightTension, flow.FirstMove, flow.Held, flow.Bite, flow.Proving, flow.HoldProved, flow.LineSlack, flow.Rerig, flow.SlackOff} {
		for _, text := range []string{"secure it here", "secure"} {
			p := at[stage].copied(t)
			if p.say("Bo", text); p.job().Stage == flow.Securing && stage != flow.SlackOff {
				t.Errorf("%s: %q of the driver secures", stage, text)
			}
			if out := said(p.say("Ada", text)["test/Ada"]); stage != flow.SlackOff && (p.job().Stage == flow.Securing || p.job().Stage.Moves() || !strings.Contains(out, "pull.gives_up")) {
				t.Errorf("%s: %q ends the pull unasked, or leaves it at %s: %s", stage, text, p.job().Stage, out)
			}
			again := p.copied(t)
			if stage != flow.SlackOff {
				if again.press("Ada", "secure_sure"); again.job().Stage != flow.Securing {
					t.Errorf("%s: the button of that leads to %s", stage, again.job().Stage)
				}
			}
			if out := p.say("Ada", text); p.job().Stage != flow.Securing {
				t.Errorf("%s: %q leads to %s: %s", stage, text, p.job().Stage, said(out["test/Ada"]))
			}
		}
	}
	for _, text := range []string{"secure it here", "secure 13", "secure"} {
		p := at[flow.Held].copied(t)
		p.say("Bo", "stop")
		if got := said(p.say("Ada", text)["test/Ada"]); !strings.Contains(got, "stop.secure") {
			t.Errorf("in a stop %q is told %s", text, got)
		}
		for _, who := range []string{"Cy", "Di"} {
			p.press(who, "still")
		}
		p.say("Ada", "a dog ran in, it was tied up")
		if s := p.job(); s.State == flow.Halted || s.State == flow.Pulling {
			t.Fatalf("after the stop it is %s", s.State)
		}
		p.say("Ada", text)
		if out := p.say("Ada", text); p.job().Stage != flow.Securing || p.job().State != flow.Pulling {
			t.Errorf("after the stop %q leads to %s, %s: %s", text, p.job().State, p.job().Stage, said(out["test/Ada"]))
		}
	}
}
