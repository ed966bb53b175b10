package calc

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A rope with only a working limit on it may break at twelve times that, and its line is
// as stiff as that makes it, unless its thickness says that no such rope is sold: of a
// polyester rope one that breaks at 330 N to the square millimetre, doubted by a fifth.
//
// Source: CI 1401-06 leaves five to twelve times; the strain of 12 % is the table's least.
func TestHowStiffTheHoldingRopeMayBe(t *testing.T) {
	for _, row := range []struct {
		sets string
		want float64 // kN, by pocket calculator
	}{
		{"gear[1].rating=10 kN; gear[1].rating_kind=working; gear[1].diameter=", 1000},             // 12 × 10 ÷ 0.12
		{"gear[1].rating=10 kN; gear[1].rating_kind=working; gear[1].diameter=24 mm", 1900.8},      // 1.2 × 330 × 24² ÷ 0.12, whatever its stamp
		{"gear[1].rating=10 kN; gear[1].rating_kind=working; gear[1].diameter=14 mm", 646.8},       // 1.2 × 330 × 14² ÷ 0.12
		{"gear[1].rating=10 kN to 12 kN; gear[1].rating_kind=working; gear[1].diameter=", 1200},    // at its high end
		{"gear[1].rating=60 kN; gear[1].rating_kind=breaking; gear[1].diameter=14 mm", 500},        // 60 ÷ 0.12
		{"gear[1].rating=100 kN; gear[1].rating_kind=working; gear[1].diameter=14 mm", 10_000},     // twice its limit is past its thickness, which bounds nothing then
		{"gear[1].rating=10 kN; gear[1].rating_kind=working; gear[1].diameter=10 to 12 mm", 475.2}, // the thicker
	} {
		p := readPiece(read(t, changed(t, row.sets)).Gear[1], 1)
		ea, ok := p.stiffness()
		if got := ea.High.Kilonewtons(); !ok || math.Abs(got-row.want) > 0.05 || !ea.Ordered() {
			t.Errorf("%s: %v, want %.1f kN at the high end", row.sets, ea, row.want)
		}
	}
}

// Less on the stamp of the rope that holds makes its anchor no safer than the rope that
// may be behind the stamp: S is 4.42 kN, and what stands for 4.9 kN may break at 58.8 kN.
func TestAWeakerStampIsNoSofterThanItMayBe(t *testing.T) {
	sets := "site.holding_slack=0.5 m; holding_reach=9.4 m; gear[1].diameter=; gear[1].rating=2 t"
	c := read(t, changed(t, sets))
	p := Reckon(c)
	i := slices.IndexFunc(p.Anchors, func(a Held) bool { return a.Use == "holding" })
	if i < 0 {
		t.Fatalf("no holding anchor: %+v", p.Anchors)
	}
	s := p.Holding.Static.High.Newtons()
	left := holdingSpan(c).Low.Metres()
	want := s + math.Sqrt(s*s+2*s*0.5*12*2000*9.80665/0.12/left)
	if got := p.Anchors[i].Force.Newtons(); math.Abs(got-want) > 1 {
		t.Errorf("its anchor is held to %.0f N, want %.0f", got, want)
	}
	said := slices.ContainsFunc(p.Working, func(s Step) bool {
		return strings.Contains(s.Topic, "at its stiffest") && strings.Contains(s.In, "× 12 ÷")
	})
	if !said {
		t.Error("the working does not say what its stiffness is by")
	}
}
