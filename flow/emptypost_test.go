package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestEmptyPostConfirmsNothing: where whoever had a post has left, nobody answers for
// it at a hold; the lead is told who must take it, and has neither that confirmation
// nor a release.
func TestEmptyPostConfirmsNothing(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.LightTension, flow.Held, flow.Securing} {
		p := at[stage].copied(t)
		p.say("Cy", "leave") // rigger, anchor watch and chocks
		if p.job().State != flow.Pulling {
			p.say("Ada", "3")
		}
		for range 6 {
			if strings.Contains(p.last["test/Ada"].Text(), "says it aloud") {
				t.Errorf("%s: an empty post is asked: %q", stage, p.last["test/Ada"].Text())
			}
			if !p.has("Ada", "sure") {
				break
			}
			p.press("Ada", "sure")
		}
		for _, who := range []string{"Bo", "Di"} {
			if p.has(who, "sure") {
				p.press(who, "sure")
			}
		}
		p.tick(61e9)
		if p.has("Ada", "release") || p.job().State == flow.Pulling && !strings.Contains(p.last["test/Ada"].Text(), "An empty post holds the pull") {
			t.Errorf("%s: the lead has %q", stage, p.last["test/Ada"].Text())
		}
		for _, y := range p.job().Holds[len(p.job().Holds)-1].Sure {
			if y.Duty == "chocks" || y.Duty == "anchor" {
				t.Errorf("%s: %+v is confirmed with nobody there", stage, y)
			}
		}
		before := p.job().Hold
		if p.say("Ada", "release "+strconv.Itoa(before)); p.job().Hold != before || p.job().Stage.Moves() {
			t.Errorf("%s: it is released without them, to %s", stage, p.job().Stage)
		}
	}
}
