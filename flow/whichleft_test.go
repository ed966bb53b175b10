package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhichIsLeftByWhatNamesNone: where it is asked which of several is meant, a message
// that names none of them settles nothing, changes nothing, and it is asked again.
func TestWhichIsLeftByWhatNamesNone(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"it is not bent, never in a crash", "never in a crash", "it was made in one go", "no knots in it"} {
		c := newChair(t)
		c.say("/start")
		c.standAt(texted{base: "job", topic: "gear_sound"})
		if out := strings.ToLower(textOf(c.say("rope 40 m"))); !strings.Contains(out, "which do you mean") {
			t.Fatalf("it is not asked which: %s", out)
		}
		before := flat(t, c.session().Sheet)
		out := strings.ToLower(textOf(c.say(words)))
		for path, was := range before {
			if now := flat(t, c.session().Sheet)[path]; now != was {
				t.Errorf("%q makes %s %q of %q", words, path, now, was)
			}
		}
		if c.session().Topic == "which" && !strings.Contains(out, "which do you mean") {
			t.Errorf("after %q it is not asked again: %s", words, out)
		}
	}
	c := newChair(t)
	c.say("/start")
	c.standAt(texted{base: "job", topic: "gear_sound"})
	c.say("rope 40 m")
	c.say("the rope")
	if got := flat(t, c.session().Sheet)["gear[0].length"]; got != "40 m" {
		t.Errorf("the rope that is named has %q", got)
	}
}
