package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSomebodyElseComesIn: who comes for somebody that goes is one of the crew, which is
// as many as before; somebody under age is not, nor is who was there already.
func TestSomebodyElseComesIn(t *testing.T) {
	flow.Lone(t)
	for words, in := range map[string]bool{
		"Cy went home, Anna is here instead": true, "Cy has gone, Anna instead": true, "Cy left, Bo is here instead": false, "Cy went home": false,
		"Cy went home, Anna is here instead, shes 14": false,
	} {
		p := planned(t)
		p.say("Ada", "checks")
		p.say("Ada", "Ada, Bo, Cy, Di")
		was := len(p.job().Crew)
		out := text(p.say("Ada", words)["test/Ada"])
		s := p.job()
		anna, cy := false, false
		for _, seat := range s.Seats {
			anna, cy = anna || seat.Name == "Anna", cy || seat.Name == "Cy"
		}
		if cy || anna != in || (len(s.Crew) == was) != in {
			t.Errorf("%q: the crew is %v, was %d, Anna has a post %v\n%s", words, s.Crew, was, anna, out)
		}
		if in && (!strings.Contains(out, "Anna comes in: 4 people as before") || *s.Sheet.Crew != 4) {
			t.Errorf("%q: %d people\n%s", words, *s.Sheet.Crew, out)
		}
	}
}
