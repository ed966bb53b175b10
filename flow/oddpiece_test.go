package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestOddPieceByItself: a yes to all the gear at once does not cover a piece of
// which words were told that say nothing known; it is asked about in those words.
func TestOddPieceByItself(t *testing.T) {
	flow.Lone(t)
	stand := func(topic string) *chair {
		c := newChair(t)
		c.say("/start")
		told := append([][2]string{}, knownJob...)
		told = append(told, [2]string{"gear[2].name", "shackle with funny lumps"}, [2]string{"gear[2].condition", "unknown"})
		turn, err := flow.StandAt(c.engine, c.log, c.input(), c.session().Code, topic, told)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := c.log.Commit(turn); err != nil {
			t.Fatal(err)
		}
		c.log.sent()
		return c
	}
	c := stand("gear_sound")
	c.say("yes")
	after := flat(t, c.session().Sheet)
	if after["gear[1].condition"] != "good" || after["gear[2].condition"] != "unknown" || after["gear[2].improvised"] != "" {
		t.Errorf("after the yes: the block is %q, the odd shackle %q and improvised %q", after["gear[1].condition"], after["gear[2].condition"], after["gear[2].improvised"])
	}
	for _, r := range []string{"yes", "good"} {
		c := stand("gear[2].condition")
		if text := textOf(c.say("hmm")); !strings.Contains(text, "funny lumps: is it as its maker made it") {
			t.Errorf("it is not asked about in its words:\n%s", text)
		}
		c.say(r)
		if got := flat(t, c.session().Sheet)["gear[2].condition"]; got != "good" {
			t.Errorf("%q answered of it by itself leaves it %q", r, got)
		}
	}
}
