package flow_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// TestNothingNearATightLine: after whatever was seen nobody is asked to turn gear
// over, to scratch the tree or to pace the line before the driver has said that it
// lies slack; the way there is open, a bite is not, and all of it is asked then.
func TestNothingNearATightLine(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	hands := func(topic string) bool {
		return strings.HasPrefix(topic, "gear") || strings.HasPrefix(topic, "anchor") || slices.Contains([]string{"reach", "lead", "off_line", "lip"}, topic)
	}
	for _, at := range []flow.Stage{flow.LightTension, flow.Held} {
		for _, words := range []string{"heard a crack in the rope", "rope over the wheel", "the tree moved", "strop creeps up the tree"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			p.say("Cy", words)
			for _, who := range []string{"Bo", "Cy", "Di"} {
				if p.has(who, "still") {
					p.press(who, "still")
				}
			}
			if p.job().State == flow.Halted {
				p.say("Ada", "looked at it")
			}
			asked, waits := 0, slices.ContainsFunc(p.job().Again, func(g flow.Again) bool { return hands(g.Topic) })
			for range 40 {
				s := p.job()
				eased := s.Stage == flow.AllPlaced && s.Holds[len(s.Holds)-1].After != "" && slices.ContainsFunc(s.Holds, func(h flow.Hold) bool {
					return slices.ContainsFunc(h.Sure, func(y flow.Sure) bool { return y.Duty == "easing" })
				})
				if s.State == flow.Amend && hands(s.Topic) {
					if asked++; !eased {
						t.Fatalf("%s at %s: %s is asked at %s", words, at, s.Topic, s.Stage)
					}
				}
				if s.Stage == flow.Bite || s.Stage == flow.Crest {
					t.Fatalf("%s at %s: it goes on with %v", words, at, s.Again)
				}
				switch {
				case p.has("Ada", "differ.*"):
					p.press("Ada", "differ.*")
				case s.Stage == flow.Proving:
					p.press("Ada", "stands_proving")
				case p.has("Ada", "walk"):
					p.press("Ada", "walk")
				case s.Stage == flow.AllPlaced && p.has("Ada", "release"):
				case p.has("Ada", "release"):
					p.press("Ada", "release")
				default:
					p.willing()
				}
			}
			if s := p.job(); words == "the tree moved" && s.State == flow.Verdict {
				continue // it is out of the plan, which is no go without it
			}
			if s := p.job(); waits && (s.Stage != flow.AllPlaced || len(s.Again) > 0 || asked == 0) || s.State == flow.Halted {
				t.Errorf("%s at %s: it stands at %s, %s, with %v; asked %d", words, at, s.State, s.Stage, s.Again, asked)
			}
		}
	}
}

// TestNobodyIsSentToATightLine: an answer that came sooner than anybody can look
// is asked back about, and while the line is tight that sends nobody up to it.
func TestNobodyIsSentToATightLine(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, at := range []flow.Stage{flow.LightTension, flow.Held} {
		for _, words := range []string{"rain has started", "the load does not move, stuck"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			p.say("Ada", words)
			for _, who := range []string{"Bo", "Cy", "Di"} {
				p.pressed(who, "still")
			}
			if p.job().State == flow.Halted {
				p.say("Ada", "looked at it")
			}
			asked := false
			for range 40 {
				if s := p.job(); s.State == flow.Amend && s.Stage.Lies() && len(s.Again) > 0 {
					in := p.input("Ada")
					p.at = p.at.Add(-20*time.Second + 500*time.Millisecond)
					in.At, in.Text = p.at, "as before"
					text := told(p.run(in)["test/Ada"])
					asked = asked || strings.Contains(text, "item.quick")
					if slack := s.Stage == flow.AllPlaced; !slack && slices.Contains(strings.Fields(text), "item.quick") {
						t.Errorf("%s at %s: at %s the lead is told %s", words, at, s.Stage, text)
					}
					continue
				}
				if !p.willing() {
					break
				}
			}
			if !asked {
				t.Errorf("%s at %s: no answer was asked back about; it stands at %s, %s", words, at, p.job().State, p.job().Stage)
			}
		}
	}
}
