package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAHoldingLineIsPaidOut: a line that goes out with the load has a turn more on than
// one that is taken in, and who tends it reads and confirms so.
func TestAHoldingLineIsPaidOut(t *testing.T) {
	flow.Lone(t)
	for _, w := range []struct {
		talk, until string
		say         []string
		reads       []string
	}{
		{"x2-downhill-runs", "Bo", []string{"Bo", "begin the pull", "foot off, all stood"}, []string{"three round turns on from the start", "Three round turns on"}},
		{"t-words-in-a-pull", "begin the pull", []string{"begin the pull", "foot off, all stood"}, []string{"Two round turns on"}},
	} {
		c := talkUntil(t, w.talk, w.until)
		said := ""
		hear := func(words string) {
			for _, m := range c.say(words) {
				said += m.Text() + "\n"
			}
		}
		for _, words := range w.say {
			hear(words)
		}
		for range 8 {
			if strings.Contains(said, "knife at hand") {
				break
			}
			hear("so it is")
		}
		for _, want := range w.reads {
			if !strings.Contains(said, want) {
				t.Errorf("%s: nobody reads %q in\n%s", w.talk, want, said)
			}
		}
		if (len(w.reads) == 1) == strings.Contains(strings.ToLower(said), "three round turns") {
			t.Errorf("%s reads otherwise:\n%s", w.talk, said)
		}
	}
}
