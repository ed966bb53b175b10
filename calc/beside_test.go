package calc

import (
	"reflect"
	"slices"
	"sync"
	"testing"

	"linetender/calc/job"
)

// lone leaves a test out of a run under the race detector: it makes many plans, one
// after the other, so there is nothing to find and ten times as long to wait. It
// runs in every other run; [TestPlansSideBySide] is for the detector.
func lone(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("one goroutine: nothing for the race detector")
	}
}

// Planning keeps nothing and changes nothing: the very same case can be planned by
// many at once, beside others, with all that is asked of a plan, and comes out alike.
func TestPlansSideBySide(t *testing.T) {
	type made struct {
		c    job.Case
		want Plan
	}
	var all []made
	for i, file := range caseFiles(t) {
		if raced && i%4 != 0 {
			continue // of each kind some: one plan is as good as another to the detector
		}
		c, err := caseOf(readCase(t, file))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, made{c, Reckon(c)})
	}
	if len(all) < 5 {
		t.Fatalf("only %d cases are compared", len(all))
	}
	var turns sync.WaitGroup
	for range 3 {
		turns.Go(func() {
			for _, m := range all { // everybody the same at the same time
				got := Reckon(m.c)
				if !reflect.DeepEqual(got, m.want) {
					t.Errorf("the plan of %+v is another when it is made beside others", m.c)
				}
				if !reflect.DeepEqual(Bite(m.c, got), Bite(m.c, m.want)) {
					t.Errorf("the bites of %+v are others when they are reckoned beside others", m.c)
				}
				_, _ = LightLoad(m.want)
			}
		})
	}
	turns.Go(func() {
		for _, m := range slices.Backward(all) {
			Reckon(m.c)
		}
	})
	turns.Wait()
}
