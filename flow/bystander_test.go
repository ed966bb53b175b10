package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// bystanders are words that somebody is near the rig, and the item of the list
// that they are a no to before anything is rigged.
var bystanders = []struct{ text, item string }{
	{"there's a kid by the rope", "clear"},
	{"a kid walked in", "clear"},
	{"theres a kid next to the rope!!", "clear"},
	{"someone walked up to the rope", "clear"},
	{"Cy is standing next to the rope smoking", "clear"},
	{"Bo's by the rope", "clear"},
	{"yes but Di is by the line", "clear"},
	{"so it is but some bloke is stood at the winch cable", "clear"},
	{"an old man is behind the lorry", "under"},
	{"there are people between the vehicles", "between"},
	{"the neighbours dog ran under the rope", "under"},
	{"the kid isn't moving away from the rope", "clear"},
	{"hes leaning on the rope", "clear"},
}

// TestSomebodyAtTheRope: who is told to be near what is rigged stops it, whoever
// tells it and whatever is asked then.
func TestSomebodyAtTheRope(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, stage := range []flow.Stage{flow.AllPlaced, flow.SlackOut, flow.LightTension, flow.FirstMove, flow.Held} {
		p := readyToPull(t)
		p.to(stage)
		at := *p
		for _, row := range bystanders {
			c := at.copied(t)
			out := c.say("Ada", row.text)
			if s := c.job(); s.State != flow.Halted || s.Stops[len(s.Stops)-1].Cause != "inside" {
				t.Errorf("at %s %q leaves the job at %s: %s", stage, row.text, s.State, text(out["test/Ada"]))
			}
		}
	}
	p := readyToPull(t)
	p.to(flow.Held)
	p.say("Ada", "it slips") // and what it could have changed is asked again
	if s := p.job(); s.State == flow.Pulling || s.State == flow.Halted {
		t.Fatalf("after a slip the job stands at %s", s.State)
	}
	for _, row := range bystanders {
		c := p.copied(t)
		c.say("Ada", row.text)
		if s := c.job(); s.State != flow.Halted {
			t.Errorf("in a question that is asked again %q leaves the job at %s", row.text, s.State)
		}
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	for _, row := range bystanders {
		for _, who := range []string{"Cy", "Eve", "Ada"} {
			c := p.copied(t)
			c.say(who, row.text)
			if s := c.job(); s.State != flow.Halted {
				t.Errorf("%q of %s leaves the job at %s", row.text, who, s.State)
			}
		}
	}
}

// TestNobodyAtTheRope: words that nobody is there, or is there no more, stop nothing.
func TestNobodyAtTheRope(t *testing.T) {
	for _, words := range []string{"nobody is by the rope", "the kid by the rope is gone now", "Di is on the holding line",
		"Bo is in the seat", "is anybody near the rope?", "keep people away from the rope"} {
		p := readyToPull(t)
		p.to(flow.AllPlaced)
		if p.say("Ada", words); p.job().State == flow.Halted {
			t.Errorf("%q stops it", words)
		}
	}
}

// TestSomebodyBeforeTheRig: before anything is rigged it is a no to the item of
// the list that it is about, and rain in the same breath is not lost.
func TestSomebodyBeforeTheRig(t *testing.T) {
	flow.Lone(t)
	for _, crew := range [][]string{nil, {"Bo", "Cy", "Di"}} {
		p := readyToPull(t, crew...)
		for _, row := range bystanders {
			c := p.copied(t)
			out := c.say("Ada", row.text)
			s := c.job()
			if item := "site." + row.item; !fails(s, item) {
				v, _ := s.Sheet.Get(item)
				t.Errorf("%q: %s is %q: %s", row.text, item, v, text(out["test/Ada"]))
			}
			if c.say("Ada", "begin the pull"); c.job().State == flow.Pulling {
				t.Errorf("after %q the pull begins", row.text)
			}
		}
		c := p.copied(t)
		c.say("Ada", "yes but its chucking it down and Di is by the rope")
		if s := c.job(); !fails(s, "site.clear") || len(s.Again) == 0 {
			t.Errorf("rain or somebody at the rope is lost: %+v", s.Again)
		}
	}
	p := planned(t)
	if out := p.say("Ada", "theres a kid by the rope"); !strings.Contains(said(out["test/Ada"]), "stop.near") {
		t.Errorf("at the names it is told %s", said(out["test/Ada"]))
	}
	for _, word := range []string{"kid", "child", "dog!", "a dog"} {
		if out := p.say("Ada", word); !strings.Contains(said(out["test/Ada"]), "stop.hint") {
			t.Errorf("at the names %q is told %s", word, said(out["test/Ada"]))
		}
	}
}

func fails(s *flow.Session, item string) bool {
	v, ok := s.Sheet.Get(item)
	return ok && v == map[string]string{"site.clear": "false", "site.under": "true", "site.between": "true"}[item]
}

// TestRainAnywhere: rain is heard wherever the ground was told, and asks again
// what it could have changed.
func TestRainAnywhere(t *testing.T) {
	for _, words := range []string{"its raining hard now", "no its raining", "chucking it down here", "started to rain", "its getting wet"} {
		p := readyToPull(t)
		out := p.say("Ada", words)
		s := p.job()
		if len(s.Again) == 0 || s.Settled["site.chocks"] != "" || !strings.Contains(said(out["test/Ada"]), "stale.rain") {
			t.Errorf("%q after the list: %s", words, said(out["test/Ada"]))
		}
		if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
			t.Errorf("after %q the pull begins", words)
		}
	}
	for _, words := range []string{"no rain", "rain is over", "it might rain later", "is it raining?", "it rained last night"} {
		p := readyToPull(t)
		if p.say("Ada", words); len(p.job().Again) > 0 {
			t.Errorf("%q is taken for rain", words)
		}
	}
	c := newChair(t)
	var last string
	for _, words := range []string{"hello", "none", "3 t weighed", "8 degrees", "firm soil, not sunk, all turn", "its raining now"} {
		last = ""
		for _, m := range c.say(words) {
			last += m.Text()
		}
	}
	if !strings.Contains(last, "Asked again") {
		t.Errorf("right after the ground rain is lost: %s", last)
	}
}

