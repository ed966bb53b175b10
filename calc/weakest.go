package calc

import "math"

// Weak is what of a plan is nearest to what it may carry.
type Weak struct {
	Kind, Name, Use string
	Anchor          bool
	Ratio           float64 // of what it may carry; infinite for what counts nothing
}

// Weakest returns the piece or anchor of plan p that is used most: what counts
// nothing and has something to carry, then by use ratio, gear before anchors. It
// is false where nothing carries anything by what is known. It is what the
// check R3 names where all pass; whoever marks or says the weakest asks here.
func (p Plan) Weakest() (w Weak, ok bool) {
	see := func(kind, name, use string, anchor bool, ratio *float64, nothing bool) {
		r := 0.0
		switch {
		case nothing:
			r = math.Inf(1)
		case ratio != nil:
			r = *ratio
		}
		if r > w.Ratio {
			w, ok = Weak{kind, name, use, anchor, r}, true
		}
	}
	for _, m := range p.Gear {
		see(m.Kind, m.Name, m.Use, false, m.Ratio, m.Working != nil && *m.Working <= 0 && m.Tension > 0)
	}
	for _, a := range p.Anchors {
		see(a.Kind, a.Name, a.Use, true, a.Ratio, a.Capacity != nil && *a.Capacity <= 0 && a.Force > 0)
	}
	return w, ok
}
