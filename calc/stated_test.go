package calc

import (
	"testing"

	"linetender/calc/unit"
)

// The lesser of what an anchor's kind holds and what is told of it counts: in
// two parts hauled from the moving side about half of the pull is on it.
func TestAnAnchorsOwnLimitCounts(t *testing.T) {
	hold := func(t *testing.T, sets ...string) (unit.Force, Decision) {
		t.Helper()
		o := weighedBest(t, changed(t, sets...))
		for _, s := range o.path.seats {
			if s.use == "standing" && s.anchor {
				return *s.working, o.v.decision
			}
		}
		t.Fatal("nothing is seated as the anchor")
		return 0, ""
	}
	for name, base := range map[string]string{
		"tree": tree + treeSling, "stump": stump + treeSling, "stakes": stakes + treeSling + "; puller.mass=2 t", "lorry": lorry,
		"deadman": "anchors[0].rating=; anchors[0].rating_kind=; anchors[0].kind=deadman; anchors[0].diameter=40 cm; anchors[0].length=2 m; anchors[0].depth=1.5 m; anchors[0].soil=loam" + treeSling,
	} {
		t.Run(name, func(t *testing.T) {
			own, decision := hold(t, base)
			if decision != Go {
				t.Fatalf("with nothing told it is %s", decision)
			}
			for _, c := range []struct {
				rating, kind string
				want         unit.Force
				decision     Decision
			}{
				{"1 kN", "working", unit.Newtons(1000), NoGo},
				{"5 kN", "breaking", unit.Newtons(1000), NoGo}, // over the five of hardware
				{"5 kN", "", unit.Newtons(1000), NoGo},         // it may be a breaking figure
				{"900 kN", "working", own, Go},                 // a higher one makes no tree thicker
				{"1 kN", "unmarked", own, Go},                  // no tree has a stamp
			} {
				if name == "lorry" && c.kind == "unmarked" { // the point of it that the line is on has one
					c.want, c.decision = 0, NoGo
				}
				got, decision := hold(t, base, "anchors[0].rating="+c.rating, "anchors[0].rating_kind="+c.kind)
				if !(got-c.want < 1e-6 && c.want-got < 1e-6) || decision != c.decision {
					t.Errorf("told %s %s it holds %.0f N and is %s, want %.0f N and %s", c.rating, c.kind, got.Newtons(), decision, c.want.Newtons(), c.decision)
				}
			}
		})
	}
}
