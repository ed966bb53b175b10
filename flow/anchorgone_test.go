package flow_test

import (
	"strings"
	"testing"

	"linetender/calc"
	"linetender/flow"
)

// TestATreeThatGoesIsOut: a tree that moved, or is told not to be sound with a stop or
// during it, by whomever, is out of the plan at once, and how far it moved is no
// measure of it.
func TestATreeThatGoesIsOut(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.LightTension, flow.Held, flow.Bite} {
		for _, words := range []string{
			"Cy: root plate moved 2 inch", "Cy: stop the tree is rotten", "Cy: the oak moved 5 cm", "Ada: stop. the oak is unsound", "Ada: root plate of the oak moved 2 inch",
			"Di: stop|Cy: the oak is hollow", "Di: stop|Ada: the tree is dead, cy looked", "Di: stop|Ada: looked at it, the oak is cracked",
		} {
			p := at[stage].copied(t)
			was := p.job().Sheet.Anchors[0].Diameter
			for line := range strings.SplitSeq(words, "|") {
				who, what, _ := strings.Cut(line, ": ")
				p.say(who, what)
			}
			for _, who := range []string{"Bo", "Cy", "Di"} {
				if p.has(who, "still") {
					p.press(who, "still")
				}
			}
			s := p.job()
			if a := s.Sheet.Anchors[0]; a.Alive == nil || *a.Alive || a.Diameter != was || len(s.Sheet.Anchors) != 2 {
				t.Errorf("%s, %q: the anchors are %+v, alive %v", stage, words, s.Sheet.Anchors, *s.Sheet.Anchors[0].Alive)
			}
			if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
				t.Errorf("%s, %q: it may pull, %s", stage, words, why)
			}
			if found := s.Found; found != nil && found.Decision == string(calc.Go) && s.State != flow.Halted {
				t.Errorf("%s, %q: still a go at %s", stage, words, s.State)
			}
		}
	}
}

// TestASoundTreeStays: words about a tree that tell of nothing wrong, or ask, change none.
func TestASoundTreeStays(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held]
	for _, words := range []string{"the oak is fine, no crack", "is the oak sound?", "the mark on the oak has not moved", "tree looks good"} {
		p := at.copied(t)
		p.say("Cy", words)
		if a := p.job().Sheet.Anchors[0]; a.Alive == nil || !*a.Alive {
			t.Errorf("%q makes the oak %+v", words, a)
		}
	}
}
