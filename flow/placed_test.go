package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// seats are who has which part, taken or not.
func seats(s *flow.Session) string {
	var out []string
	for _, seat := range s.Seats {
		out = append(out, seat.Name+" "+seat.Post.Does)
	}
	return strings.Join(out, ", ")
}

// TestWhoDoesWhat: who drives, watches and holds is heard beside the names and at any time
// after, of several at once, and two who swap are those who are named.
func TestWhoDoesWhat(t *testing.T) {
	flow.Lone(t)
	const asNamed, swapped = "Ada leader, Bo driver, Cy rigger, Di holder", "Ada leader, Cy driver, Bo rigger, Di holder"
	for _, names := range []string{"Ada, Bo, Cy, Di, and Cy drives", "Ada, Bo watches, Cy drives the tractor, Di", "Ada, Bo, Cy, Di. Cy drives the tractor, Bo watches the anchor"} {
		p := planned(t, "Bo", "Cy", "Di", "Eve")
		if p.say("Ada", names); seats(p.job()) != swapped {
			t.Errorf("%q makes %s", names, seats(p.job()))
		}
	}
	for words, want := range map[string]string{
		"Cy drives the tractor, Bo watches": swapped, "swap Bo and Cy": swapped, "Bo and Cy swap places": swapped, "Bo swaps with Cy": swapped, "Cy takes over the wheel": swapped,
		"please swap Bo with Cy": swapped, "Cy is driver now": swapped, "Bo on the rope, Di drives": "Ada leader, Di driver, Cy rigger, Bo holder", "Dorin drives": asNamed, "rope is on the winch": asNamed,
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		out := p.say("Ada", words)
		if got := seats(p.job()); got != want {
			t.Errorf("%q makes %s", words, got)
		}
		if got := said(out["test/Ada"]); words == "Dorin drives" && !strings.HasPrefix(got, "seat.unknown") {
			t.Errorf("of Dorin the lead is told %s", got)
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if got := said(p.say("Di", "swap Bo and Cy")["test/Di"]); !strings.HasPrefix(got, "join.not_lead") || seats(p.job()) != asNamed {
		t.Errorf("Di swaps two others: %s, told %s", seats(p.job()), got)
	}
	if p.say("Di", "swap me with Cy"); seats(p.job()) != "Ada leader, Bo driver, Di rigger, Cy holder" {
		t.Errorf("Di's swap makes %s", seats(p.job()))
	}
}
