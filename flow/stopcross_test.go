package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
	"linetender/flow/wording"
)

// TestAButtonIsNoReason: what a button says, or the words for one, typed as a stop came,
// ends no stop and isn't its reason; what was told with the stop stays what it was for,
// and who said what is told at its end.
func TestAButtonIsNoReason(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	words := []string{"tension on, braked", "slack is out", "the line is slack", "it has not moved", "chocks are in", "brakes on, chocked"}
	for _, k := range []wording.Key{wording.ChoiceStandsTightening, wording.ChoiceStandsSlackOut, wording.ChoiceStandsFirstMove, wording.ChoiceStandsProving, wording.ChoiceDoneReRig, wording.ChoiceDoneUnrig, wording.ChoiceDrillOk, wording.ChoiceDrillShouted, wording.ChoiceSure, wording.ChoiceLeaveSure} {
		label, err := wording.English().Say(0, k, nil)
		if err != nil {
			t.Fatal(err)
		}
		words = append(words, label)
	}
	for _, said := range words {
		p := at[flow.Tightening].copied(t)
		p.say("Di", "we should stop now, the rope looks frayed")
		out := p.say("Ada", said)
		if s := p.job(); s.Held["stop_reason"] != "" || s.Held["stop_open"] != "" || s.State != flow.Halted {
			t.Errorf("%q is taken for the reason of a stop: %s", said, text(out["test/Ada"]))
		}
	}
	p := at[flow.Tightening].copied(t)
	p.say("Di", "we should stop now, the rope looks frayed")
	p.say("Ada", "tension is on, braked")
	for _, who := range []string{"Bo", "Cy"} {
		p.pressed(who, "still")
	}
	p.say("Ada", "Cy looked at it, it was only dirt, wiped off")
	if p.job().State == flow.Halted {
		t.Fatalf("it is not noted: %s", p.last["test/Ada"].Text())
	}
	var over string
	for range 80 {
		if p.has("Ada", "release") {
			if over = text(p.press("Ada", "release")["test/Cy"]); strings.Contains(over, "The stop is over") {
				break
			}
			continue
		}
		if p.has("Ada", "stands_*") || p.has("Ada", "done_*") {
			p.press("Ada", p.choice("Ada", "stands_*")+p.choice("Ada", "done_*"))
		} else if !p.willing() {
			p.tick(61e9)
		}
	}
	for _, want := range []string{"Ada says: Cy looked at it", "Di called it, in these words: we should stop now, the rope looks frayed"} {
		if !strings.Contains(over, want) {
			t.Errorf("its end is told as %q", over)
		}
	}
}
