package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAgainstGo: what anybody tells against a go ends it, whoever had said yes.
func TestAgainstGo(t *testing.T) {
	flow.Lone(t)
	for _, who := range []string{"Cy", "Eve"} {
		for _, words := range []string{"Di is not sober", "Di had a beer", "Di has been drinking", "Di had a beer didnt he?"} {
			for _, pulls := range []bool{false, true} {
				p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
				if pulls {
					p.to(flow.AllPlaced)
				}
				p.say(who, words)
				if s := p.job(); s.State == flow.Pulling {
					t.Errorf("after %q of %s it is still in the pull", words, who)
				}
				if got, _ := p.job().Sheet.Get("site.sober"); got != "false" {
					t.Errorf("after %q of %s sober is %q", words, who, got)
				}
				if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
					t.Errorf("after %q of %s the pull begins", words, who)
				}
			}
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if p.say("Cy", "nobody had a beer"); p.job().Sheet.Site == nil || p.job().State != flow.Verdict {
		t.Errorf("nobody had a beer ends it: %s", p.job().State)
	}
}

// TestSlopeFromAnotherPhone: a bare slope against the one that was told differs.
func TestSlopeFromAnotherPhone(t *testing.T) {
	for _, words := range []string{"deffo 1 in 3", "1 in 3 mate", "no 1 in 3"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		if p.say("Cy", words); len(p.job().Differs) != 1 {
			t.Errorf("%q differs from nothing", words)
		}
	}
}

// TestStopWithWords: the words of a stop are on every screen right after it.
func TestStopWithWords(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	out := p.say("Cy", "STOP the oak is movin")
	for _, who := range []string{"Ada", "Bo", "Di", "Eve"} {
		if got := told(out["test/"+who]); !strings.HasPrefix(got, "stop.called stop.words") {
			t.Errorf("%s is told %s", who, got)
		}
	}
}
