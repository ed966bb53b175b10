package calc

import "testing"

// An anchor that what is told of it already fails does so whatever else of it is
// left out: what is not told can only lessen what it holds.
func TestAnAnchorThatFailsNeedsNoMoreTold(t *testing.T) {
	light := lorry + "; anchors[0].mass=0.3 t; "
	thin := tree + "; anchors[0].diameter=40 cm; load.mass=8 t; puller.mass=9 t; "
	for _, w := range []struct{ sets, check string }{
		{light + "anchors[0].rating=; anchors[0].rating_kind=", "A4"}, {light + "anchors[0].chocked=", "A4"},
		{thin + "anchors[0].alive=", "A1"}, {thin + "anchors[0].lean=", "A1"},
	} {
		o := weighedBest(t, changed(t, w.sets))
		if got := outcomes(o, w.check); got[Fail] == "" || o.v.decision != NoGo {
			t.Errorf("%q: %s with %v", w.sets, o.v.decision, got)
		}
	}
}
