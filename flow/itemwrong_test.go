package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// askedFor takes the list of a crew on until an item whose claim has words is asked of
// somebody, and returns who that is.
func askedFor(t testing.TB, words string, crew ...string) (*phonesAt, string) {
	t.Helper()
	p := briefed(t, crew...)
	all := append([]string{"Ada"}, crew...)
	for range 80 {
		for _, who := range all {
			if strings.Contains(p.asked(who), words) {
				return p, who
			}
		}
		p.at = p.at.Add(20 * time.Second)
		for _, who := range all {
			if last := p.last["test/"+who]; len(last.Choices) > 0 && last.Choices[0].Label == "yes" {
				p.say(who, "[yes]")
				break
			}
		}
	}
	t.Fatalf("nobody is asked %q", words)
	return nil, ""
}

func (p *phonesAt) jobNow() *flow.Session {
	p.t.Helper()
	s, err := flow.Recall(p.engine, p.log, p.head().Code)
	if err != nil {
		p.t.Fatal(err)
	}
	return s
}

// TestWrongAtAnItem: a sentence at an item of the list is first of all the answer to it, and
// puts nothing on the list of gear and anchors; what it says is amiss with another piece opens
// the item of that one, and answers nothing else.
func TestWrongAtAnItem(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"it rubs the fence post abit", "the rope lies on a rock", "touches the bumper of the truck a bit"} {
		p, who := askedFor(t, "touches nothing", "Bo", "Cy", "Di")
		before := len(p.jobNow().Sheet.Anchors)
		p.say(who, words)
		s := p.jobNow()
		if v, _ := s.Sheet.Get("site.line_free"); v != "false" || len(s.Sheet.Anchors) != before || s.State != flow.Verdict {
			t.Errorf("%q: the line is free: %q, of %d anchors there are %d, at %s", words, v, before, len(s.Sheet.Anchors), s.State)
		}
		if got := p.asked("Ada"); !strings.Contains(got, "touches nothing") && !strings.Contains(got, "leans on something") {
			t.Errorf("%q: the lead reads %q", words, got)
		}
	}
	for _, words := range []string{"i mean the sling is loose, ambulance is ok", "nope, the sling at the load is loose", "one shackle pin is not screwed in"} {
		p, who := askedFor(t, "ambulance", "Bo", "Cy", "Di")
		p.say(who, words)
		s := p.jobNow()
		if v, _ := s.Sheet.Get("site.aid"); v != "" || s.Parts["site.ends_joined"].Value == "" {
			t.Errorf("%q: of the ambulance %q, of the ends %q", words, v, s.Parts["site.ends_joined"].Value)
		}
	}
}

// TestWayAtTheItemOfAid: the way of an ambulance, told where that is asked, stops nothing.
func TestWayAtTheItemOfAid(t *testing.T) {
	flow.Lone(t)
	p, who := askedFor(t, "ambulance", "Bo", "Cy", "Di")
	if p.say(who, "ambulance way: gate 3 off the L2051, kit is in the landy"); p.jobNow().State != flow.Checks {
		t.Errorf("it leads to %s", p.jobNow().State)
	}
}

// TestPutRightIsNoNewStop: what is told as what was wrong and put right ends a stop, though
// the stop was called for something else; what is still so is one thing more it is for.
func TestPutRightIsNoNewStop(t *testing.T) {
	flow.Lone(t)
	for words, over := range map[string]bool{
		"dorins radio was dead, he has my spare now, tried it with all": true, "a shackle was loose, tightened it, checked the rest": true,
		"dorins radio is dead, tried it with all": false, "the rope was cut and is cut still": false,
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		p.say("Bo", "stop")
		for _, who := range []string{"Ada", "Cy", "Di"} {
			p.pressed(who, "still")
		}
		if p.say("Ada", words); (p.job().State != flow.Halted) != over {
			t.Errorf("%q ends the stop: %v", words, !over)
		}
	}
}

// TestRepairInTheirOwnWords: who said that something is not so says in whatever words what
// was put right, and it is asked again; no piece of gear is doubted by it.
func TestRepairInTheirOwnWords(t *testing.T) {
	flow.Lone(t)
	for _, c := range []struct{ item, no, repair string }{
		{"wheels are chocked", "no", "ok two wedges behind the front wheels and holding line on, put right"},
		{"touches nothing", "it rubs the fence post abit", "fixed, we moved it"},
	} {
		p, who := askedFor(t, c.item, "Bo", "Cy", "Di")
		p.at = p.at.Add(time.Minute)
		p.say(who, c.no)
		if s := p.jobNow(); s.State != flow.Verdict {
			t.Fatalf("%q leads to %s", c.no, s.State)
		}
		p.at = p.at.Add(time.Minute)
		p.say(who, c.repair)
		s := p.jobNow()
		if s.State != flow.Checks || len(s.Differs) != 0 || !strings.Contains(p.asked(who), c.item) {
			t.Errorf("%q leads to %s with %d answers that differ; %s is asked %q", c.repair, s.State, len(s.Differs), who, p.asked(who))
		}
	}
}

// TestAYesWithAHarmlessTail: a yes that says beside it who owns it, who is belted or that it
// is still tied is a yes and is not put back.
func TestAYesWithAHarmlessTail(t *testing.T) {
	flow.Lone(t)
	for _, c := range []struct{ item, words, path string }{
		{"owners of vehicle", "yes all agree my uncle owns it", "site.consent"},
		{"out of the line or behind", "yes rops, he's belted", "site.driver_shielded"},
		{"line touches nothing", "yes its still tied", "site.line_free"},
	} {
		p, who := askedFor(t, c.item, "Bo", "Cy", "Di")
		p.at = p.at.Add(time.Minute)
		p.say(who, c.words)
		if s := p.jobNow(); s.Marks[c.path].Value == "" {
			t.Errorf("%q is no yes; %s is asked %q", c.words, who, p.asked(who))
		}
	}
}
