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
		"got it": "taken", "ok got it, say it back: winch made fast brake holds i let go to stop. taking it": "taken", "brake holds, i let go to stop, i obey any stop": "sure", "i'll do it": "taken", "that's me": "taken", "ok": "taken", "Yes, I'll take that on": "taken", "k will do, thanks": "taken", "no problem, i'm on it": "taken",
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

// TestStopWordsSaidBack: who says their part back, as they are asked to, has the word for a
// stop in it and halts nothing while no line lies; the word by itself, a call and a danger
// do, and with a line that lies all of it does. Who says that theirs was none calls no other.
func TestStopWordsSaidBack(t *testing.T) {
	flow.Lone(t)
	for words, halts := range map[string]bool{
		"i let go to stop": false, "i let go at any stop, i call stop if it moves": false, "the stop word is stop, taking it": false,
		"stop": true, "i let go to stop. stop": true, "i let go to stop!": true, "ok i call stop": true, "we must stop": true, "i let go to stop, someone is under the truck": true,
	} {
		p := planned(t, "Bo", "Cy", "Eve")
		p.say("Ada", "Ada, Bo, Cy, Di")
		if p.say("Bo", words); (p.job().State == flow.Halted) != halts {
			t.Errorf("%q halts: %v", words, !halts)
		}
	}
	at := standing(t, "Bo", "Cy", "Di", "Eve")[flow.Held].copied(t)
	at.say("Ada", "Bo is rigger")
	if at.say("Bo", "i let go to stop"); at.job().State != flow.Halted {
		t.Error("with a tight line it halts nothing")
	}
	p := planned(t, "Bo", "Cy", "Eve")
	p.say("Ada", "Ada, Bo, Cy, Di")
	p.say("Bo", "stop")
	calls := p.job().Stops[0].Calls
	if p.say("Bo", "sorry that was no stop, i only said it back"); p.job().Stops[0].Calls != calls {
		t.Error("that it was none calls it again")
	}
	// The lead hands on what somebody without a phone says.
	p = planned(t, "Bo", "Eve")
	p.say("Ada", "Ada, Bo, Cy, Di")
	for _, s := range p.job().Seats {
		if s.Name == "Ada" && !s.Taken {
			p.say("Ada", "[I take it]")
		}
	}
	if got := told(p.say("Ada", "cy says yes he takes it")["test/Ada"]); !strings.Contains(got, "seat.taken") {
		t.Errorf("what Cy says is answered %s", got)
	}
}
