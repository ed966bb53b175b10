package calc

import (
	"fmt"
	"testing"
)

// TestWhatTiesBackIsNoneOfTheRig: a piece that ties an anchor back fills no place of the
// rig, so that a job which needs it there is no go.
func TestWhatTiesBackIsNoneOfTheRig(t *testing.T) {
	if d := Decide(read(t, changed(t))); d != Go {
		t.Fatalf("the plain job is %s", d)
	}
	n := len(changed(t).Gear)
	for i := range n {
		at := fmt.Sprintf("gear[%d]", i)
		p := Reckon(read(t, changed(t, at+".use=tie-back")))
		if p.Decision == Go {
			t.Errorf("%s ties back and the job is a go without another", at)
		}
		for _, g := range p.Gear {
			if g.Use == "tie-back" {
				t.Errorf("%s ties back and has the place %+v", at, g)
			}
		}
	}
}
