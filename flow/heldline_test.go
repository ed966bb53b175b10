package flow_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestNothingIsEasedOntoALineThatNobodyHolds: where the holding line has lost who tends
// it, nothing is eased or taken off before somebody has that post and has confirmed there,
// whatever the job has become meanwhile.
func TestNothingIsEasedOntoALineThatNobodyHolds(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.Held, flow.LightTension, flow.Securing} {
		p := at[stage].copied(t)
		p.say("Di", "stop i twisted my ankle")
		for _, who := range []string{"Bo", "Cy", "Di"} {
			if p.has(who, "still") {
				p.press(who, "still")
			}
		}
		p.say("Ada", "Di twisted an ankle, it was looked at and strapped")
		p.say("Ada", "secure it here")
		p.say("Ada", "secure it here")
		for range 30 {
			if !p.willing() {
				break
			}
		}
		n := strconv.Itoa(p.job().Hold)
		p.say("Ada", "release "+n)
		if got := p.last["test/Ada"].Text(); p.stage() != flow.Securing || !strings.Contains(got, "Not taken on yet: holding line") {
			t.Errorf("%s: with nobody on the holding line it is %s: %s", stage, p.stage(), got)
			continue
		}
		p.say("Ada", "Fay is holder")
		for range 30 {
			if !p.willing() {
				break
			}
		}
		if h := lastHold(p.job()); !slices.ContainsFunc(h.Sure, func(y flow.Sure) bool { return y.Duty == "holder" && y.Name == "Fay" }) {
			t.Errorf("%s: the new holder confirms nothing: %+v", stage, h.Sure)
		}
		if p.say("Ada", "release "+strconv.Itoa(p.job().Hold)); p.stage() != flow.SlackOff {
			t.Errorf("%s: with the post taken and confirmed it is %s: %s", stage, p.stage(), p.last["test/Ada"].Text())
		}
	}
}
