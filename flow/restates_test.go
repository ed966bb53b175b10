package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestANoInTheWordsOfTheQuestion: a no that says the question again is not told back as
// words that could not be read.
func TestANoInTheWordsOfTheQuestion(t *testing.T) {
	flow.Lone(t)
	for _, says := range []string{"no its not tied back", "no it isnt tied back", "no, not tied to anything"} {
		c := newChair(t)
		c.say("/start")
		c.standOn("anchors[0].tied_back")
		said := textOf(c.say(says))
		if tied := c.session().Sheet.Anchors[0].TiedBack; tied == nil || *tied || strings.Contains(said, "could not read") {
			t.Errorf("%q: they are told %s", says, said)
		}
	}
}
