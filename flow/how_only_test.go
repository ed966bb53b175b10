package flow

import "testing"

// How the slope was found is no slope: the question stays open until there is
// one, and no turn ends without a question.
func TestHowFoundIsNoAnswer(t *testing.T) {
	x := &turn{s: &Session{Settled: map[string]How{}}}
	x.settle("slope", Told)
	if len(x.entry.Acts) != 0 {
		t.Errorf("a slope that nobody told is settled: %v", x.entry.Acts)
	}
}
