package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestComingBack: who comes back while a stop is on, or comes in then, is told
// of it ahead of all else, with who called it and why, and then where they are.
// That they came back is no word for the others.
func TestComingBack(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "crew code", "Bo")
	p.join("Ada", "crew code", "Cy")
	p.say("Ada", "none")
	p.say("Cy", "stop, the rope slips")

	in := p.input("Bo")
	in.Text, in.Person.Name = "/start", "" // a terminal that knows no name
	out := p.run(in)
	got := out["test/Bo"]
	if want := "stop.called stop.words join.back stop.still"; said(got) != want || !got[0].Urgent {
		t.Errorf("Bo is told %s, urgent %v, want %s ahead of all else", said(got), got[0].Urgent, want)
	}
	for _, want := range []string{"Cy called it, in these words: stop, the rope slips", "as Bo"} {
		if !strings.Contains(text(got), want) {
			t.Errorf("Bo is not told %q but:\n%s", want, text(got))
		}
	}
	for _, chat := range []string{"test/Ada", "test/Cy"} {
		for _, m := range out[chat] {
			if m.Live == "" || strings.Contains(m.Text(), "start") {
				t.Errorf("%s is told that Bo came back: %s", chat, m.Text())
			}
		}
	}

	// A second stop by somebody whom the channel has no name for is theirs by name.
	p.say("Ada", "the rope is made fast again")
	p.say("Ada", "[I see them all stand still]")
	in = p.input("Bo")
	in.Text, in.Person.Name = "stop", "root"
	p.run(in)
	s, err := flow.Load(p.log, p.last["test/Ada"].Session)
	if err != nil {
		t.Fatal(err)
	}
	if by := s.Stops[len(s.Stops)-1].By.Name; by != "Bo" {
		t.Errorf("the log has the stop of Bo as one of %q", by)
	}
	if got := p.say("Ada", "/start")["test/Ada"]; !strings.HasPrefix(said(got), "stop.called stop.who join.back_lead ask.") && !strings.HasPrefix(said(got), "stop.called stop.who join.back_lead stop.") {
		t.Errorf("the lead who comes back is told %s", said(got))
	}
	if got := p.join("Ada", "crew code", "Dan")["test/Dan"]; !strings.HasPrefix(said(got), "stop.called stop.who welcome.crew") {
		t.Errorf("who comes in during a stop is told %s", said(got))
	}
}

// TestShowBoard: all of the board is said when it is asked for, to anybody; it
// does not move with the clock alone, and the word by itself stays an answer
// about the slope.
func TestShowBoard(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "coordinator code", "Eve")
	p.join("Ada", "crew code", "Bo")
	for _, who := range []string{"Ada", "Eve", "Bo"} {
		got := p.say(who, "show board")["test/"+who]
		if keys := said(got); !strings.HasPrefix(keys, "board.head board.people ") || strings.Contains(text(got), "Last:") {
			t.Errorf("%s is shown %s", who, keys)
		}
	}
	p.say("Ada", "none")
	p.say("Ada", "2.4 t weighed")
	if got := said(p.say("Ada", "board")["test/Ada"]); strings.HasPrefix(got, "board.head") {
		t.Errorf("the board that measures a slope is answered by %s", got)
	}
	out := p.say("Bo", "the strap looks worn")
	if got := board(out["test/Ada"]); strings.Contains(got, "worn") || !strings.Contains(got, "As of ") {
		t.Errorf("the lead's board has %q: the words have come by themselves", got)
	}
	if got := board(out["test/Eve"]); !strings.Contains(got, "Last: Bo: the strap looks worn") {
		t.Errorf("the coordinator's board has %q", got)
	}
}
