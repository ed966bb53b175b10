package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestStepsOff: who is off to fetch something before the pull has no post until
// they take it on again, whoever tells it; nobody is taken out of the crew or
// moved, and the pull doesn't begin without them.
func TestStepsOff(t *testing.T) {
	flow.Lone(t)
	for _, row := range [][2]string{
		{"Bo", "im off to fetch the strap"},
		{"Bo", "just nipping back to the van for a shackle"},
		{"Bo", "I'm heading over to get the second rope"},
		{"Bo", "going to get the strap"},
		{"Ada", "Bo is off to get the strap"},
		{"Ada", "bo has gone to fetch the shackles"},
		{"Ada", "bos gone to borrow a chain"},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		before := p.job().Seats
		out := p.say(row[0], row[1])
		for _, s := range p.job().Seats {
			for _, was := range before {
				if was.Post == s.Post && was.Name != s.Name {
					t.Errorf("%q: %s was %s's and is %s's", row[1], s.Post.Does, was.Name, s.Name)
				}
			}
			if s.Taken != (s.Name != "Bo") {
				t.Errorf("%q: %s of %s is taken: %v", row[1], s.Post.Does, s.Name, s.Taken)
			}
		}
		if got := said(out["test/Ada"]); !strings.Contains(got, "seat.off") {
			t.Errorf("%q: the lead is told %s", row[1], got)
		}
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Errorf("%q: it keeps nothing: %s", row[1], why)
		}
		if p.say("Bo", "im back"); p.job().Seats[1].Taken {
			t.Errorf("%q: that Bo is back takes the post on", row[1])
		}
		p.say("Bo", "I take it")
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); barred {
			t.Errorf("%q: back at the post something keeps the pull: %s", row[1], why)
		}
	}
	for _, text := range []string{"Bo has gone", "Bo is off now"} { // for good
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Ada", text)
		if len(p.job().Crew) != 3 {
			t.Errorf("%q: the crew is %v", text, p.job().Crew)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	if out := p.say("Ada", "Bo is off to get the strap"); said(out["test/Bo"]) == "" || !strings.HasPrefix(said(out["test/Bo"]), "pull.lost") {
		t.Errorf("at a tight line Bo is told %s", said(out["test/Bo"]))
	}
}
