package flow_test

import (
	"regexp"
	"strings"
	"testing"

	"linetender/calc/job"
	"linetender/flow"
	"linetender/flow/wording"
)

// TestSentencesOfThePuller: who drives a winch, cranks a hand winch or calls a
// haul is told nothing of a seat, a belt, a gear or a foot.
func TestSentencesOfThePuller(t *testing.T) {
	machine := regexp.MustCompile(`(?i)\b(seat|belt|gear|foot)\b`)
	apart := map[wording.Key]bool{"place.rigger": true, "sure.stands": true, "sure.gear_counted": true} // of the load, and of what is rigged
	words, tried := wording.English(), 0
	for _, k := range words.Keys() {
		section, _, _ := strings.Cut(string(k), ".")
		said, err := words.Say(0, k, wording.Args{"Name": "Ada"})
		own := false
		for _, kind := range job.PullerKinds {
			own = own || strings.HasSuffix(string(k), "_"+strings.ReplaceAll(kind, "-", "_"))
		}
		spoken := strings.Contains("place duty sure drill", section) || k == wording.SeatStopDriver || k == wording.PullLostDriver
		if err != nil || own || !spoken || !machine.MatchString(said) || apart[k] {
			continue
		}
		for _, kind := range []string{"winch", "hand-winch", "people"} {
			tried++
			got, err := words.Say(0, flow.ForPuller(kind, k), wording.Args{"Name": "Ada"})
			if err != nil || machine.MatchString(got) {
				t.Errorf("%s for %s: %q %v", k, kind, got, err)
			}
		}
		if own := flow.ForPuller("tracked", k); own != k {
			t.Errorf("%s of a machine is %s", k, own)
		}
	}
	for kind, stops := range map[string]string{"wheeled": "Puller stops, brake on", "winch": "Winch stops", "hand-winch": "Cranking stops, pawl in", "people": "Nobody hauls"} {
		if got, err := words.Say(0, flow.ForPuller(kind, wording.PullHoldNow), nil); err != nil || !strings.HasPrefix(got, "HOLD. "+stops) {
			t.Errorf("a hold with %s says %q %v", kind, got, err)
		}
	}
	if tried < 15 {
		t.Errorf("only %d sentences were looked at", tried)
	}
}
