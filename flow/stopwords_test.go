package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAStopEndsInHonestWords: what a stop was for, told with how it was put right, calls
// none anew and ends it; a danger that is there now beside it still does.
func TestAStopEndsInHonestWords(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	for _, tc := range []struct {
		stop, words string
		over        bool
	}{
		{"Bo didnt hear the signal", "Bo didnt hear it over the rain, he now stands where he can see me and we agreed arm up plus shout. drill tried again, fine", true},
		{"lost sight of Bo", "Bo couldnt see me, he stands by the gate now and sees both ends, tried it again", true},
		{"signal lost", "the radio was flat, we agreed arm signals and tried them", true},
		{"it rolled back 3 cm onto the chocks", "chocks sit tight on the wheels now, its held by them and the holding rope", true},
		{"it rolled back", "it is held by the chocks and the holding line, Bo set them tight again", true},
		{"it rolled back", "chocks were knocked tight, load sits firm against them", true},
		{"signal lost", "Bo didnt hear it, we agreed arm up, but the rope is fraying now", false},
		{"signal lost", "we agreed arm up plus shout. the anchor is moving", false},
		{"signal lost", "Bo still cant see me", false},
		{"signal lost", "we have not agreed on anything yet", false},
		{"it rolled back", "its held by nothing", false},
		{"it rolled back", "chocks dont sit tight", false},
		{"it rolled back", "is it held by the chocks?", false},
	} {
		p := readyToPull(t)
		p.to(flow.Held)
		p.say("Ada", tc.stop)
		if p.job().State != flow.Halted {
			t.Fatalf("%q stops nothing", tc.stop)
		}
		stops := len(p.job().Stops)
		out := text(p.say("Ada", tc.words)["test/Ada"])
		over := !strings.Contains(out, "That ends no stop") && !strings.Contains(out, "STOP. Everybody") && !strings.Contains(out, "What was the stop for") && p.job().State != flow.Halted
		if over != tc.over || tc.over && len(p.job().Stops) != stops {
			t.Errorf("at %q, %q: over %v, state %s\n%.300s", tc.stop, tc.words, over, p.job().State, out)
		}
	}
}

// TestSlackToldInAStop: the slack that is asked for while a stop is on is kept, by its number
// alone too, and slack that was taken out is none; words beside it that end the stop do.
func TestSlackToldInAStop(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := readyToPull(t)
	p.to(flow.Held)
	p.say("Ada", "it rolled back 3 cm onto the chocks")
	p.say("Ada", "the holding line hangs slack")
	if got := p.job().Slack; got != "not known" {
		t.Fatalf("slack is %q", got)
	}
	out := text(p.say("Ada", "slack 5 cm")["test/Ada"])
	if got := p.job().Slack; got != "5 cm" || p.job().State != flow.Halted || strings.Contains(out, "That ends no stop") {
		t.Errorf("slack is %q, state %s: %s", got, p.job().State, out)
	}
	p.say("Ada", "the holding line hangs slack")
	p.say("Ada", "chocks werent tight, they sit tight on the wheels now. its held by the chocks and the holding rope with the turns, Bo took the slack out")
	if s := p.job(); s.Slack != "" || s.State == flow.Halted {
		t.Errorf("slack is %q, state %s", s.Slack, s.State)
	}
}
