package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/calc"
	"linetender/flow"
)

// need is what the load takes by the plan as it is now.
func (p *puller) need() calc.Force {
	p.t.Helper()
	c, err := p.job().Sheet.Case()
	if err != nil {
		p.t.Fatal(err)
	}
	return *reckon(c).Force
}

// TestSeenHoldsWhatItWasSeenWith: what was seen keeps the load and the puller of
// then, and who sees the way left may say that it is alike. That lapses once the
// way is told to be another.
func TestSeenHoldsWhatItWasSeenWith(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	was := p.job().Sheet
	low, high := p.need().Low.Newtons(), p.need().High.Newtons()
	out := p.say("Cy", fmt.Sprintf("moved 20 cm, load cell at the load reads %.0f N", low*1.02))
	s := p.job()
	if len(s.Sheet.Seen) != 1 {
		t.Fatalf("a reading teaches %+v: %s", s.Sheet.Seen, said(out["test/Cy"]))
	}
	w := s.Sheet.Seen[0]
	if w.Load == nil || w.Load.Mass != was.Load.Mass || w.Load.Slope != was.Load.Slope || w.Load.Lip != was.Load.Lip || w.By == nil || w.By.Mass != was.Puller.Mass || w.By.Ground != was.Puller.Ground || w.Leads == nil || w.Alike != nil {
		t.Errorf("it was seen with %+v and %+v: %+v", w.Load, w.By, w)
	}
	if !strings.Contains(said(out["test/Cy"]), "pull.alike") {
		t.Errorf("nobody is asked of the way left: %s", said(out["test/Cy"]))
	}
	if now := p.need().High.Newtons(); now < high {
		t.Errorf("the need fell from %v to %v before anybody said so", high, now)
	}
	p.say("Cy", "way alike")
	if a := p.job().Sheet.Seen[0].Alike; a == nil || !*a || p.need().High.Newtons() >= high {
		t.Errorf("told alike: %v, %v", a, p.need())
	}
	for _, text := range []string{"the way left is steeper", "change slope 12 deg"} {
		p.say("Cy", "the way is alike")
		p.say("Ada", text)
		if a := p.job().Sheet.Seen[0].Alike; a != nil {
			t.Errorf("after %q it is still alike", text)
		}
	}
	p.say("Ada", "change puller weight 9 t")
	s = p.job()
	if w := s.Sheet.Seen[0]; w.By.Mass != was.Puller.Mass || s.Sheet.Puller.Mass == was.Puller.Mass {
		t.Errorf("the puller of then weighs %s, told %s, now %s", w.By.Mass, was.Puller.Mass, s.Sheet.Puller.Mass)
	}
}

// TestLadenAgain: a load that is told lighter and then as it was before may have
// been laden with something else, so what moved before does not say as much.
func TestLadenAgain(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.FirstMove)
	mass := p.job().Sheet.Load.Mass
	p.say("Cy", fmt.Sprintf("moved 20 cm, load cell at the load reads %.0f N", p.need().Low.Newtons()*1.02))
	p.say("Cy", "way alike")
	was := p.need().High
	for _, kg := range []string{"1.5 t weighed", mass + " weighed"} {
		p.say("Ada", "change load weight "+kg)
	}
	s := p.job().Sheet
	if s.Load.Mass != mass || s.Load.MassFrom != "weighed" {
		t.Fatalf("the load is %+v", s.Load)
	}
	if w := s.Seen[0]; w.Reloaded == nil || !*w.Reloaded || w.Alike == nil || p.need().High <= was {
		t.Errorf("seen %+v; it needs %v at most, %v before", w, p.need(), was)
	}
}
