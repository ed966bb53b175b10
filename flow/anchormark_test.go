package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheAnchorsMarkComesFirst: after the line crept on its anchor, or the anchor moved, the
// one who watches it is asked first whether the mark stands. Nobody else is sent anywhere and
// nothing is released before, the lead can ask by voice, and that it moves stops everything.
func TestTheAnchorsMarkComesFirst(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"strop creeps up the tree", "the anchor moved"} {
		for _, who := range []string{"Cy", "Bo"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.Held)
			p.say(who, words)
			if p.job().State == flow.Halted {
				for _, of := range []string{"Bo", "Cy", "Di"} {
					if p.has(of, "still") {
						p.press(of, "still")
					}
				}
				p.say("Ada", "looked at it, the root plate had lifted a finger's width and is chocked now")
			}
			if p.job().State == flow.Halted || p.job().State == flow.Verdict {
				continue // it is out of the plan
			}
			if !p.has("Cy", "mark_stands") {
				t.Errorf("%q of %s: Cy is asked %q", words, who, p.last["test/Cy"].Text())
				continue
			}
			for _, of := range []string{"Bo", "Di", "Ada"} {
				if got := p.last["test/"+of].Text(); p.has(of, "items") || p.has(of, "item.*") || p.has(of, "release") {
					t.Errorf("%q of %s: before the mark is told %s is asked %q", words, who, of, got)
				}
			}
			before := p.job().Stage
			if p.say("Ada", "release "+strconv.Itoa(p.job().Hold)); p.job().Stage != before {
				t.Errorf("%q of %s: it goes on to %s", words, who, p.job().Stage)
			}
			for _, moves := range []string{"it moves", "it moves a bit, maybe 1 cm then it stands", "shifted a finger", "it crept 5 mm and stopped", "no it lifts"} {
				q := p.copied(t)
				if q.say("Cy", moves); q.job().State != flow.Halted {
					t.Errorf("%q of %s: %q leads to %s", words, who, moves, q.job().State)
				}
			}
			for _, asks := range []string{"moved?", "if it moves i shout"} {
				q := p.copied(t)
				if q.say("Cy", asks); q.job().State == flow.Halted || !q.has("Cy", "mark_stands") && q.job().Held["mark"] == "" {
					t.Errorf("%q of %s: %q leads to %s", words, who, asks, q.job().State)
				}
			}
			r := p.copied(t)
			if got := said(r.say("Bo", "it stands")["test/Bo"]); strings.Contains(got, "mark.noted") || !r.has("Cy", "mark_stands") {
				t.Errorf("%q of %s: Bo, who drives, says that it stands: %s", words, who, got)
			}
			r.press("Ada", "mark_stands")
			p.say("Cy", "it stands")
			for name, x := range map[string]*puller{"by voice": r, "in words": p} {
				if x.has("Cy", "mark_stands") || !x.has("Di", "items") && !x.has("Di", "item.*") && !x.has("Di", "sure") && x.job().State != flow.Amend {
					t.Errorf("%q of %s, %s: once it stands Cy is asked %q, Di %q", words, who, name, x.last["test/Cy"].Text(), x.last["test/Di"].Text())
				}
			}
		}
	}
}
