package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestNoGoWordingOverWhatIsAskedAgain: after what makes answers doubtful nobody reads
// that it is still a go before these are given anew.
func TestNoGoWordingOverWhatIsAskedAgain(t *testing.T) {
	for _, words := range []string{"the line creeps on the anchor", "the wheels slip", "the puller slips"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.FirstMove)
		p.say("Di", "took in 1 m, moved 0.5 m") // other figures than were said
		out := p.say("Cy", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := told(out["test/"+who]); strings.Contains(got, "pull.still_go") {
				t.Errorf("after %q %s is told %s", words, who, got)
			}
		}
	}
}

// TestANoGoReachesTheCrew: that what was seen makes it a no-go is read by everybody at
// once, with what makes it one.
func TestANoGoReachesTheCrew(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	out := p.say("Cy", "the puller slips")
	for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
		if got := text(out["test/"+who]); strings.Count(got, "NO-GO") != 1 || !strings.Contains(got, "the puller slips") {
			t.Errorf("%s is told %q", who, got)
		}
	}
}
