package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestCrewCountDiffers: a count of people from another phone than the lead's changes
// nothing by itself, from afar or from the spot, one or two at once: it stands beside
// the count that was told, nobody loses a part, and nothing pulls before the lead has
// said which it is.
func TestCrewCountDiffers(t *testing.T) {
	flow.Lone(t)
	for words, said := range map[string]string{"we are 5 people": "5", "5 of us": "5", "change crew 3": "3"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		seats := p.job().Seats
		out := p.say("Eve", words)
		if got := text(out["test/Ada"]); !strings.Contains(got, "Two phones, two answers, people: Eve") || !strings.Contains(got, "says "+said) {
			t.Errorf("%q: the lead is told %q", words, got)
		}
		s := p.job()
		if *s.Sheet.Crew != 4 || len(s.Crew) != 4 || len(s.Differs) != 1 || len(s.Seats) != len(seats) {
			t.Fatalf("%q of who is afar makes it %d people, %v, with %d that differ", words, *s.Sheet.Crew, s.Crew, len(s.Differs))
		}
		for i := range seats {
			if s.Seats[i] != seats[i] {
				t.Errorf("%q takes a part: %+v was %+v", words, s.Seats[i], seats[i])
			}
		}
		p.say("Bo", "6 of us") // at once with the other
		if s := p.job(); *s.Sheet.Crew != 4 || len(s.Differs) != 1 {
			t.Errorf("%q, and another count of Bo: %d people, %d differ", words, *s.Sheet.Crew, len(s.Differs))
		}
		if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
			t.Errorf("%q: unsettled, the pull begins", words)
		}
		if p.press("Ada", "differ.*"); len(p.job().Differs) != 0 {
			t.Errorf("%q: the lead can't settle it: %q", words, p.asked("Ada"))
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if p.say("Cy", "2 of us are at the tree"); len(p.job().Differs) != 0 || *p.job().Sheet.Crew != 4 {
		t.Errorf("so many at one place are taken for all: %+v", p.job().Differs)
	}
	// Before it was told on the spot nobody tells it from afar either.
	q := newPhones(t)
	q.say("Ada", "/start")
	q.join("Ada", "coordinator code", "Eve")
	q.say("Eve", "change crew 5")
	a := &puller{phonesAt: &phonesAt{phones: q}}
	if s := a.job(); s.Sheet.Crew != nil {
		t.Errorf("from afar it is %d people before anybody there has said", *s.Sheet.Crew)
	}
}

// TestWhoIsNamedIsThere: somebody under age who is told of beside the names takes nobody
// else out of the crew, neither whoever is named in the sentence before nor whoever is
// named with what they are; and so many as there are, said again, answers no check.
func TestWhoIsNamedIsThere(t *testing.T) {
	flow.Lone(t)
	for _, names := range []string{
		"i told you, tom thats me, gerd he's the old hand, anna. jonas is 15",
		"tom thats me, gerd and anna. jonas is 15",
		"tom, gerd he's the old hand, jonas is 15, anna",
	} {
		c, sent := onePhone(t, names, "ask.check")
		if got := strings.Join(c.session().Crew, ", "); *c.session().Sheet.Crew != 3 || got != "tom, gerd, anna" {
			t.Errorf("%q: %d people, %s", names, *c.session().Sheet.Crew, got)
		}
		if !asks(sent, "ask.check") {
			t.Errorf("%q leads to %s", names, keysOf(sent))
		}
		if got := c.say("no we are 3 grown ups: Tom, Gerd, Anna"); !asks(got, "ask.check") || asks(got, "referred") || c.session().State != flow.Checks {
			t.Errorf("the number told again leads to %s, %v", keysOf(got), c.session().State)
		}
	}
}
