package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTakenBackAfterUnread: what was not read before is put back with the words that take
// a hazard back, and once nothing is wrong with it, they take it back.
func TestTakenBackAfterUnread(t *testing.T) {
	flow.Lone(t)
	for words, want := range map[string]string{
		"change hazards none, Gary checked it": "ask.mass", "Gary looked, none of these": "ask.mass", "change hazards none": "refuse.take_back",
	} {
		c := newChair(t)
		c.say("/start")
		c.say("hi its us at the orchard. truck in the ditch with crates")
		c.say("there is an edge")
		if out := c.say(words); !strings.Contains(said(out), "unread.you") {
			t.Fatalf("%q: %s", words, said(out))
		}
		if out := c.say("nothing wrong"); !strings.Contains(said(out), want) {
			t.Errorf("after %q nothing wrong leads to %s", words, said(out))
		}
	}
}

// TestOfThoseIsNoMore: who says how many there are of the pieces that were told, and goes
// on with the next, has added none.
func TestOfThoseIsNoMore(t *testing.T) {
	flow.Lone(t)
	c := newChair(t)
	c.say("/start")
	c.standOn("load.tow_point.condition", [2]string{"gear[3].kind", "block"}, [2]string{"gear[3].rating", "3 t"})
	c.say("there are two of the 3t blocks")
	c.say("chain, tag on it says 3.15 t")
	if got := flat(t, c.session().Sheet); got["gear[5].kind"] != "" || got["gear[4].kind"] == "block" {
		t.Errorf("a phantom piece: %v", got)
	}
}
