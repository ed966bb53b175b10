package calc

import (
	"linetender/calc/job"
	"testing"
)

// TestSheavesUnknown: plain sheaves ask more of the puller, rollers pass on more to
// the anchor and to every part. What nobody knows is as bad as the worse of the two.
func TestSheavesUnknown(t *testing.T) {
	lone(t)
	worse := 0
	for _, s := range caseIndex(t).Scenarios {
		sheet := ownCase(t, s.File)
		if sheet.Tackle == nil {
			sheet.Tackle = &job.TackleSheet{}
		}
		decided := map[string]Decision{}
		for _, kind := range []string{"", "plain", "roller"} {
			sheet.Tackle.Sheave = kind
			c, err := sheet.Case()
			if err != nil {
				t.Fatalf("%s with %q: %v", s.File, kind, err)
			}
			decided[kind] = Reckon(c).Decision
		}
		for _, kind := range []string{"plain", "roller"} {
			if decided[""] == Go && decided[kind] != Go {
				t.Errorf("%s: a go with sheaves that nobody knows, %s with %s ones", s.File, decided[kind], kind)
			}
		}
		if decided["plain"] == Go && decided[""] != Go {
			worse++
		}
	}
	if worse == 0 {
		t.Error("no case is a go with plain sheaves only, so nothing was tried")
	}
}
