package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLeadChangesHandsAtATightLine: at a tight line everything holds first, whoever
// led leads until the other has taken it on, and nobody who drives leads, by whatever
// words it is said.
func TestLeadChangesHandsAtATightLine(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.LightTension, flow.Bite, flow.Held, flow.Securing} {
		for _, words := range []string{"hand over to Cy", "Cy is leader", "Cy leads", "ok, Cy is the new lead now", "Cy takes the lead"} {
			p := at[stage].copied(t)
			p.say("Ada", words)
			s := p.job()
			if s.Stage.Moves() || s.Lead.ID != "test/Ada" {
				t.Errorf("%s, %q: it stands at %s and %s leads before anybody took it on", stage, words, s.Stage, s.Lead.Name)
			}
			p.press("Cy", "take")
			if s = p.job(); s.Lead.ID != "test/Cy" || s.Stage.Moves() {
				t.Errorf("%s, %q: once Cy took it on %s leads at %s", stage, words, s.Lead.Name, s.Stage)
			}
		}
		for _, words := range []string{"Ada: hand over to Bo", "Ada: Bo is leader", "Ada: Bo leads", "Ada: Ada drives", "Bo: swap with Ada", "Bo: Bo leads"} {
			p := at[stage].copied(t)
			who, what, _ := strings.Cut(words, ": ")
			p.say(who, what)
			s := p.job()
			if s.Lead.ID != "test/Ada" {
				t.Errorf("%s, %q: %s leads", stage, words, s.Lead.Name)
			}
			for _, seat := range s.Seats {
				if want := map[string]string{"leader": "Ada", "driver": "Bo"}[seat.Post.Does]; want != "" && (seat.Name != want || !seat.Taken) {
					t.Errorf("%s, %q: %s is %s, taken %v", stage, words, seat.Name, seat.Post.Does, seat.Taken)
				}
			}
		}
	}
}

// TestWheelIsGivenFirst: whoever is still asked for the wheel has not got it, so
// that who sits there takes no lead.
func TestWheelIsGivenFirst(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Ada", "Di drives")
	if got := told(p.say("Ada", "Bo leads")["test/Ada"]); !strings.Contains(got, "seat.wheel") {
		t.Errorf("while Bo sits at the wheel Ada is told %s", got)
	}
	p.press("Di", "take")
	p.say("Ada", "Bo leads")
	if p.press("Bo", "take"); p.job().Lead.ID != "test/Bo" {
		t.Errorf("%s leads", p.job().Lead.Name)
	}
}

// TestWhoLeavesATightLineHearsOneThing: to stay until relieved, and not that they are
// out as well.
func TestWhoLeavesATightLineHearsOneThing(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, stage := range []flow.Stage{flow.LightTension, flow.Bite, flow.Held} {
		for _, who := range []string{"Bo", "Cy", "Di"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(stage)
			out := p.say(who, "leave")["test/"+who]
			want := "pull.lost_you"
			if stage.Moves() { // first of all it stops: it may be they who drive it
				want = "pull.hold_now pull.lost_you"
			}
			if got := told(out); got != want || !out[0].Urgent {
				t.Errorf("%s leaves at %s and is told %s", who, stage, got)
			}
			if p.stage().Moves() {
				t.Errorf("%s leaves at %s, and it goes on", who, stage)
			}
		}
	}
}
