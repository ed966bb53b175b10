package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestNobodyWasHurt: what was told of somebody hurt is taken back where everybody who told
// it says on their own phone that it was a mistake; one alone takes nothing back, nor
// anybody what somebody told of themselves. Who is asked for what they have seen may say
// it in words of their own.
func TestNobodyWasHurt(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, c := range []struct {
		name string
		said [][2]string
		hurt bool
	}{
		{"both", [][2]string{{"Bo", "cy got hurt, stop"}, {"Ada", "cy is hurt"}, {"Bo", "nobody is hurt, that was a mistake"}, {"Ada", "nobody is hurt it was a mistake, all stand still"}}, false},
		{"the lead alone", [][2]string{{"Bo", "cy got hurt, stop"}, {"Ada", "cy is hurt"}, {"Ada", "nobody is hurt, that was a mistake"}}, true},
		{"of themselves", [][2]string{{"Cy", "stop, i am hurt"}, {"Bo", "cy is hurt"}, {"Bo", "nobody is hurt, that was a mistake"}, {"Cy", "it was a mistake"}, {"Ada", "by mistake"}}, true},
	} {
		p := at[flow.Held].copied(t)
		for _, s := range c.said {
			p.say(s[0], s[1])
		}
		for _, who := range p.crew {
			if p.has(who, "still") {
				p.press(who, "still")
			}
		}
		s := p.job()
		hurt := s.State == flow.Referred || s.State == flow.Halted
		if hurt != c.hurt {
			hazards, _ := s.Sheet.Get("hazards")
			t.Errorf("%s: it stands at %s with %s", c.name, s.State, hazards)
		}
		for _, d := range s.Seats {
			if d.Name == "" && !c.hurt {
				t.Errorf("%s: %s is empty", c.name, d.Post.Role)
			}
		}
	}
	p := at[flow.Held].copied(t)
	for _, s := range [][2]string{{"Ada", "cy is hurt"}, {"Ada", "he tripped, Di looks after him"}} {
		p.say(s[0], s[1])
	}
	for _, who := range p.crew {
		if p.has(who, "still") {
			p.press(who, "still")
		}
	}
	p.say("Ada", "change hazards none, Bo looked")
	if out := said(p.say("Bo", "nobody is hurt")["test/Bo"]); p.job().State == flow.Referred || len(p.job().Differs) > 0 {
		t.Errorf("who was asked says nobody is hurt, and it stands at %s: %s", p.job().State, out)
	}
}
