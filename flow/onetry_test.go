package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestOnePullIsOneTry: what several tell of one pull, with whatever words, failed once;
// the next release is another.
func TestOnePullIsOneTry(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di")
	p.to(flow.LightTension)
	before := p.job().Pulls
	p.to(flow.FirstMove)
	at := p.job().Pulls
	if at <= before || before == 0 {
		t.Fatalf("%d pulls were released by the first move, and %d by the light load", at, before)
	}
	p.say("Ada", "it is stuck")
	p.say("Bo", "the puller slipped, wheels spun")
	s := p.job()
	tries := map[int]bool{}
	for _, w := range s.Sheet.Seen {
		if w.Try == nil {
			t.Fatalf("nobody knows of which pull it is: %+v", w)
		}
		tries[*w.Try] = true
	}
	if len(s.Sheet.Seen) < 2 || len(tries) != 1 || !tries[at] {
		t.Errorf("%d seen, in the pulls %v, want one, %d", len(s.Sheet.Seen), tries, at)
	}
}
