package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestNumbersReadBack: three numbers in one go are held against the plan, each with
// its unit; none of them becomes an answer of the job.
func TestNumbersReadBack(t *testing.T) {
	flow.Lone(t)
	for words, want := range map[string]string{
		"6.1 kN, 85 %, 0.3 m": "pull.back_", "force 6.11 kn, weakest 85 %, bite 0.3 m": "pull.back_", "read back 6.1 85 0.3": "pull.back_units", "6.1 kn, 60 %, 0.3 m": "pull.back_other", "readback 9 kn 85 %": "pull.back_other",
	} {
		for _, who := range []string{"Ada", "Cy"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(flow.Held)
			out := p.say(who, words)
			got := told(out["test/"+who])
			if s := p.job(); !strings.Contains(got, want) || !strings.Contains(got, "pull.back_plan") || len(s.Differs) != 0 || s.State != flow.Pulling {
				t.Errorf("%s reads back %q and is told %s; %d differ, %s", who, words, got, len(s.Differs), s.State)
			}
			if lead := told(out["test/Ada"]); want == "pull.back_other" && !strings.Contains(lead, want) {
				t.Errorf("of %q the lead is told %s", words, lead)
			}
		}
	}
}

// TestCountsInOneGo: what came in, how far it went and the slack are all taken from
// one message, or, where one has no unit, none is and that is said.
func TestCountsInOneGo(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	got := text(p.say("Cy", "took in 4 m, moved 1.9 m, slack 30 cm")["test/Cy"])
	if p.job().Slack != "30 cm" || !strings.Contains(got, "Slack 30 cm") || !strings.Contains(got, "Rope in 4 m") || !strings.Contains(got, "load on 1.9 m") {
		t.Errorf("of three counts this is read back: %q, slack %q", got, p.job().Slack)
	}
	for _, words := range []string{"took in 4, moved 1.9, slack 30", "moved 1.9", "slack 30", "took in 4 m, moved 1.9, slack 30 cm"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		n := len(p.job().Reports)
		if got := told(p.say("Cy", words)["test/Cy"]); !strings.Contains(got, "pull.units") || len(p.job().Reports) != n {
			t.Errorf("%q is told %s", words, got)
		}
	}
}

// TestCountsAsItMoves: while it moves a count, a slack and what else is told in one message
// are all taken or named, and the danger in it comes first.
func TestCountsAsItMoves(t *testing.T) {
	flow.Lone(t)
	first := standing(t, "Bo", "Cy", "Di", "Eve")[flow.FirstMove]
	for _, r := range []struct{ words, state, slack, said string }{
		{"it moved 70 cm, took in 1 m, sort of jumped a bit, rope 2 slack 20 cm", "halted", "", "pull.count_untaken"},
		{"it moved 70 cm, took in 1 m, rope 2 slack 20 cm", "no-go", "20 cm", "pull.hold_now"},
		{"it moved 70 cm, took in 1 m, tom is cold by now, slack 20 cm", "held", "", "pull.says"},
		{"it moved 20 cm, took in 40 cm, 2 slack", "held", "", "pull.says"},
	} {
		p := first.copied(t)
		got := told(p.say("Ada", r.words)["test/Ada"])
		s := p.job()
		at := map[bool]string{s.State == flow.Halted: "halted", s.State == flow.Pulling && s.Stage == flow.Held: "held", s.State == flow.Verdict && s.Stage == flow.Held: "no-go"}[true]
		if at != r.state || s.Slack != r.slack || !strings.Contains(got, r.said) {
			t.Errorf("%q leads to %s, %s, slack %q, and is told %s", r.words, s.State, s.Stage, s.Slack, got)
		}
	}
}

// TestOneMoreWord: after a bare yes the words that it was told confirm.
func TestOneMoreWord(t *testing.T) {
	flow.Lone(t)
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.Held)
		n := len(p.job().Holds[3].Sure)
		if got := text(p.say(who, "yes")["test/"+who]); !strings.Contains(got, "so it is 4") {
			t.Errorf("a bare yes of %s is told %q", who, got)
		}
		if p.say(who, "so it is"); len(p.job().Holds[3].Sure) <= n {
			t.Errorf("so it is of %s confirms nothing", who)
		}
	}
}
