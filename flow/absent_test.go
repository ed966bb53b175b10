package flow_test

import (
	"strconv"
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhoIsNotHereHasNoPart: who has left, or is reached by nothing, is given no part by
// name until they are back; nor the lead.
func TestWhoIsNotHereHasNoPart(t *testing.T) {
	flow.Lone(t)
	for name, goes := range map[string]func(p *puller){
		"left": func(p *puller) { p.say("Bo", "leave") },
		"dark": func(p *puller) { in := p.input("Bo"); in.Away = true; p.run(in) },
	} {
		for _, words := range []string{"Bo drives", "Bo is the holder", "Bo is lookout"} {
			p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.AllPlaced].copied(t)
			goes(p)
			if p.job().Topic == "crew" {
				p.say("Ada", "3")
			}
			before := p.job().Seats
			out := text(p.say("Ada", words)["test/Ada"])
			for i, s := range p.job().Seats {
				if s.Name == "Bo" && before[i].Name != "Bo" {
					t.Errorf("%s, %q: Bo is %s", name, words, s.Post.Does)
				}
			}
			if words == "Bo is lookout" { // no such post here
				continue
			}
			if !strings.Contains(out, "Bo is not reached here") {
				t.Errorf("%s, %q is answered %q", name, words, out)
			}
		}
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		goes(p)
		if p.say("Ada", "hand over to Bo"); p.job().Lead.Name != "Ada" {
			t.Errorf("%s, Bo leads", name)
		}
	}
	p := standing(t, "Bo", "Cy", "Di", "Eve")[flow.AllPlaced].copied(t)
	p.say("Bo", "leave")
	p.say("Bo", "come back")
	if out := text(p.say("Ada", "Bo drives")["test/Ada"]); strings.Contains(out, "not reached") {
		t.Errorf("back Bo is answered for with %q", out)
	}
}

// TestNothingIsEasedWithNobodyAtTheHolding: no hold is released that eases a line or takes
// it off while nobody has the holding line that the plan needs.
func TestNothingIsEasedWithNobodyAtTheHolding(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	level := at[flow.Held].copied(t)
	level.say("Ada", "it is on the firm ground now")
	level.to(flow.SlackIsOff)
	level.confirm()
	level.say("Di", "leave") // who holds
	for range 6 {
		for _, who := range []string{"Ada", "Bo", "Cy"} {
			if level.has(who, "sure") {
				level.press(who, "sure")
			}
		}
	}
	if level.say("Ada", "release "+strconv.Itoa(level.job().Hold)); level.stage() != flow.SlackIsOff || !strings.Contains(level.asked("Ada"), "An empty post holds the pull") {
		t.Errorf("with nobody at the holding line it comes off: %s, %q", level.stage(), level.asked("Ada"))
	}
	level.say("Ada", "Cy holds")
	level.until("the gear comes off", func() bool {
		if level.has("Ada", "release") {
			level.press("Ada", "release")
		}
		return level.stage() == flow.Unrig
	})
	for _, stage := range []flow.Stage{flow.HoldProved, flow.LineSlack, flow.Securing, flow.SlackIsOff} {
		for _, how := range []string{"release", "walk"} {
			p := at[stage].copied(t)
			p.confirm()
			in := p.input("Di") // who holds is reached by nothing any more
			in.Away = true
			p.run(in)
			for range 6 {
				for _, who := range []string{"Ada", "Bo", "Cy"} {
					if p.has(who, "sure") {
						p.press(who, "sure")
					}
				}
			}
			s := p.job()
			if !flow.NobodyHolds(p.engine, s, p.input("Ada")) {
				t.Fatalf("%s: somebody holds: %+v", stage, s.Seats)
			}
			p.pressed("Ada", how+"."+strconv.Itoa(s.Hold))
			p.say("Ada", "release "+strconv.Itoa(s.Hold))
			if now := p.job(); now.Stage != s.Stage {
				t.Errorf("%s: %s leads to %s with nobody at the holding line", stage, how, now.Stage)
			}
		}
	}
}

// TestOverIsAsked: that the load is over is no end of the way before it was said over what.
func TestOverIsAsked(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, words := range []string{"the load is over", "its over", "the van is over now"} {
		p := at[flow.Bite].copied(t)
		out := text(p.say("Cy", words)["test/Cy"])
		if s := p.job(); s.Stage.Moves() || len(s.Reports) > 0 && s.Reports[len(s.Reports)-1].Kind == "arrived" || !strings.Contains(out, "Over how?") {
			t.Errorf("%q leaves it at %s, %+v; %q", words, s.Stage, s.Reports, out)
			continue
		}
		q := p.copied(t)
		if q.press("Cy", "saw.tips"); q.job().State != flow.Halted {
			t.Errorf("%q, rolled over, leads to %s", words, q.job().State)
		}
		p.press("Cy", "over_edge")
		p.confirm()
		if r := p.job().Reports; p.job().State != flow.Pulling || !p.has("Ada", "secure") || r[len(r)-1].Kind != "arrived" {
			t.Errorf("%q, over the edge, leads to %s, %q", words, p.job().State, p.asked("Ada"))
		}
	}
	p := at[flow.Bite].copied(t)
	if p.say("Cy", "it is on the firm ground now"); p.job().Reports[0].Kind != "arrived" {
		t.Errorf("on the firm ground is %+v", p.job().Reports)
	}
}
