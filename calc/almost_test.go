package calc

import (
	"slices"
	"strings"
	"testing"
)

// The puller is too weak straight and strong enough in some parts: the first
// reason says so and what is missing there, and of the changes one brings all of
// that and no more than that.
func TestWhatWouldDo(t *testing.T) {
	free := "puller.mass=2 t; load.mass=3 t; "
	noBlock := "gear[2].kind=sling; gear[2].use=spare; gear[2].diameter=; "
	for _, c := range []struct{ about, sets, why, change string }{
		{"no block", noBlock, "Straight it won't; with 2 parts the puller would do, but: It takes a block, and there is none.", "Bring a block, and rig 2 parts, hauled from the moving block."},
		{"a block too few", "load.mass=4 t", "With 2 parts it won't; with 3 parts the puller would do, but: It takes blocks with 2 sheaves in all, and there is 1.", "Bring blocks for 2 sheaves in all, and rig 3 parts, hauled from the moving block."},
		{"a weak anchor", "anchors[0].rating=1 kN", "Straight it won't; with 2 parts the puller would do, but: The rated anchor point (standing) must hold", "Use an anchor in place of the rated anchor point that may be counted for at least"},
		{"no block and a weak strop", noBlock + "gear[3].rating=1 kN", "Straight it won't; with 2 parts the puller would do, but: It takes a block, and there is none. And: ",
			"Bring a block, and rig 2 parts, hauled from the moving block. And: Put a good sling with a working limit of at least"},
	} {
		s := changed(t, free+c.sets)
		s.Tackle = nil
		p := Reckon(read(t, s))
		if p.Decision != NoGo || len(p.Why) == 0 || !strings.HasPrefix(p.Why[0], c.why) {
			t.Errorf("%s: %s, %q; want first %q", c.about, p.Decision, p.Why, c.why)
		}
		if !slices.ContainsFunc(p.Changes, func(ch Change) bool { return strings.HasPrefix(ch.Do, c.change) }) {
			t.Errorf("%s: no change says %q: %v", c.about, c.change, p.Changes)
		}
	}
}

// Where both copies of a lot fail, both are to be replaced: one good strop in
// the place of two is one too few.
func TestAsManyAsFailAreReplaced(t *testing.T) {
	s := changed(t, "anchors[0].rating=20 t; gear[3].use=; gear[3].count=2; gear[3].rating=4 kN; load.mass=4 t; tackle.haul_from=standing; gear[2].use=; gear[2].count=2")
	p := Reckon(read(t, s))
	if p.Decision != NoGo || !slices.ContainsFunc(p.Changes, func(c Change) bool {
		return c.Then == Go && strings.HasPrefix(c.Do, "Put 2 good slings, each with a working limit of at least")
	}) {
		t.Errorf("%s, %q: %v", p.Decision, p.Why, p.Changes)
	}
}
