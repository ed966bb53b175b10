package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSomethingWrongIsAskedWithWhat: that something is wrong with what nobody could read is
// no answer to the item that happens to be asked. It is asked which item is meant; none of
// the list keeps the pull until that is lifted, and till it is said nothing begins.
func TestSomethingWrongIsAskedWithWhat(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	told := func() *phonesAt {
		p := briefed(t, "Bo", "Cy", "Di", "Eve")
		p.say("Cy", "toni wants to push from behind, he is strong")
		p.say("Cy", "yes")
		return p
	}
	marks := func(p *phonesAt) int {
		s, err := flow.Recall(p.engine, p.log, p.head().Code)
		if err != nil {
			t.Fatal(err)
		}
		return len(s.Marks)
	}
	p := told()
	was := marks(p)
	p.say("Cy", "something is wrong")
	if got := p.asked("Cy"); marks(p) != was || !strings.Contains(got, "which of the list is not so") {
		t.Fatalf("something wrong marks %d items, and Cy is asked %q", marks(p)-was, got)
	}
	p.answer("", "Ada", "Bo", "Di")
	if got := text(p.say("Ada", "begin the pull")["test/Ada"]); strings.Contains(got, "drill") {
		t.Errorf("while it is not said what is wrong the pull begins: %q", got)
	}
	q := &phonesAt{phones: p.copied(t, otherEngine())}
	out := q.say("Cy", "[not so: chocks]")
	if got := text(out["test/Di"]); !strings.Contains(got, "Cy says it is not so: Two wheels are chocked") {
		t.Errorf("the item that is meant fails, and Di is told %q", got)
	}
	out = p.say("Cy", "none of these")
	if got := text(out["test/Ada"]); !strings.Contains(got, "Cy withholds the pull: toni wants to push") {
		t.Errorf("it is none of the list, and Ada is told %q", got)
	}
	r := briefed(t, "Bo", "Cy", "Di", "Eve")
	r.say("Cy", "the chock is a bit of foam, squishes flat lol")
	r.say("Cy", "yes")
	if !strings.Contains(r.asked("Cy"), "could not read") {
		t.Fatalf("words that nobody could read are not put back: %q", r.asked("Cy"))
	}
	if got := text(r.say("Cy", "something is wrong")["test/Di"]); !strings.Contains(got, "Two wheels are chocked") {
		t.Errorf("words that tell of the chocks make Di hear %q", got)
	}
}
