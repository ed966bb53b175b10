package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatEndsAStop: only the lead's words end a stop, and only those that name
// what it was or say that it was looked at; a question, a word that wants time,
// a bare ok, an order or a figure is asked once more.
func TestWhatEndsAStop(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, row := range []struct {
		text string
		ends bool
	}{
		{"is everybody ok?", false}, {"is everybody ok", false}, {"so do we carry on or what?", false}, {"what now", false},
		{"wait", false}, {"no", false}, {"ok", false}, {"nothing", false}, {"go on", false}, {"done", false}, {"yes", false}, {"hold on", false},
		{"release 1", false}, {"begin the pull", false}, {"weight 3 t", false}, {"took in 1 m, moved 2 m", false}, {"4", false},
		{"not fixed yet", false}, {"will check the strop", false}, {"should be fine", false}, {"it's not safe", false}, {"it isn't cleared", false},
		{"rope is creaking", false}, {"there is a kid under it", false}, {"a kid under the truck", false}, {"still smoking", false},
		{"there is a power line above us", false},
		{"a dog ran in, it is tied up now", true}, {"a dog", true}, {"the radio", true}, {"was just the rope settling, all good again", true},
		{"heard a bang", true}, {"driver misheard, we talked it over", true}, {"checked the strop, all fine", true}, {"false alarm", true},
		{"the strap is another one now", true}, {"swapped the shackle", true}, {"the strap is not another one yet", false},
		{"a kite came down", true}, {"rope snagged on a root; Di freed it", true}, {"Bo was not sure", true},
	} {
		for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
			p := readyToPull(t, crew...)
			p.to(flow.SlackOut)
			p.say("Ada", "stop")
			for _, who := range []string{"Bo", "Cy", "Di"} {
				if len(crew) > 0 {
					p.pressed(who, "still")
				}
			}
			out := p.say("Ada", row.text)
			if s := p.job(); (s.State != flow.Halted) != row.ends {
				t.Errorf("%d phones, %q: the job stands at %s and the lead is told %s", len(crew)+1, row.text, s.State, said(out["test/Ada"]))
			}
			if weight := p.job().Sheet.Load.Mass; row.text == "weight 3 t" && weight != "3 t" {
				t.Errorf("a weight that is told in a stop is lost: %q", weight)
			}
			if len(crew) > 0 && !row.ends {
				if out := p.say("Bo", "a dog ran in, it is tied up now"); p.job().State != flow.Halted {
					t.Errorf("the driver ends a stop: %s", said(out["test/Bo"]))
				}
			}
			if !row.ends && strings.Contains(said(out["test/Ada"]), "stop.over") {
				t.Errorf("%q is told as the end of the stop", row.text)
			}
		}
	}
}

// TestWeightInAStopIsJudged: a heavier weight told in a stop is what the plan
// is judged by when the stop is over.
func TestWeightInAStopIsJudged(t *testing.T) {
	p := readyToPull(t)
	p.to(flow.SlackOut)
	p.say("Ada", "stop")
	p.say("Ada", "weight 9 t")
	p.say("Ada", "a dog ran in, it is tied up now")
	p.press("Ada", "sure") // the line was taken up: it is eased first
	if s := p.job(); s.State == flow.Halted || s.State == flow.Pulling {
		t.Errorf("with three times the weight the job stands at %s", s.State)
	}
	if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
		t.Errorf("with three times the weight nothing bars the pull: %s", why)
	}
}
