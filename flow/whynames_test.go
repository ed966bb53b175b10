package flow_test

import (
	"os"
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhyNamesThePieces: who asks for every step hears which rope, which shackle and
// which tree each of them is about, with what the piece may carry and takes at the
// puller's most.
func TestWhyNamesThePieces(t *testing.T) {
	flow.Lone(t)
	talk, err := os.ReadFile("../testdata/talk/s01-go-two-parts.txtar")
	if err != nil {
		t.Fatal(err)
	}
	c := newChair(t)
	for line := range strings.Lines(string(talk)) {
		text, spoken := strings.CutPrefix(strings.TrimSpace(line), "> ")
		if spoken && strings.HasPrefix(text, "[") {
			break
		}
		if spoken {
			c.say(text)
		}
	}
	c.say("why")
	var said string
	for more := true; more; {
		sent := c.say("why")
		said += textOf(sent)
		more = saysKey(sent, "plan.more_steps")
	}
	for _, about := range []string{
		"use of the rope 1 (haul): ", "use of the shackle (load): ", "use of the oak (standing): ", "use of the tow point: ", "use of the hitch: ",
		"use of the block (moving block): ", "breaks: the block (moving block): ", "at the puller's most: the oak (standing): ", "at the puller's most: the shackle (load): ",
		"load on the rope 1 (haul): ", "energy in the tight line: ", "stand off: ", "holding line: ",
	} {
		if !strings.Contains(said, about) {
			t.Errorf("%q is not told in\n%s", about, said)
		}
	}
}
