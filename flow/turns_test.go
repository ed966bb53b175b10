package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhatWouldTurnIt: who asks what would make it a go is told that and no more, also
// where nothing that was tried does.
func TestWhatWouldTurnIt(t *testing.T) {
	flow.Lone(t)
	for _, row := range []struct {
		told []string
		key  string
	}{
		{[]string{"none", "1.5 t weighed", "5 degrees by level", "mud, to the hubs, half the wheels locked", "uphill", "tractor 1.5 t, 4wd, gravel, level, drawbar", "towing eye", "oak 60 cm alive and sound, upright"}, "plan.change"},
		{[]string{"none", "3.9 t weighed", "6 degrees by level", "mud, to the hubs, all wheels locked", "uphill", "4 people pulling by hand", "towing eye", "oak 60 cm alive and sound, upright"}, "plan.no_changes"},
	} {
		for _, words := range []string{"what would change it", "what can we do to make it go?", "ok, how do we make it work", "what could i change?"} {
			c := newChair(t)
			last := c.say("new")
			for _, text := range row.told {
				last = c.say(text)
			}
			if c.session().State != flow.Verdict {
				t.Fatalf("it stands at %v: %s, %s", c.session().State, c.session().Topic, keysOf(last))
			}
			got := keysOf(c.say(words))
			if !strings.Contains(got, row.key) || strings.Contains(got, "plan.sums") || !strings.Contains(got, "ask.verdict") {
				t.Errorf("%q is answered %s, want %s", words, got, row.key)
			}
		}
	}
}
