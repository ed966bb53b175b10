package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTwoComeForOne: of two who are told to have come for one who goes both are of the crew,
// and the lead reads how many are there.
func TestTwoComeForOne(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t, "Bo", "Cy", "Eve")
	got := text(p.say("Ada", "Di goes home, Sal and Bob came instead")["test/Ada"])
	s := p.job()
	if !slices.Contains(s.Crew, "Sal") || !slices.Contains(s.Crew, "Bob") || slices.Contains(s.Crew, "Di") || *s.Sheet.Crew != 5 {
		t.Errorf("the crew is %v, %d people", s.Crew, *s.Sheet.Crew)
	}
	if !strings.Contains(got, "Sal and Bob come in: there are 5 people now") {
		t.Errorf("Ada is told %q", got)
	}
}
