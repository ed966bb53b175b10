package script

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

const sample = `Two people, and time.
-- talk --
Ada> none
Ada< ask.mass: What does it weigh?
Bo> stop
Bo<! stop.called: STOP.
  Everybody.
Ada<! stop.called: STOP.
  [I stand still] [why]
~ 3m0s
Bo< stop.still: Stand still.
Bo> [I stand still]
`

func TestPartyThereAndBack(t *testing.T) {
	p, err := ParseParty([]byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(sample, string(p.Format())); d != "" {
		t.Errorf("read and written it is another (-was +now):\n%s", d)
	}
	if d := cmp.Diff([]string{"Ada", "Bo"}, p.People()); d != "" {
		t.Error(d)
	}
	if label, ok := p.Lines[3].Press(); !ok || label != "I stand still" {
		t.Errorf("the last line presses %q, %v", label, ok)
	}
	if told := p.Lines[1].Said("Ada"); told == nil || !told.Urgent || len(told.Label) != 2 {
		t.Errorf("Ada is told %+v", told)
	}
}

func TestPartyRefused(t *testing.T) {
	for _, talk := range []string{"", "Ada< ask.mass: told before anything is said", "Ada> x\nBo< no words", "nobody", "~ soon", "  [a button of nothing]"} {
		if _, err := ParseParty([]byte("About.\n-- talk --\n" + talk + "\n")); err == nil {
			t.Errorf("%q is taken for a conversation", talk)
		}
	}
}
