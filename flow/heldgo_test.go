package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestNoBareGo: what was answered that changes no plan does not call it a go where it must
// be signed for again, and the board has a plain go neither while a stop is on nor while
// what it asked for is still to be confirmed.
func TestNoBareGo(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Ada", "change people 5")
	got := text(p.say("Ada", "change people 4")["test/Ada"])
	if !strings.Contains(got, "nothing in the plan: a go") {
		t.Errorf("a go that is not signed for or looked at is told as one: %q", got)
	}

	p = standing(t, "Bo", "Cy", "Di", "Eve")[flow.AllPlaced].copied(t)
	board := func(when string) {
		t.Helper()
		if got := text(p.copied(t).say("Eve", "board")["test/Eve"]); strings.Contains(got, "GO. Haul") || !strings.Contains(got, "held") {
			t.Errorf("%s the board says %q", when, got)
		}
	}
	p.say("Bo", "stop")
	board("with a stop on")
	for _, who := range []string{"Cy", "Di"} {
		p.press(who, "still")
	}
	p.at = p.at.Add(time.Minute)
	p.say("Ada", "a dog ran in, it is tied up now and looked at")
	p.until("the hold", func() bool { return p.job().State == flow.Pulling })
	board("with a stop that is not over")
}
