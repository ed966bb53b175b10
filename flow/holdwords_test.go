package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWordsAtAHold: what people say at a hold point of what is as it is to be confirms
// nothing and begins nothing over again; they are told how it is confirmed.
func TestWordsAtAHold(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"standin still", "yeh", "yup", "fine, yes", "ok yes good", "2 chocks in, marked w spray yes", "chocks in both sides", "anchor mark hasn't moved", "brake on, foot off",
		"brake's on, all fine, ready when you are", "ok done, bit muddy here", "so it is, nice and steady", "done. the sun is out", "all good here mate", "standing, engine running", "so it is, slow but ok",
		"belt on, low gear, brake works", "bo says belt on, lowest gear, brake works, yes so it is", "got the knife now, so it is"} {
		for _, who := range []string{"Ada", "Cy"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.Held)
			n, sure := p.job().Hold, len(p.job().Holds[len(p.job().Holds)-1].Sure)
			got := said(p.say(who, words)["test/"+who])
			s := p.job()
			if s.Stage != flow.Held || s.State != flow.Pulling || s.Hold != n || len(s.Holds[len(s.Holds)-1].Sure) != sure || strings.Contains(got, "refuse.miss") || !strings.Contains(got, "pull.bare_confirm") {
				t.Errorf("%q of %s: %s, hold %d after %d, told %s", words, who, s.Stage, s.Hold, n, got)
			}
		}
	}
	for _, words := range []string{"chocks are off", "chocks not in", "no mark", "go go go", "brakes off", "so it is, brake squeaks", "so it is, puller dug in a bit", "nice view, chocks are out", "so it is, it is muddy on the way", "belt off", "no knife", "gear wont hold"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		if got := said(p.say("Cy", words)["test/Cy"]); strings.Contains(got, "pull.kept") || strings.Contains(got, "pull.bare_confirm") {
			t.Errorf("%q is taken for as it is to be: %s", words, got)
		}
	}
}

// TestStrangersComeAndGo: a walker on the path is a stop, and a child that was taken
// away ends one.
func TestStrangersComeAndGo(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"walker on the path", "a walker on the footpath", "people on the track"} {
		for _, at := range []flow.Stage{flow.Held, flow.Bite} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			if p.say("Cy", words); p.job().State != flow.Halted {
				t.Errorf("%q at %s leads to %s", words, at, p.job().State)
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "a kid ran in")
	q := p.copied(t)
	for _, who := range []string{"Bo", "Di", "Cy"} {
		p.pressed(who, "still")
	}
	for _, words := range []string{"kid taken away", "the kid was led away", "kid driven home", "kid brought to its mum", "dog led off"} {
		r := p.copied(t)
		if r.say("Ada", words); r.job().State == flow.Halted {
			t.Errorf("%q ends no stop: %q", words, r.last["test/Ada"].Text())
		}
	}
	for _, words := range []string{"kid taken to the line", "kid not taken away", "kid led back in between them"} {
		r := p.copied(t)
		if r.say("Ada", words); r.job().State != flow.Halted {
			t.Errorf("%q ends a stop", words)
		}
	}
	if q.say("Bo", "standin still"); len(q.job().Stops[len(q.job().Stops)-1].Still) != 2 {
		t.Errorf("of those who stand still are noted %v", q.job().Stops[len(q.job().Stops)-1].Still)
	}
}
