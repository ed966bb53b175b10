package calc

import (
	"math"
	"testing"
)

// How far everybody stands off is twice the longest run of line, here 2 × 30 m,
// and of a line over blocks no less than the whole of it: 2 × 30 + 10 m. Not to
// know a length is no better than the most that it can be, which is all the rope
// that is there; with no length of rope told either it is a least figure and
// said to be one.
func TestClearDistanceNotKnown(t *testing.T) {
	const straight = "tackle.parts=1; gear[2].use=spare; gear[3].use=haul; "
	const runs = "load.pull=downhill; load.slope=14 deg; load.ground=gravel; "
	for _, w := range []struct {
		sets  string
		clear float64
		least bool
	}{
		{"reach=30 m; lead=10 m", 70, false},
		{"reach=; lead=10 m", 160, false}, // 2 × 80 m of rope
		{"reach=30 m; lead=", 160, false},
		{"reach=; lead=; gear[0].length=", 10, true},
		{"reach=30 m; lead=; gear[0].length=", 60, true},
		{straight + "reach=30 m; lead=10 m", 80, false},
		{straight + "reach=30 m; lead=", 160, false},
		{runs + "reach=30 m; lead=10 m; distance=12 m", 84, false}, // 2 × (30 + 12) m of the holding line
		{runs + "reach=; lead=10 m; gear[1].length=90 m", 180, false},
		{runs + "reach=; lead=10 m; gear[1].length=", 160, true},
	} {
		p := Reckon(read(t, changed(t, w.sets)))
		if p.Energy == nil || math.Abs(p.Energy.Clear.Metres()-w.clear) > 1e-9 || p.Energy.Least != w.least {
			t.Errorf("%q: %+v, want %v m, a least figure %v", w.sets, p.Energy, w.clear, w.least)
		}
	}
}
