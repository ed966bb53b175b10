package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestDeafGroup: nothing is pulled while somebody with a part speaks only in a
// group from which the word stop may not reach the program.
func TestDeafGroup(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di")
	in := p.input("Bo") // once Bo was heard in such a group
	in.Text, in.Group, in.Partial = "note ready", true, true
	p.run(in)
	if got := said(p.press("Ada", "begin_pull")["test/Ada"]); !strings.HasPrefix(got, "pull.deaf") || p.job().State == flow.Pulling {
		t.Errorf("with Bo in a deaf group the pull says %s and stands at %s", got, p.job().State)
	}
	in = p.input("Bo") // and the program may read all there
	in.Text, in.Group = "note ready", true
	p.run(in)
	if p.press("Ada", "begin_pull"); p.job().State != flow.Pulling {
		t.Errorf("with every message heard the job stands at %s", p.job().State)
	}
}
