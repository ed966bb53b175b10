package calc

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
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
		// Straight, 3090 × 9.80665 × (sin 7 + 0.143 cos 7) = 7993.9 N against
		// 2900 × 9.80665 × (0.32 cos 2 - sin 2) = 8102.5 N.
		{free + "puller.mass=2.9 to 3.1 t; gear[2].condition=damaged", "block (damaged)", ""},
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

// What is wrong with the only anchor or block is a reason, and what would do in
// its place a change, though the plan shown is the straight pull that a weak
// puller is left with.
func TestWhatKeepsATackleFromGoingIsSaid(t *testing.T) {
	const free = "tackle.parts=; tackle.haul_from=; gear[2].use=; gear[3].use=; load.mass=3000 kg; puller.mass=1.9 t; anchors[0].use=; "
	for _, w := range []struct{ sets, says, change string }{
		{tree + "; anchors[0].alive=false", "the tree is dead or rotten", "in place of the tree"},
		{tree + "; anchors[0].diameter=15 cm", "the tree is too thin", "in place of the tree"},
		{"anchors[0].rating=0.1 t", "must hold", "in place of the rated anchor point"},
		{"anchors[0].use=standing; anchors[0].name=ring; anchors[1].name=ring", "the holding line is on the ring, and so is the pull", ""},
		{"gear[2].condition=damaged", "the block is damaged", "in place of the block"},
	} {
		s := changed(t, free+w.sets)
		for i := range s.Anchors {
			if s.Anchors[i].Kind == "tree" {
				s.Anchors[i].Use = ""
			}
		}
		p := Reckon(read(t, s))
		if p.Decision != NoGo || !slices.ContainsFunc(p.Why, func(s string) bool { return strings.Contains(strings.ToLower(s), w.says) }) {
			t.Errorf("%q: %s for another reason than %q: %v", w.sets, p.Decision, w.says, p.Why)
		}
		if !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, w.change) && c.Then == Go }) {
			t.Errorf("%q: no change says %q: %v", w.sets, w.change, p.Changes)
		}
	}
}

// Every reason is a check of the plan that is shown, in its words, or says with
// how many parts it is one.
func TestReasonsAreOfThePlanShown(t *testing.T) {
	lone(t)
	others := 0
	rapid.Check(t, func(t *rapid.T) {
		s := withSeen(t)
		switch rapid.IntRange(0, 3).Draw(t, "broken") {
		case 0:
			s.Anchors[0].Alive = ptr(false)
		case 1:
			s.Anchors[0].Name, s.Anchors[1].Name = "ring", "ring"
		case 2:
			s.Gear[2].Condition, s.Gear[3].Condition = "damaged", "damaged"
		}
		p := Reckon(read(t, s))
		for i, why := range p.Why {
			if strings.Contains(why, " it won't; with ") && strings.Contains(why, "the puller would do, but: ") {
				others++
				if p.Decision != NoGo || i != 0 {
					t.Fatalf("%s, reason %d: %q", p.Decision, i, why)
				}
				continue
			}
			if p.Decision != Refer && !slices.ContainsFunc(p.Checks, func(c Check) bool { return c.Text == why }) {
				t.Fatalf("%s with %d parts: no check of it says %q", p.Decision, p.Tackle.Parts, why)
			}
		}
	})
	if others == 0 {
		t.Error("no other rig gave a reason")
	}
}

// What only somebody on the spot can see and a bad answer to which is a no-go
// keeps a plan open until it is told: a machine's slopes, how far the line leads
// off, and whether the points that the lines are made fast to are whole.
func TestWhatNobodyLookedAtIsOpen(t *testing.T) {
	for _, row := range []struct{ with, field, bad string }{
		{"", "load.tow_point.condition", "damaged"},
		{"", "load.holding_point.condition", "damaged"},
		{"", "load.off_line", "30 deg"},
		{"", "puller.slope", "35 deg"},
		{"", "puller.side_slope", "30 deg"},
		{"puller.kind=tracked; ", "puller.side_slope", "30 deg"},
		{winch, "puller.slope", "35 deg"},
		{winch, "puller.side_slope", "30 deg"},
	} {
		if p := Reckon(read(t, changed(t, row.with))); p.Decision != Go {
			t.Fatalf("%q: %s: %v", row.with, p.Decision, p.Why)
		}
		if p := Reckon(read(t, changed(t, row.with, row.field+"="+row.bad))); p.Decision != NoGo && p.Decision != Refer {
			t.Errorf("%s of %s: %s", row.field, row.bad, p.Decision)
		}
		p := Reckon(read(t, changed(t, row.with, row.field+"=")))
		if p.Decision != Open || !slices.ContainsFunc(p.Measure, func(m Measure) bool { return m.Field == row.field && m.CouldFlip }) {
			t.Errorf("%q without %s: %s, measure %v", row.with, row.field, p.Decision, p.Measure)
		}
	}
}
