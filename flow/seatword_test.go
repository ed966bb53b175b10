package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestPartsTakenInWords: a part is taken on, or not, in the words that people have
// for it; a word that could be about anything takes nothing on.
func TestPartsTakenInWords(t *testing.T) {
	flow.Lone(t)
	taken := func(p *phonesAt) bool {
		for _, s := range p.job().Seats {
			if s.Name == "Bo" {
				return s.Taken
			}
		}
		return false
	}
	for words, want := range map[string]string{
		"ok i take it": "taken", "yep mine": "taken", "I'm on it": "taken", "i got it": "taken", "will do": "taken", "yup": "taken", "aye": "taken", "sure": "taken",
		"got it": "taken", "i'll do it": "taken", "that's me": "taken", "ok": "taken", "Yes, I'll take that on": "taken", "k will do, thanks": "taken", "no problem, i'm on it": "taken",
		"nah": "declined", "no": "declined", "not me": "declined", "sorry can't do that": "declined", "no i'm not driving": "declined", "i can't": "declined",
		"all good": "sure", "fine": "sure", "done": "sure", "yes?": "", "ok?": "", "is that mine?": "",
	} {
		p := planned(t, "Bo", "Cy", "Eve")
		p.say("Ada", "Ada, Bo, Cy, Di")
		out := p.say("Bo", words)
		got := told(out["test/Bo"])
		if is := taken(p); is != (want == "taken") {
			t.Errorf("%q: taken on %v, and Bo is told %s", words, is, got)
		}
		if want != "" && !strings.Contains(got, "seat."+want) {
			t.Errorf("%q is answered %s", words, got)
		}
		if lead := text(out["test/Ada"]); want == "declined" && !strings.Contains(lead, "Bo does not take it on: driver") {
			t.Errorf("of %q the lead is told %q", words, lead)
		}
	}
}
