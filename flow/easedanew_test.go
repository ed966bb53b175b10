package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/flow"
)

// TestEasedIsAnotherHold: from still tight to lies slack the hold has another number, so
// that the same words once more, or a press that comes twice, confirm nothing of the slack
// line; what somebody withholds stays withheld.
func TestEasedIsAnotherHold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, at := range []flow.Stage{flow.LightTension, flow.LineSlack} {
		for _, withheld := range []bool{false, true} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			if at == flow.LightTension {
				p.press("Ada", "slacken")
			}
			n := p.job().Hold
			if withheld {
				p.say("Eve", fmt.Sprint("withhold ", n, " the strop looks low"))
			}
			words := fmt.Sprint("so it is ", n)
			p.say("Bo", words)
			if s := p.job(); s.Hold != n+1 || s.Holds[len(s.Holds)-1].Stage != s.Stage {
				t.Fatalf("at %s the eased line stands at hold %d after %d", at, s.Hold, n)
			}
			if s := p.job(); (len(s.Holds[len(s.Holds)-1].Withheld) == 1) != withheld {
				t.Errorf("at %s, withheld %v: after the easing by %v", at, withheld, s.Holds[len(s.Holds)-1].Withheld)
			}
			for range 2 {
				got := said(p.say("Bo", words)["test/Bo"])
				if s := p.job(); len(s.Holds[len(s.Holds)-1].Sure) > 0 || !strings.HasPrefix(got, "pull.void") {
					t.Errorf("at %s %q again confirms %+v, and is told %s", at, words, s.Holds[len(s.Holds)-1].Sure, got)
				}
			}
			if s := p.job(); s.Stage != flow.AllPlaced && s.Stage != flow.LineSlack {
				t.Errorf("at %s it stands at %s", at, s.Stage)
			}
			if p.has("Bo", "sure."+fmt.Sprint(p.job().Hold)+".easing") {
				t.Errorf("at %s the easing is asked again", at)
			}
		}
	}
}
