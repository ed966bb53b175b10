package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestAStopWaitsForTheSlackLine: what a stop asks for and can't be looked at while the
// line is tight is told to everybody as not looked at; where the job is secured from
// there, it is asked once the line is slack, and until that is confirmed the stop isn't
// told as over.
func TestAStopWaitsForTheSlackLine(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
	p.say("Cy", "stop, something cracked")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "Cy looked, it was a branch, put right")
	people := []string{"Ada", "Bo", "Cy", "Di", "Eve"}
	tight, over, asked := map[string]bool{}, map[string]flow.Stage{}, map[string]flow.Stage{}
	hear := func(out map[string][]flow.Message) {
		for _, who := range people {
			got := text(out["test/"+who])
			if strings.Contains(got, "All that was to be looked at again is answered") && len(p.job().Again) > 0 {
				t.Errorf("%s is told %q with %v left", who, got, p.job().Again)
			}
			tight[who] = tight[who] || strings.Contains(got, "NOT looked at yet") && strings.Contains(got, "gear sound")
			if strings.Contains(got, "The stop is over,") {
				over[who] = p.stage()
			}
			for _, words := range []string{"every piece was looked at again for the stop", "the anchor was looked at again for the stop"} {
				if strings.Contains(got, words) {
					asked[words] = p.stage()
				}
			}
		}
	}
	for range 120 {
		if p.stage() == flow.Unrig {
			break
		}
		s := p.job()
		done := false
		for _, who := range people {
			for _, choice := range []string{"sure", "yes", "as_before", "release", "stands_*", "secure_sure", "secure_here", "secure"} {
				if choice == "release" && s.Stage.Lies() && !slices.Contains([]flow.Stage{flow.Securing, flow.SlackIsOff}, s.Stage) {
					continue
				}
				if strings.HasPrefix(choice, "secure") && s.Stage == flow.Securing {
					continue
				}
				if c := p.choice(who, choice); c != "" {
					hear(p.pressed(who, c))
					done = true
					break
				}
			}
		}
		if !done {
			p.tick(61e9)
		}
	}
	if p.stage() != flow.Unrig {
		t.Fatalf("it stands at %s: %q", p.stage(), p.last["test/Ada"].Text())
	}
	for _, who := range people {
		if !tight[who] {
			t.Errorf("%s isn't told what waits for the slack line", who)
		}
		if over[who] != flow.Unrig {
			t.Errorf("%s is told at %q that the stop is over", who, over[who])
		}
	}
	if len(asked) != 2 {
		t.Errorf("asked with the line slack: %v", asked)
	}
}
