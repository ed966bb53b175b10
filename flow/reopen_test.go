package flow_test

import (
	"strings"
	"testing"
)

// press1 presses the button that begins so, whoever has it, and says who did.
func (p *phonesAt) press1(choice, label string, people ...string) string {
	p.t.Helper()
	for _, who := range people {
		for _, c := range p.last["test/"+who].Choices {
			if strings.HasPrefix(c.Choice, choice) && c.Label == label {
				p.say(who, "["+label+"]")
				return who
			}
		}
	}
	return ""
}

// TestANoStandsUntilAnswered: what failed on the spot is asked anew once it is said
// to be put right, or with the list; until two have seen it the no stands, and
// nobody reads a go, on the board or in the job's summary.
func TestANoStandsUntilAnswered(t *testing.T) {
	crew := []string{"Ada", "Bo", "Cy"}
	for _, say := range []string{"fixed", "checks"} {
		p := briefed(t, "Bo", "Cy", "Eve")
		until := func(choice, label string) {
			t.Helper()
			for range 60 {
				if p.press1(choice, label, crew...) != "" {
					return
				}
				if p.press1("item.", "yes", crew...)+p.press1("eyes.", "yes", crew...) == "" {
					break
				}
			}
			t.Fatalf("%s: nobody is asked %s", say, choice)
		}
		no := func(when string) {
			t.Helper()
			if got := p.head().Decision; got != "no-go" {
				t.Fatalf("%s: %s the decision is %q", say, when, got)
			}
			if got := text(p.say("Eve", "show board")["test/Eve"]); !strings.Contains(got, "NO-GO") {
				t.Fatalf("%s: %s the board says %q", say, when, got)
			}
		}
		until("item.under.", "no")
		no("after the no")
		p.say("Ada", say)
		no("asked anew")
		until("item.under.", "yes")
		no("seen by one")
		until("eyes.under.", "yes")
		if got := p.head().Decision; got != "go" {
			t.Errorf("%s: seen by two, the decision is %q", say, got)
		}
	}
}
