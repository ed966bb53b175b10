package calc

import (
	"slices"
	"strings"
	"testing"
)

// Two lengths end to end need something between them: 30 m of reach and lead
// with a tenth and 3 m more is 36 m, which 20 m and 20 m reach only together.
func TestLengthsAreJoined(t *testing.T) {
	const straight = "tackle.parts=1; gear[2].use=spare; gear[3].use=spare; gear[0].length=20 m; "
	const second = "gear[4].kind=rope; gear[4].use=haul; gear[4].rating=6 t; gear[4].rating_kind=working; gear[4].material=polyester; gear[4].diameter=20 mm; " +
		"gear[4].length=20 m; gear[4].knots=none; gear[4].condition=good; gear[4].improvised=false; "
	const shackle = "gear[5].kind=shackle; gear[5].rating=8 t; gear[5].rating_kind=working; gear[5].condition=good; gear[5].improvised=false; "
	for sets, want := range map[string]Decision{
		straight + "gear[0].length=40 m":                                         Go,
		straight + "gear[0].count=2":                                             Open,
		straight + "gear[0].count=2; gear[0].length=40 m":                        Go, // one of them does
		straight + second:                                                        Open,
		straight + second + shackle:                                              Go, // it is put between them
		straight + second + shackle + "gear[5].use=haul":                         Go,
		straight + second + shackle + "gear[5].use=spare":                        Go, // what is spare may be placed
		straight + second + shackle + "gear[5].use=haul; gear[5].rating=0.2 t":   NoGo,
		straight + second + shackle + "gear[5].rating_kind=unmarked":             NoGo,
		straight + second + "gear[0].knots=short splice":                         Go,
		straight + second + "gear[0].knots=eye splice; gear[4].knots=eye splice": Open,
		straight + second + "gear[0].knots=reef":                                 NoGo,
	} {
		p := Reckon(read(t, changed(t, sets)))
		if p.Decision != want {
			t.Errorf("%q: %s, want %s: %v", strings.TrimPrefix(sets, straight), p.Decision, want, p.Why)
		}
		asks := slices.ContainsFunc(p.Checks, func(c Check) bool {
			return c.ID == "R1" && c.Result == Unknown && strings.Contains(c.Text, "joins the lengths")
		})
		if asks != (want == Open) {
			t.Errorf("%q: asks what joins them: %v", sets, asks)
		}
	}
}
