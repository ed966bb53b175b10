package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTakenOffAndToldAgain: a piece that was taken off as damaged is not good by being
// told again; another one is, and so is that one once somebody else has looked.
func TestTakenOffAndToldAgain(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		again string
		good  bool
	}{
		{"rope 60 m polyester 24 mm wll 2.2 t, good", false},
		{"i have a rope 60 m polyester 24 mm wll 2.2 t, sound", false},
		{"another rope, 60 m polyester 24 mm wll 2.2 t, good", true},
	} {
		c := after(t, withGear...)
		c.say("change rope condition damaged")
		c.say("remove the rope")
		said := textOf(c.say(tc.again))
		got := known(c)
		_, rope, ok := strings.Cut(got, "rope")
		if !ok {
			t.Errorf("%q brings no rope\n%s\n%s", tc.again, said, got)
			continue
		}
		rope, _, _ = strings.Cut(rope, ")")
		if good := strings.Contains(rope, ", good"); good != tc.good {
			t.Errorf("%q is good: %v, want %v\n%s\n%s", tc.again, good, tc.good, said, rope)
		}
	}
}

// TestWhoLookedIsOfTheCrew: nobody makes good what was told to be bad by naming
// somebody who is none of the crew.
func TestWhoLookedIsOfTheCrew(t *testing.T) {
	flow.Lone(t)
	at := standing(t)[flow.Held]
	for words, want := range map[string]bool{
		"change block condition good, Zed checked it": false, "change block condition good, Ada checked it": false, "change block condition good, Di checked it": true,
	} {
		p := at.copied(t)
		p.say("Ada", "change block condition damaged")
		p.say("Ada", words)
		block := p.job().Sheet.Gear[1]
		if block.Kind != "block" {
			t.Fatalf("the second piece is %+v", block)
		}
		if got := block.Condition == "good"; got != want {
			t.Errorf("%q: the block is %s; Ada is told %s", words, block.Condition, p.last["test/Ada"].Text())
		}
	}
}
