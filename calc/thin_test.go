package calc

import (
	"slices"
	"strings"
	"testing"

	"linetender/calc/handbook"
	"linetender/calc/unit"
)

// A thickness that nobody told is no better than any that may be told.
func TestAnUntoldThicknessIsNoBetterThanATold(t *testing.T) {
	chain := "gear[0].kind=chain; gear[0].material=; gear[0].rating=4 t; "
	for _, with := range []string{"", "tackle.parts=1; tackle.haul_from=; ", chain} {
		for _, at := range []string{"gear[0]", "gear[1]"} {
			p := Reckon(read(t, changed(t, with+at+".diameter=")))
			if p.Decision != Open {
				t.Errorf("%s%s of no thickness: %s", with, at, p.Decision)
			}
			if !slices.ContainsFunc(p.Checks, func(c Check) bool {
				return c.ID == "R5" && c.Result == Unknown && slices.Contains(c.Fields, at+".diameter")
			}) {
				t.Errorf("%s%s of no thickness: nobody asks for it", with, at)
			}
			for _, thick := range []string{"4 mm", "5 mm", "6.6 mm"} {
				if p := Reckon(read(t, changed(t, with+at+".diameter="+thick))); p.Decision == Go {
					t.Errorf("%s%s %s thick: %s", with, at, thick, p.Decision)
				}
			}
		}
	}
}

// Where even the thinnest line would do, nobody is asked to measure one.
func TestASlackRigIsAskedForNoThickness(t *testing.T) {
	with := gang + "; puller.people=4; gear[0].material=wire; gear[0].diameter="
	for _, c := range weighedBest(t, changed(t, with)).fs.list {
		if key(c.rule.id, c.rule.variant) == "R5/thin" && c.result != Pass {
			t.Errorf("what the thinnest line bears is asked about: %s", c.text())
		}
	}
}

func TestAChainIsHeldAgainstTheStrongestOfItsLink(t *testing.T) {
	least := "gear[0].kind=chain; gear[0].material=; gear[0].diameter=3 mm; gear[0].rating="
	for _, rating := range []string{"12.6 t; gear[0].rating_kind=breaking", "4 t"} {
		c := read(t, changed(t, least+rating))
		if len(c.Odd) == 0 {
			t.Errorf("a chain 3 mm thick is stamped %s, and nobody doubts it", rating)
		}
		if d := Reckon(c).Decision; d == Go {
			t.Errorf("a chain 3 mm thick, stamped %s: %s", rating, d)
		}
	}
	// The best grade that is printed, in each size, is no more than the rule has.
	for _, mm := range []float64{7, 8, 10, 13, 16} {
		size := unit.Millimetres(mm)
		factor, _, _ := handbook.DesignFactor("chain")
		grades := handbook.ChainGrades(size)
		best, _, ok := handbook.ChainWorking(size, grades[len(grades)-1])
		if most, _ := handbook.StrongestChain(size); !ok || most < best.Scale(float64(factor)) {
			t.Errorf("%v mm: the strongest breaks at %v, a printed one carries %v", mm, most, best)
		}
	}
}

// What is brought in place of a sling whose legs lean is laid in line, and says so.
func TestAPieceThatIsBroughtSaysHowItLies(t *testing.T) {
	p := Reckon(read(t, changed(t, "gear[3].sling_angle=70 deg")))
	i := slices.IndexFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "strop") })
	if i < 0 || !strings.Contains(p.Changes[i].Do, "with its legs in line with the pull") {
		t.Errorf("%s, changes %+v", p.Decision, p.Changes)
	}
}

// What is brought in place of a rope that is too thin has the thickness of its stamp.
func TestAThinRopeIsReplaced(t *testing.T) {
	p := Reckon(read(t, changed(t, "gear[0].diameter=5 mm")))
	if !slices.ContainsFunc(p.Changes, func(c Change) bool { return strings.Contains(c.Do, "Put a good rope") }) {
		t.Errorf("%s, changes %+v", p.Decision, p.Changes)
	}
}
