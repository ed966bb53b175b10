package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheDriversWordOnSlack: who drives sees the line go slack. Their word ends what
// it ends, or is kept until who has to say it does; it begins nothing over again.
func TestTheDriversWordOnSlack(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, c := range []struct {
		at    flow.Stage
		words []string
		to    flow.Stage
	}{
		{flow.SlackOut, []string{"slack is out, braked", "slack's out", "ok slack out now", "slack out, he's on the brake", "slack is out, bos on the brake"}, flow.SlackIsOut},
		{flow.SlackOff, []string{"line is slack", "its slack now", "the rope lies slack", "haul line is slack, foot off", "slack is off", "line is slack now bo backed off"}, flow.SlackIsOff},
	} {
		for _, words := range c.words {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(c.at)
			n := p.job().Hold
			out := p.say("Bo", words)
			if s := p.job(); s.Stage != c.to || s.Hold != n+1 || strings.Contains(said(out["test/Ada"]), "pull.hold_now") {
				t.Errorf("%q at %s leads to %s, hold %d after %d; Ada is told %s", words, c.at, s.Stage, s.Hold, n, said(out["test/Ada"]))
			}
		}
	}
	eased := func(s *flow.Session) bool {
		for _, h := range s.Holds[len(s.Holds)-2:] {
			for _, y := range h.Sure {
				if y.Duty == "easing" {
					return true
				}
			}
		}
		return false
	}
	for _, words := range []string{"line is slack", "its slack now", "eased, foot off"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LineSlack)
		n := p.job().Hold
		out := p.say("Di", words)
		if s := p.job(); s.Hold != n || eased(s) || !strings.Contains(text(out["test/Di"]), "for Bo to say") || !strings.Contains(text(out["test/Bo"]), "Di: "+words) {
			t.Errorf("%q of Di: hold %d after %d, eased %v, told %q, Bo %q", words, s.Hold, n, eased(s), text(out["test/Di"]), text(out["test/Bo"]))
		}
		p.say("Bo", words)
		if s := p.job(); s.Hold != n+1 || !eased(s) || s.Stage != flow.LineSlack {
			t.Errorf("%q of Bo: %s, hold %d after %d, eased %v", words, s.Stage, s.Hold, n, eased(s))
		}
	}
	// Where it was not released, it is held.
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.LightTension)
	n := p.job().Hold
	for _, who := range []string{"Bo", "Ada"} {
		if p.say(who, "line is slack"); p.job().Hold == n {
			t.Errorf("a light tension that is gone counts as it was confirmed, by %s", who)
		}
		n = p.job().Hold
	}
}

// TestItDidNotMove: that the load stands where it is to stand is no trouble, whoever
// says so, and no proof until who has to say it does.
func TestItDidNotMove(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, at := range []flow.Stage{flow.Proving, flow.HoldProved, flow.LineSlack, flow.Securing, flow.SlackOff, flow.SlackIsOff} {
		for _, words := range []string{"it did not move", "load didn't move at all", "no movement", "it stood still"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(at)
			n := p.job().Hold
			out := p.say("Bo", words)
			s := p.job()
			if s.Stage != at || s.State != flow.Pulling || s.Hold != n || len(s.Again) > 0 {
				t.Errorf("%q of Bo at %s leads to %s, %s, hold %d after %d, asked again %v", words, at, s.State, s.Stage, s.Hold, n, s.Again)
			}
			if at != flow.Proving {
				continue
			}
			if !strings.Contains(text(out["test/Bo"]), "for Ada to say") || !strings.Contains(text(out["test/Ada"]), "Bo: "+words) {
				t.Errorf("%q at %s: Bo is told %q, Ada %q", words, at, text(out["test/Bo"]), text(out["test/Ada"]))
			}
			q := p.copied(t)
			q.pressed("Bo", "stands_proving."+fmt.Sprint(n)) // in a group the button is everybody's
			if q.stage() != flow.Proving {
				t.Errorf("Bo's press leads to %s", q.stage())
			}
			if q.say("Bo", "hold"); q.stage() != flow.Held {
				t.Errorf("hold leads to %s", q.stage())
			}
			if p.say("Ada", words); p.stage() != flow.HoldProved {
				t.Errorf("%q of Ada leads to %s", words, p.stage())
			}
		}
	}
	// Under a pull it is another thing.
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Bite)
	if p.say("Cy", "it did not move"); p.stage() != flow.Held || len(p.job().Sheet.Seen) == 0 {
		t.Errorf("a load that does not come leads to %s and teaches %v", p.stage(), p.job().Sheet.Seen)
	}
}
