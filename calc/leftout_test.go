package calc

import (
	"slices"
	"strings"
	"testing"
)

// The only tree is dead, or the only block is damaged, and nobody set it down
// for a use: the plan does without, says so, and where that is why it is no go
// says what a good one must bear.
func TestWhatIsLeftOutIsSaid(t *testing.T) {
	const free = "anchors[0].use=; tackle.parts=; tackle.haul_from=; gear[2].use=; gear[3].use=; "
	weak := free + "puller.mass=1.9 t; "
	for _, w := range []struct{ sets, says, change string }{
		{weak + tree + "; anchors[0].alive=false", "tree (dead or rotten)", "in place of the tree (dead or rotten)"},
		{weak + tree + "; anchors[0].lean=true", "tree (leans or its roots lift)", "in place of the tree"},
		{weak + tree + "; anchors[0].diameter=15 cm", "tree (too thin)", "in place of the tree"},
		{weak + "gear[2].condition=damaged", "block (damaged)", "in place of the block"},
		{weak + "gear[2].rating_kind=unmarked", "block (no legible marking)", "in place of the block"},
		{free + "gear[2].condition=damaged", "block (damaged)", ""},
	} {
		s := changed(t, w.sets+"; load.mass=3000 kg")
		for i := range s.Anchors {
			if s.Anchors[i].Kind == "tree" {
				s.Anchors[i].Use = ""
			}
		}
		p := Reckon(read(t, s))
		if !slices.ContainsFunc(p.Checks, func(c Check) bool { return c.ID == "R15" && c.Result == Fail && strings.Contains(c.Text, w.says) }) ||
			!slices.ContainsFunc(p.Cautions, func(c string) bool { return strings.Contains(c, w.says) }) {
			t.Errorf("%q: %s that does not say %q: %v", w.sets, p.Decision, w.says, p.Cautions)
		}
		if (p.Decision == NoGo) != (w.change != "") {
			t.Errorf("%q: %s, %v", w.sets, p.Decision, p.Why)
			continue
		}
		if w.change == "" {
			continue
		}
		if !slices.ContainsFunc(p.Why, func(s string) bool { return strings.Contains(s, w.says) }) {
			t.Errorf("%q: no reason says %q: %v", w.sets, w.says, p.Why)
		}
		if !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, w.change) && c.Then == Go }) {
			t.Errorf("%q: no change says %q: %v", w.sets, w.change, p.Changes)
		}
	}
}
