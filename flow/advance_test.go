package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// Rope and load that do not go as the parts say hold everything, and what holds
// the line is looked at anew, as when it was seen to creep; one that fits, or
// has in it what the rope may stretch, goes on.
func TestAdvanceThatDoesNotFit(t *testing.T) {
	flow.Lone(t)
	for words, fits := range map[string]bool{"took in 4 m, moved 1.9 m": true, "took in 4.6 m, moved 1.9 m": true, "took in 9 m, moved 1.9 m": false, "took in 2 m, moved 1.9 m": false} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		out := p.say("Cy", words)
		s := p.job()
		if goes := s.Stage.Moves(); goes != fits {
			t.Errorf("%q: it stands at %s", words, s.Stage)
		}
		if kept := s.Settled["site.anchor_marked"] != "" && s.Settled["site.line_free"] != ""; kept != fits {
			t.Errorf("%q: the marks of the anchors stand as %q, the line as %q", words, s.Settled["site.anchor_marked"], s.Settled["site.line_free"])
		}
		if driver := told(out["test/Bo"]); strings.Contains(driver, "advance.") == fits {
			t.Errorf("%q: the driver is told %s", words, driver)
		}
	}
}

// A reading says what moves a load only with how far it moved: that is asked,
// the answer goes with the reading, and without it nothing is easier.
func TestReadingAsksWhetherItMoved(t *testing.T) {
	flow.Lone(t)
	for words, asks := range map[string]bool{"5 kN at the haul line": true, "5 kN at the haul line, moved 40 cm": false} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		got := told(p.say("Cy", words)["test/Cy"])
		n := len(p.job().Sheet.Seen)
		if strings.Contains(got, "pull.read_moved") != asks || n == 0 || p.job().Sheet.Seen[n-1].What != "reading" {
			t.Fatalf("%q is told %s; seen %+v", words, got, p.job().Sheet.Seen)
		}
		if !asks {
			continue
		}
		p.say("Cy", "moved 40 cm")
		if seen := p.job().Sheet.Seen; len(seen) != n || seen[n-1].Moved != "40 cm" {
			t.Errorf("of a reading and then how far it moved is kept: %+v", seen)
		}
		p.say("Cy", "moved 20 cm")
		if seen := p.job().Sheet.Seen; len(seen) != n+1 || seen[n-1].Moved != "40 cm" || seen[n].What != "move" {
			t.Errorf("another move is kept as %+v", seen)
		}
	}
}
