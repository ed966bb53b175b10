package flow_test

import (
	"encoding/json"
	"strings"
	"testing"

	"linetender/flow"
)

// TestAnotherPullerIsAnotherPlan: a puller that is changed in the middle of a pull is
// asked for from the beginning, and until all of it is told nothing pulls by what was
// told of the one before.
func TestAnotherPullerIsAnotherPlan(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, words := range []string{"we use another tractor", "another tractor now", "swapped the tractor", "other tractor is here, a 5 t one", "change puller another tractor", "we take the bigger tractor instead, 6 t"} {
		for _, at := range []flow.Stage{flow.AllPlaced, flow.LightTension, flow.Held, flow.Bite} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			old := p.job().Sheet.Puller
			p.say("Ada", words)
			s := p.job()
			now := s.Sheet.Puller
			if s.Stage.Moves() || now != nil && (now.Hitch != "" || now.Mass == old.Mass || now.Ground != "" || now.HitchRating != "" || now.Driven != nil || now.Run != "") {
				body, _ := json.Marshal(now)
				t.Errorf("%q at %s leads to %s, %s with %s", words, at, s.State, s.Stage, body)
			}
			if why, barred := flow.Barred(p.engine, s, p.input("Ada")); !barred {
				t.Errorf("%q at %s keeps nothing: %s", words, at, why)
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	// Piece by piece: no go before the last of it.
	p.say("Ada", "we use another tractor")
	for _, piece := range []string{"5 t tractor, 4x4, on gravel", "level", "straight"} {
		if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
			t.Fatalf("before %q it is a go: %s", piece, why)
		}
		p.say("Ada", piece)
	}
	if s := p.job(); s.Sheet.Puller == nil || s.Sheet.Puller.Mass != "5 t" || s.Sheet.Puller.HitchRating != "" {
		t.Errorf("the new one is %+v", s.Sheet.Puller)
	}
	if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
		t.Errorf("with a hitch that nobody has told of it is a go: %s", why)
	}
	// Of the crew it is asked of the lead, and nothing pulls before.
	c := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	c.to(flow.Bite)
	out := c.say("Bo", "we use another tractor now")
	if s := c.job(); s.Stage.Moves() || len(s.Again) == 0 || s.Again[0].Topic != "puller" || !strings.Contains(text(out["test/Ada"]), "another tractor") {
		t.Errorf("of Bo it leads to %s, %v; Ada is asked %q", s.Stage, s.Again, text(out["test/Ada"]))
	}
	// What is no puller, or none yet, changes nothing of it.
	for _, words := range []string{"no other tractor here", "could we use another tractor?", "another tractor as anchor", "if we had another tractor", "another tractor to help hold"} {
		q := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		q.to(flow.Held)
		q.say("Ada", words)
		if s := q.job(); s.Sheet.Puller == nil || s.Sheet.Puller.Mass != "3.1t" {
			t.Errorf("%q leaves of the puller %+v", words, s.Sheet.Puller)
		}
	}
}
