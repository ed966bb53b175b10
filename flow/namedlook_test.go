package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestNobodyAnswersForAPhone: that somebody with a phone in the job has looked at what was
// told to be bad counts by their own phone, whoever else says so; who has none may be
// answered for.
func TestNobodyAnswersForAPhone(t *testing.T) {
	flow.Lone(t)
	for _, bad := range []struct{ path, worse, good, button string }{
		{"gear[0].condition", "change rope 1 condition damaged", "change rope 1 condition good, Cy checked it, good", "[good]"},
		{"load.mass", "change weight 41 t", "change weight 2.4 t, Cy checked it", "[2.4 t*"},
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.say("Ada", bad.worse)
		was, _ := p.job().Sheet.Get(bad.path)
		out := p.say("Ada", bad.good)
		if now, _ := p.job().Sheet.Get(bad.path); now != was {
			t.Errorf("%q makes %s of %s by the lead's word: %s", bad.good, now, was, text(out["test/Ada"]))
		}
		if got := text(out["test/Ada"]); !strings.Contains(got, "Asked on their own phone: Cy") {
			t.Errorf("of %q the lead is told %q", bad.good, got)
		}
		if got := text(out["test/Cy"]); !strings.Contains(got, "Only your own word counts") || strings.Contains(text(out["test/Di"]), "Only your own") {
			t.Errorf("of %q Cy is told %q", bad.good, got)
		}
		for _, who := range []string{"Ada", "Di"} {
			p.say(who, "Cy checked it, good")
			p.pressed(who, "differ.1.was")
			if now, _ := p.job().Sheet.Get(bad.path); now != was {
				t.Errorf("%s answers for Cy: %s", who, now)
			}
		}
		p.at = p.at.Add(60e9)
		p.pressed("Cy", "differ.1.was")
		if now, _ := p.job().Sheet.Get(bad.path); now == was {
			t.Errorf("by Cy's own word %s stays %s", bad.path, now)
		}
	}
	p := readyToPull(t, "Bo", "Eve") // Cy has no phone
	p.say("Ada", "change rope 1 condition damaged")
	p.say("Ada", "change rope 1 condition good, Cy checked it, good")
	if now, _ := p.job().Sheet.Get("gear[0].condition"); now != "good" {
		t.Errorf("for Cy without a phone nobody may answer: %s", now)
	}
}
