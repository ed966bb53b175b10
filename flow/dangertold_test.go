package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestADangerIsNoMisreading: what tells of a danger while questions are asked is noted with
// what is done at once, and is never called an answer that could not be read.
func TestADangerIsNoMisreading(t *testing.T) {
	flow.Lone(t)
	for words, want := range map[string]string{
		"it slid back just now": "refuse.danger", "someone already pulled and the rope broke": "refuse.danger", "a car is coming": "refuse.danger",
		"the handbrake doesnt hold": "refuse.danger", "its tipping over": "refuse.danger", "the driver had two beers": "refuse.drunk",
		"what is this": "refuse.miss", "hmm": "refuse.miss",
	} {
		c := after(t, "none", "2.6 t weighed", "2 deg by phone")
		if got := said(c.say(words)); !strings.Contains(got, want) {
			t.Errorf("%q is answered %s, want %s", words, got, want)
		}
	}
}
