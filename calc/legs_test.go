package calc

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Two anchors that share evenly carry half of the line each side by side, at 45
// degrees 0.707 of it, and from 60 degrees on all (half over the cosine). Where
// nobody told how far a leg leans all is counted and said; where that decides it
// is asked.
func TestAnchorsThatShare(t *testing.T) {
	whole := 0.0
	for _, h := range Reckon(read(t, changed(t))).Anchors {
		if h.Use == "standing" {
			whole = h.Force.Newtons()
		}
	}
	for _, w := range []struct {
		angles   string
		share    float64
		decision Decision
	}{
		{"anchors[0].sling_angle=0 deg; anchors[2].sling_angle=0 deg", 0.5, Go},
		{"anchors[0].sling_angle=0 deg; anchors[2].sling_angle=45 deg", math.Sqrt2 / 2, Go},
		{"", 1, Go},
		{"anchors[0].sling_angle=0 deg; anchors[2].sling_angle=60 deg", 1, NoGo},
		{"anchors[0].rating=1.5 t; anchors[2].rating=1.5 t; anchors[0].sling_angle=5 deg; anchors[2].sling_angle=5 deg", 0.5 / math.Cos(5*math.Pi/180), Go},
		{"anchors[0].rating=1.5 t; anchors[2].rating=1.5 t", 1, Open},
	} {
		p := Reckon(read(t, changed(t, pair, w.angles)))
		n := 0
		for _, h := range p.Anchors {
			if h.Use == "standing" {
				n++
				if math.Abs(h.Force.Newtons()/whole-w.share) > 1e-9 {
					t.Errorf("%q: it carries %.4f of the line, want %.4f", w.angles, h.Force.Newtons()/whole, w.share)
				}
			}
		}
		if n != 2 || p.Decision != w.decision {
			t.Errorf("%q: %d anchors, %s, want %s: %v", w.angles, n, p.Decision, w.decision, p.Why)
		}
		assumed := slices.ContainsFunc(p.Assumed, func(a Assumed) bool { return a.Field == "anchors[0].sling_angle" })
		if assumed != !strings.Contains(w.angles, "sling_angle") {
			t.Errorf("%q: assumed %v", w.angles, p.Assumed)
		}
		if p.Decision == Open && !slices.ContainsFunc(p.Checks, func(c Check) bool { return slices.Contains(c.Fields, "anchors[0].sling_angle") }) {
			t.Errorf("%q: nothing asks for the angle", w.angles)
		}
	}
}
