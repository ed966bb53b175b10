package calc

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// What the check says is the weakest where all pass is what the plan gives as
// the weakest, anchors among it; what counts nothing is weaker than all else.
func TestTheWeakestIsOne(t *testing.T) {
	lone(t)
	passed := 0
	rapid.Check(t, func(t *rapid.T) {
		p := Reckon(read(t, withSeen(t)))
		w, ok := p.Weakest()
		if r, text := resultOf(p, "R3", "weakest is the"); r == Pass && p.Decision == Go {
			passed++
			name := w.Name
			if name == "" {
				name = strings.ReplaceAll(w.Kind, "-", " ")
			}
			if noun, ok := map[string]string{"rated": "rated anchor point", "vehicle": "anchor vehicle"}[name]; ok && w.Anchor {
				name = noun
			}
			if !ok || !strings.Contains(text, fmt.Sprintf("the %s,", name)) && name != "drawbar" && name != "frame" && name != "rated eye" {
				t.Fatalf("the check says %q, the plan %+v", text, w)
			}
		}
	})
	if passed == 0 {
		t.Error("no plan passed")
	}
	p := Reckon(read(t, changed(t, "gear[3].condition=damaged; anchors[0].rating=1 kN")))
	if w, ok := p.Weakest(); !ok || w.Name != "strop" || !math.IsInf(w.Ratio, 1) {
		t.Errorf("with a damaged strop the weakest is %+v", w)
	}
}
