package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// TestRiggedStaysWhatItIs: what a piece of the rig is called may change while it stays
// what it is, and the rig with it; what comes in the place of a piece is never called as
// that was.
func TestRiggedStaysWhatItIs(t *testing.T) {
	flow.Lone(t)
	standing := func(p *puller) string {
		for _, line := range p.job().Rig {
			if strings.HasPrefix(line, "anchor|tree|") {
				return line
			}
		}
		return ""
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if got := standing(p); got != "anchor|tree|oak|standing" {
		t.Fatalf("rigged on %q: %v", got, p.job().Rig)
	}
	no := p.job().RigNo
	for _, step := range []struct{ text, want string }{
		{"another oak 60 cm, alive and sound and upright, tied back to a rock with a chain", "oak 20 inch"},
		{"change oak 20 inch 60 cm", "oak 20 inch"},
		{"which.1", "oak 20 inch"},
		{"oak 60 cm", "oak 1"},
		{"change oak 2 20 inch", "oak 60 cm"}, // the two are the other way round by now
		{"take out oak 20 inch", "oak"},
	} {
		var out map[string][]flow.Message
		if strings.HasPrefix(step.text, "which.") {
			out = p.pressed("Ada", step.text)
		} else {
			out = p.say("Ada", step.text)
		}
		all := ""
		for _, m := range out {
			all += text(m)
		}
		s := p.job()
		if standing(p) != "anchor|tree|"+step.want+"|standing" || s.RigNo != no || strings.Contains(all, "rig is another") {
			t.Fatalf("%q: rigged on %q, rig %d, told\n%s", step.text, standing(p), s.RigNo, all)
		}
	}

	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Ada", "take out the oak")
	if got := text(p.say("Ada", "an oak 60 cm, alive and sound, upright, tied back to a rock with a chain")["test/Ada"]); !strings.Contains(got, "oak 2 (60 cm") {
		t.Errorf("an oak that comes for the one of the rig is called so:\n%s", got)
	}
	if rig := p.job().Rig; !slices.Contains(rig, "anchor|tree|oak|standing") {
		t.Errorf("before there is a go by it the rig is %v", rig)
	}
}
