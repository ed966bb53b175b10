package calc

import (
	"fmt"
	"strings"
	"testing"
)

// TestAListedTieIsJudged: what is listed as tying an anchor back and is worth nothing ties
// nothing back, and what is not told of it is asked for.
func TestAListedTieIsJudged(t *testing.T) {
	next := fmt.Sprintf("gear[%d]", len(changed(t).Gear))
	at := func(sets string) string { return strings.ReplaceAll(sets, "gear[9]", next) }
	tie := tree + "; site.clear=; anchors[0].tied_back=true; gear[9].kind=chain; gear[9].use=tie-back; gear[9].rating=50 kN; gear[9].rating_kind=working; gear[9].condition=good; gear[9].improvised=false; gear[9].knots=none"
	worst := func(sets string) Result {
		out := Pass
		for _, c := range Reckon(read(t, changed(t, at(sets)))).Checks {
			if c.ID == "A2" && (c.Result == Fail || c.Result == Unknown && out == Pass) {
				out = c.Result
			}
		}
		return out
	}
	if got := worst(tie); got != Pass {
		t.Fatalf("with a good chain that ties back it is %s", got)
	}
	for _, bad := range []string{"gear[9].condition=damaged", "gear[9].rating_kind=unmarked", "gear[9].improvised=true"} {
		if got := worst(tie + "; " + bad); got != Fail {
			t.Errorf("%s: %s", bad, got)
		}
	}
	for _, untold := range []string{"gear[9].condition=", "gear[9].improvised=", "gear[9].rating=; gear[9].rating_kind="} {
		if got := worst(tie + "; " + untold); got != Unknown {
			t.Errorf("%s: %s", untold, got)
		}
	}
}

// TestTwoHoldingRopesCatchAsStiff: two ropes that hold side by side catch as hard as one
// that is as strong as both, and over one sheave one of two counts.
func TestTwoHoldingRopesCatchAsStiff(t *testing.T) {
	next := len(changed(t).Gear)
	at := func(sets string) string { return strings.ReplaceAll(sets, "gear[9]", fmt.Sprintf("gear[%d]", next)) }
	rope := "gear[9].kind=rope; gear[9].use=holding; gear[9].material=polyester; gear[9].rating_kind=breaking; gear[9].length=60 m; gear[9].condition=good; gear[9].improvised=false; gear[9].knots=; "
	caught := func(more string) float64 {
		p := readPiece(read(t, changed(t, at(rope+more))).Gear[next], next)
		ea, ok := p.stiffness()
		if !ok {
			t.Fatalf("%s: no stiffness", more)
		}
		return ea.High.Newtons()
	}
	if one, two := caught("gear[9].rating=180 kN"), caught("gear[9].rating=90 kN; gear[9].count=2; gear[9].equalised=true"); two < one*0.999 {
		t.Errorf("two ropes of 90 kN are %.0f N stiff, one of 180 kN %.0f N", two, one)
	}
	haul := read(t, changed(t, "gear[0].count=2; gear[0].equalised=true")).Gear[0]
	alone := read(t, changed(t)).Gear[0]
	if a, b := readPiece(haul, 0), readPiece(alone, 0); haul.Kind != "rope" || *a.working > *b.working {
		t.Errorf("two haul ropes over one sheave carry %v, one carries %v", *a.working, *b.working)
	}
}
