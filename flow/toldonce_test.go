package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestPartIsToldOnce: a part is said whole when it is given. A word that is not
// read is answered by the question of it alone; who comes back reads it all.
func TestPartIsToldOnce(t *testing.T) {
	flow.Lone(t)
	p := &puller{phonesAt: planned(t, "Bo", "Cy", "Di")}
	out := p.say("Ada", "Ada, Bo, Cy, Di")
	if got := said(out["test/Bo"]); !strings.Contains(got, "seat.duty") || !strings.Contains(got, "seat.ask") {
		t.Fatalf("Bo is given the part by %s", got)
	}
	for _, words := range []string{"nice weather eh", "ok maybe", "hm"} {
		if got := said(p.say("Bo", words)["test/Bo"]); strings.Contains(got, "seat.duty") || strings.Contains(got, "seat.stop") || !strings.Contains(got, "seat.ask") {
			t.Errorf("%q is answered by %s", words, got)
		}
	}
	if got := said(p.say("Bo", "/start")["test/Bo"]); !strings.Contains(got, "seat.duty") {
		t.Errorf("back Bo is told %s", got)
	}
}

// TestCardIsTheirs: each card has what its holder needs without a signal: the rig
// goes to who lays it and who leads, the force and the hold points to all.
func TestCardIsTheirs(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	for who, rig := range map[string]bool{"Ada": true, "Bo": false, "Cy": true, "Di": false} {
		all := text(p.say(who, "card")["test/"+who])
		for _, want := range []string{"No signal, no answer", "You: ", "At the puller: at most", "Hold points, in this order", "STOP shouted"} {
			if !strings.Contains(all, want) {
				t.Errorf("%s's card lacks %q", who, want)
			}
		}
		if lines := strings.Count(strings.ReplaceAll(all, "\n\n", "\n"), "\n"); lines > 40 || !rig && lines > 30 {
			t.Errorf("%s's card has %d lines:\n%s", who, lines, all)
		}
	}
}
