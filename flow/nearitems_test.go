package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestNoItemNearATightLine: whatever reopens the list, by words or by the clock,
// nobody is asked to look at line, anchors or ends before the driver has said that
// the line lies slack, nor at the load while it is only taken up; all of it is asked
// then, and nothing is pulled before.
func TestNoItemNearATightLine(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	near := []string{"anchor_marked", "ends_joined", "line_free", "edges_padded"}
	load := []string{"under", "aboard", "chocks", "hold_stays"}
	for _, at := range []flow.Stage{flow.SlackIsOut, flow.LightTension, flow.Held, flow.LineSlack} {
		for _, words := range []string{"rain has started", "strop creeps up the tree", "rope over the wheel", ""} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			if words == "" {
				p.tick(61 * time.Minute) // the plan is an hour old
			} else {
				p.say("Cy", words)
			}
			seen := map[string]bool{}
			look := func() {
				s := p.job()
				slack := s.Stage == flow.AllPlaced && slices.ContainsFunc(s.Holds, func(h flow.Hold) bool {
					return slices.ContainsFunc(h.Sure, func(y flow.Sure) bool { return y.Duty == "easing" })
				})
				for _, who := range p.crew {
					for _, c := range p.last["test/"+who].Choices {
						parts := strings.Split(c.Choice, ".")
						if parts[0] != "item" && parts[0] != "eyes" {
							continue
						}
						if seen[parts[1]] = true; !slack && (slices.Contains(near, parts[1]) || (at == flow.SlackIsOut || at == flow.LightTension) && slices.Contains(load, parts[1])) {
							t.Fatalf("%q at %s: %s is asked for %s at %s", words, at, who, parts[1], s.Stage)
						}
					}
				}
				if s.Stage == flow.Bite || s.Stage == flow.Crest || s.Stage == flow.FirstMove {
					t.Fatalf("%q at %s: it pulls on", words, at)
				}
			}
			for range 60 {
				switch s := p.job(); {
				case s.Stage == flow.Proving:
					p.press("Ada", "stands_proving")
				case p.has("Ada", "walk"):
					p.press("Ada", "walk")
				case s.Stage == flow.AllPlaced && p.has("Ada", "release"):
				case p.has("Ada", "release"):
					p.press("Ada", "release")
				default:
					for _, who := range p.crew {
						look()
						p.does(who)
					}
				}
				look()
			}
			if s := p.job(); s.Stage != flow.AllPlaced || s.State != flow.Pulling || !seen["anchor_marked"] {
				t.Errorf("%q at %s: it stands at %s, %s; asked were %v", words, at, s.State, s.Stage, seen)
			}
		}
	}
}
