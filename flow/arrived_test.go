package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestACountBesideTheArrival: a count that is told with the word that the load is out is
// held against the parts as any other: four metres of rope for one of way is a line that
// gives.
func TestACountBesideTheArrival(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.Bite, flow.Held} {
		for _, who := range []string{"Ada", "Bo"} {
			for text, want := range map[string]string{
				"she's out, took in 4 m moved 1 m": "advance.gives", "took in 4 m, moved 1 m, she's out": "advance.gives",
				"its on the lane, took in 4 m moved 1 m": "advance.gives", "arrived and took in 4,5 m, moved 1 m": "advance.gives",
				"she's out": "", "she's out, took in 20 cm moved 20 cm": "",
			} {
				p := at[stage].copied(t)
				out := said(p.say(who, text)["test/"+who])
				s := p.job()
				arrived := len(s.Reports) > 0 && s.Reports[0].Kind == "arrived"
				if !arrived || s.Stage != flow.Held || strings.Contains(out, "advance.gives") != (want != "") || want != "" && s.State != flow.Checks && s.State != flow.Verdict {
					t.Errorf("%s, %s: %q leaves it at %s, %s; said %s", stage, who, text, s.State, s.Stage, out)
				}
			}
			p := at[flow.Bite].copied(t)
			if out := said(p.say(who, "she's out, took in 4 m moved 2")[("test/" + who)]); !strings.Contains(out, "pull.units") || p.job().Stage != flow.Held {
				t.Errorf("%s: a count without its unit is answered %s", who, out)
			}
		}
	}
}

// TestNoBitePastTheArrival: where the load is said to be where it was to come to, one
// more pull is released only once it was asked after and written once more.
func TestNoBitePastTheArrival(t *testing.T) {
	flow.Lone(t)
	for _, way := range []string{"release", "crest"} {
		p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
		p.say("Bo", "she's out")
		p.confirm()
		for range 2 {
			if out := said(p.press("Ada", way)["test/Ada"]); p.stage() != flow.Held || !strings.Contains(out, "pull.goes_past") {
				t.Fatalf("%s: pressed, it stands at %s: %s", way, p.stage(), out)
			}
		}
		if p.say("Ada", "release "+strconv.Itoa(p.job().Hold)); p.stage() != flow.Bite {
			t.Errorf("%s: written once more, it stands at %s", way, p.stage())
		}
	}
}

// TestADefectIsLookedAtOnASlackLine: that something is put right is taken once the line
// lies slack; the way there is open, and none to another bite.
func TestADefectIsLookedAtOnASlackLine(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.Bite, flow.LightTension} {
		p := at[stage].copied(t)
		p.say("Bo", "pin sits in the drawbar but the clip is missing")
		for _, who := range []string{"Cy", "Ada"} {
			if out := said(p.say(who, "lift")["test/"+who]); !strings.Contains(out, "pull.faults_tight") || len(p.job().Defects) == 0 {
				t.Errorf("%s: %s lifts it on a tight line: %s", stage, who, out)
			}
		}
		if stage == flow.Bite {
			p.confirm()
			if p.press("Ada", "release"); p.stage() != flow.Proving {
				t.Fatalf("the way to the slack line leads to %s", p.stage())
			}
			p.press("Ada", "stands_*")
			p.to(flow.LineSlack)
		} else {
			p.press("Ada", "slacken")
		}
		if p.say("Cy", "lift"); len(p.job().Defects) == 0 {
			t.Errorf("%s: it is lifted before the driver says that the line lies slack", stage)
		}
		p.press("Bo", "sure")
		if p.say("Bo", "lift"); len(p.job().Defects) == 0 {
			t.Errorf("%s: who told of it lifts it", stage)
		}
		if p.say("Cy", "lift"); len(p.job().Defects) != 0 {
			t.Errorf("%s: at a slack line somebody else can't lift it", stage)
		}
	}
}

// TestADefectOnOnePhoneIsLookedAtByAnother: on one phone who told of it names who else
// has looked.
func TestADefectOnOnePhoneIsLookedAtByAnother(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t)
	p.to(flow.AllPlaced)
	p.say("Ada", "the clip is missing")
	for _, text := range []string{"lift", "lift, I have looked", "lift, Zed has looked"} {
		if p.say("Ada", text); len(p.job().Defects) == 0 {
			t.Fatalf("%q lifts what they told of themselves", text)
		}
	}
	if p.say("Ada", "lift, Bo has looked"); len(p.job().Defects) != 0 {
		t.Errorf("Bo has looked and it stands: %+v", p.job().Defects)
	}
}
