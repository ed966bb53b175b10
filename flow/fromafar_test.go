package flow_test

import (
	"strings"
	"testing"
)

// TestNoPostFromAfar: who follows from afar never has a part on the spot:
// not by being named among the crew, not by being placed, not by coming in from
// afar under a name that has one.
func TestNoPostFromAfar(t *testing.T) {
	seatless := func(p *puller, way string) {
		t.Helper()
		for _, s := range p.job().Seats {
			if s.Name == "Eve" {
				t.Errorf("%s: Eve follows from afar and has %s", way, s.Post.Does)
			}
		}
	}
	p := &puller{phonesAt: planned(t, "Bo", "Eve")}
	out := p.say("Ada", "Ada, Bo, Cy, Eve")
	if got := said(out["test/Ada"]); !strings.Contains(got, "seat.afar_named") {
		t.Errorf("named among the crew: %s", got)
	}
	seatless(p, "named")
	if out := p.say("Ada", "Eve is holder"); !strings.Contains(said(out["test/Ada"]), "seat.afar_named") {
		t.Errorf("placed: %s", said(out["test/Ada"]))
	}
	seatless(p, "placed")
	p.say("Ada", "Dan is holder")
	if s := p.job().Seats[3]; s.Name != "Dan" {
		t.Errorf("Dan holds nothing: %+v", s)
	}

	p = &puller{phonesAt: planned(t, "Bo")}
	p.say("Ada", "Ada, Bo, Cy, Eve")
	out = p.join("Ada", "coordinator code", "Eve")
	if got := said(out["test/Ada"]); !strings.Contains(got, "seat.afar_named") {
		t.Errorf("who comes in under a name that has a part: %s", got)
	}
	seatless(p, "coming in")

	p = &puller{phonesAt: planned(t, "Bo", "Eve")}
	p.say("Ada", "Ada, Bo, Cy, Eve B")
	if s := p.job().Seats[3]; s.Name != "Eve B" {
		t.Errorf("another Eve has no part: %+v", s)
	}
}