// TestSomebodyNearBeforeAndAfter: that somebody is by it is read at the first
// question, in a job for others and in one that was left, and by whoever left a job
// of others; somebody hurt or inside is an answer as ever.
func TestSomebodyNearBeforeAndAfter(t *testing.T) {
	for _, words := range []string{"theres a kid by the rope", "a man is standing under the load", "people are walking between the truck and the tractor"} {
		c := newChair(t)
		c.say("hello")
		if got := said(c.say(words)); !strings.Contains(got, "stop.near") || !strings.Contains(got, "ask.people") {
			t.Errorf("at the first question %q is told %s", words, got)
		}
		c.say("gas smell")
		if got := said(c.say(words)); !strings.Contains(got, "stop.near_referred") || !strings.Contains(got, "ask.referred") {
			t.Errorf("in a job for others %q is told %s", words, got)
		}
		c = newChair(t)
		for _, first := range []string{"hello", "none", "leave"} {
			c.say(first)
		}
		if got := said(c.say(words)); !strings.Contains(got, "stop.near") || !strings.Contains(got, "open.again") && !strings.Contains(got, "ask.away") {
			t.Errorf("in a job that was left %q is told %s", words, got)
		}
		p := newPhones(t)
		p.say("Ada", "/start")
		p.join("Ada", "crew code", "Bo")
		p.say("Bo", "leave")
		if got := said(p.say("Bo", words)["test/Bo"]); !strings.Contains(got, "join.outside_near") {
			t.Errorf("outside of the job %q is told %s", words, got)
		}
	}
	c := newChair(t)
	c.say("hello")
	if got := said(c.say("a man is trapped under it")); strings.Contains(got, "stop.near") || !strings.Contains(got, "plan.refer") {
		t.Errorf("somebody trapped is told %s", got)
	}
	c = newChair(t)
	c.say("hello")
	if got := said(c.say("words")); !strings.Contains(got, "help.pull") {
		t.Errorf("words brings %s", got)
	}
}
