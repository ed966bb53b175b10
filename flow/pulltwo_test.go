package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTwoLengthsOfABite: told differently by two phones, a bite went from the shorter
// to the longer, and both and the lead read it; told anew alike it is one again. What
// one phone tells again, and what is told while it moves, takes the place of the former.
func TestTwoLengthsOfABite(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Bite)
	p.say("Cy", "moved 10 cm")
	p.say("Di", "moved 20 cm")
	moved := func() string { b := p.job().Bites; return b[len(b)-1].Moved }
	if got := moved(); got != "20 cm" {
		t.Errorf("while it moves the later is further on: %q", got)
	}
	p.press("Ada", "stands_*")
	p.say("Cy", "took in 3.8 m, moved 1.9 m")
	if got := moved(); got != "1.9 m" {
		t.Errorf("of Cy: %q", got)
	}
	p.say("Di", "moved 1.9 m")
	if got := moved(); got != "1.9 m" {
		t.Errorf("alike it is %q", got)
	}
	out := p.say("Di", "moved 1.4 m")
	if got := moved(); got != "1.4 m to 1.9 m" {
		t.Errorf("of two it is %q", got)
	}
	for _, who := range []string{"Di", "Cy", "Ada"} {
		if !strings.Contains(text(out["test/"+who]), "Cy 1.9 m") || !strings.Contains(text(out["test/"+who]), "Di 1.4 m") {
			t.Errorf("%s is told %q", who, text(out["test/"+who]))
		}
	}
	if p.say("Cy", "moved 1.4 m"); moved() != "1.4 m" {
		t.Errorf("told anew alike it is %q", moved())
	}
}
