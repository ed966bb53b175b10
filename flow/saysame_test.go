package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestNoAnswerContradictsTheNext: nobody reads that nothing is open right before what is,
// nor that a hold waits for them where it waits for others.
func TestNoAnswerContradictsTheNext(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	p := at[flow.Held].copied(t)
	p.say("Bo", "stop")
	for _, who := range []string{"Ada", "Bo"} {
		if got := told(p.say(who, "who")["test/"+who]); strings.Contains(got, "item.nobody") || strings.Count(got, "stop.waits") != 1 {
			t.Errorf("%s asks who is open and reads %s", who, got)
		}
	}
	p = at[flow.SlackIsOut].copied(t)
	if got := told(p.say("Di", "so it is "+strconv.Itoa(p.job().Hold))["test/Di"]); !strings.HasPrefix(got, "pull.not_asked") {
		t.Errorf("told to stand clear, Di reads %s", got)
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "shackle 1 is cracked")
	p.say("Ada", "good")
	if p.has("Bo", "differ.*") {
		if got := told(p.say("Bo", "yes")["test/Bo"]); strings.Contains(got, "item.none") {
			t.Errorf("asked of the shackle, Bo reads %s", got)
		}
	} else {
		t.Errorf("Bo is asked %q", p.last["test/Bo"].Text())
	}
}
