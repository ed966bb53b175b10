package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestWhoHasNoPhoneTookPart: who stood at a post took part, with a phone or without, in the
// end or only until they left.
func TestWhoHasNoPhoneTookPart(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Eve")
	p.to(flow.Held)
	p.say("Ada", "Di has gone home")
	h, err := p.engine.History(p.log, p.head().Code, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]bool{}
	for _, took := range h.People {
		got[took.Name] = true
		if took.Phoneless != (took.Name == "Di") {
			t.Errorf("%s is there without a phone: %v", took.Name, took.Phoneless)
		}
	}
	if len(h.People) != 5 || !got["Di"] {
		t.Errorf("these took part: %+v", h.People)
	}
}
