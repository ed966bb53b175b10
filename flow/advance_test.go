package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// Rope and load that do not go as the parts say hold everything, and what holds
// the line is looked at anew, as when it was seen to creep; one that fits goes on.
// That the rope may stretch as much is no reason to: nobody has looked.
func TestAdvanceThatDoesNotFit(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for words, fits := range map[string]bool{"took in 40 cm, moved 19 cm": true, "took in 46 cm, moved 19 cm": false, "took in 90 cm, moved 19 cm": false, "took in 20 cm, moved 19 cm": false} {
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

// Rope that is missing at a hold is told to every phone, nothing says that it went as
// planned, and what it makes doubtful is asked before the line is eased and walked
// again. What is missing again then, and no more, is the stretch of the rope.
func TestMissingRopeIsLookedAt(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"took in 60 cm, moved 10 cm", "i drove 60 cm but it only came 10", "the load moved 10 cm but Bo took in 60cm of rope"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		out := p.say("Bo", words)
		for _, who := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
			if got := said(out["test/"+who]); !strings.Contains(got, "advance.gives") || strings.Contains(got, "pull.still_go") || strings.Contains(got, "pull.learnt") {
				t.Errorf("%q: %s is told %s", words, who, got)
			}
		}
		if p.job().State == flow.Pulling || p.has("Ada", "release") {
			t.Fatalf("%q: it stands at %s %s", words, p.job().State, p.job().Stage)
		}
		out = p.say("Di", "id say it moved 25 cm")
		for _, who := range []string{"Ada", "Bo", "Di"} {
			if !strings.Contains(text(out["test/"+who]), "Bo 10 cm and Di 25 cm") {
				t.Errorf("%s is told %q", who, text(out["test/"+who]))
			}
		}
		for range 80 {
			if p.stage() == flow.FirstMove {
				break
			}
			switch {
			case p.willing():
			case p.has("Ada", "walk"):
				p.press("Ada", "walk")
			case p.has("Ada", "release"):
				p.press("Ada", "release")
			case p.has("Ada", "stands_*"):
				p.press("Ada", "stands_*")
			default:
				p.tick(61e9)
			}
			if at := p.stage(); at == flow.Bite || at == flow.Crest {
				t.Fatalf("%q: the next that is released is %s", words, at)
			}
		}
		if at := p.stage(); at != flow.FirstMove {
			t.Fatalf("%q: it comes to %s", words, at)
		}
		if s := p.job(); s.Settled["site.anchor_marked"] == "" || s.Settled["site.ends_joined"] == "" && s.Marks["site.ends_joined"].Value != "" {
			t.Errorf("%q: it is pulled with marks and knots not looked at", words)
		}
		p.press("Ada", "stands_*")
		p.say("Bo", "took in 60 cm, moved 12 cm")
		if p.job().State != flow.Pulling {
			t.Errorf("%q: what was looked at is asked once more for no more than that", words)
		}
	}
}

// A load that went further than was released is told to everybody as that.
func TestPastTheMostReleased(t *testing.T) {
	flow.Lone(t)
	for words, past := range map[string]bool{"took in 2 m, moved 1 m": true, "took in 60 cm, moved 30 cm": false} {
		for _, stage := range []flow.Stage{flow.FirstMove, flow.Held} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(stage)
			out := p.say("Bo", words)
			for _, who := range []string{"Ada", "Bo", "Cy", "Eve"} {
				if strings.Contains(said(out["test/"+who]), "pull.past_most") != past {
					t.Errorf("%s, %q: %s is told %s", stage, words, who, said(out["test/"+who]))
				}
			}
			if past && p.stage().Moves() {
				t.Errorf("%s, %q: it goes on", stage, words)
			}
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

// TestACountBesideTheWheel: what is told of the wheel takes nothing from a count that stands
// beside it, and a figure without a unit has that of the other half of its count.
func TestACountBesideTheWheel(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{
		"held. moved 19cm took in 40. wheel radius is 40 cm", "wheel radius is 40 cm. moved 19 cm, took in 40 cm", "took in 40, moved 19 cm, wheel radius 40 cm",
		"the middle of the wheel is at 40 cm; moved 19 cm took in 40",
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Bite)
		out := p.say("Bo", words)
		s := p.job()
		if len(s.Bites) == 0 {
			t.Fatalf("%q: no bite", words)
		}
		if b := s.Bites[len(s.Bites)-1]; b.Moved != "19 cm" && b.Moved != "19cm" || b.TookIn != "40 cm" || s.Sheet.Load.WheelRadius != "40 cm" {
			t.Errorf("%q: moved %q, took in %q, wheel %q: %s", words, b.Moved, b.TookIn, s.Sheet.Load.WheelRadius, told(out["test/Bo"]))
		}
	}
}
