package calc

import (
	"testing"

	"pgregory.net/rapid"
)

// Where nothing fails no piece is told to: one that passes only once something is told
// is told as asked, and of a no-go none that is fails.
func TestWhatIsAskedDoesNotFail(t *testing.T) {
	lone(t)
	over := 0 // told as used over what it may carry
	checkMeeting(t, func() bool { return over > 2 }, func(t *rapid.T) {
		s := drawn(t)
		s.HoldReach = ""
		if rapid.Bool().Draw(t, "light") {
			s.Load.Mass, s.Load.HoldingPoint.Rating = "1 t", "2 t"
		}
		p := Reckon(read(t, s))
		judge := func(what string, ratio *float64, passes, asked bool) {
			if passes && asked || p.Decision == Go && !passes || p.Decision == Open && !passes && !asked {
				t.Fatalf("%s: the %s passes %v, asked %v", p.Decision, what, passes, asked)
			}
			if ratio != nil && *ratio > 1 && asked {
				over++
			}
		}
		for _, g := range p.Gear {
			judge(g.Kind+" "+g.Use, g.Ratio, g.Passes, g.Asked)
		}
		for _, a := range p.Anchors {
			judge(a.Kind+" "+a.Use, a.Ratio, a.Passes, a.Asked)
		}
	})
}
