package flow_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"linetender/flow"
)

// TestWhyComesInPages: after what decides a plan the steps that decide are told first,
// the others on asking, each once, in messages that fit a phone.
func TestWhyComesInPages(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	c := newChair(t)
	c.until(readAnswers(t, answersDir+"/s01-go-two-parts.txt"), "verdict")
	c.say("why")
	told := map[string]int{}
	for n, ask := range []string{"why", "more", "why 2", "the rest", "more please", "why", "why", "why", "why", "why", "why", "why", "why"} {
		sent := c.say(ask)
		text := textOf(sent)
		if n == 0 && (!strings.Contains(text, "margin: ") || !strings.Contains(text, "use of ")) {
			t.Errorf("the first page does not say what decides: %s", text)
		}
		for _, m := range sent {
			for _, p := range m.Parts {
				if utf8.RuneCountInString(p.Text) > 350 {
					t.Errorf("%q: a paragraph of %d characters", ask, utf8.RuneCountInString(p.Text))
				}
				if p.Key == "plan.step" {
					told[p.Text]++
				}
			}
		}
		if len(sent) > 9 {
			t.Errorf("%q: %d messages at once", ask, len(sent))
		}
		if !saysKey(sent, "plan.more_steps") {
			for step, times := range told {
				if times != 1 {
					t.Errorf("told %d times: %s", times, step)
				}
			}
			if len(told) < 20 {
				t.Errorf("only %d steps in all", len(told))
			}
			return
		}
	}
	t.Error("it never ends")
}
