package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestGoingInWords: who writes in passing that they go from a post of a tight line, or that
// another has it now, is told to stay there, and the post is open: nothing goes on before
// they take it again or somebody else does, who is placed by the lead.
func TestGoingInWords(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, stage := range []flow.Stage{flow.LightTension, flow.Held, flow.Bite, flow.HoldProved, flow.Rerig, flow.SlackOff} {
		for who, words := range map[string]string{"Di": "I have to go, handing the rope to Bo", "Bo": "can someone else drive, my wife is waiting", "Cy": "gotta run, Di has my post now", "Ada": "sorry lads, I need to leave"} {
			p := at[stage].copied(t)
			out := p.say(who, words)
			s := p.job()
			what := who + " at " + string(stage)
			if s.Stage.Moves() || s.State == flow.Halted {
				t.Errorf("%s: it stands at %s, %s", what, s.State, s.Stage)
			}
			for _, seat := range s.Seats {
				if seat.Taken == (seat.Name == who) {
					t.Errorf("%s: %s of %s is taken: %v", what, seat.Post.Does, seat.Name, seat.Taken)
				}
			}
			for _, chat := range []string{"Ada", "Bo", "Cy", "Di", "Eve"} {
				want := "pull.lost_relief"
				if chat == who {
					want = "pull.lost_giver"
				}
				if got := said(out["test/"+chat]); !strings.Contains(got, want) || !out["test/"+chat][0].Urgent {
					t.Errorf("%s: %s is told %s", what, chat, got)
				}
			}
			if got := text(out["test/Ada"]); who != "Ada" && !strings.Contains(got, who+": "+words) {
				t.Errorf("%s: the lead reads %q", what, got)
			}
			if p.has("Ada", "release") {
				if p.press("Ada", "release"); p.job().Stage.Moves() {
					t.Errorf("%s: it moves without %s", what, who)
				}
			}
			p.press(who, "take")
			for _, seat := range p.job().Seats {
				if !seat.Taken {
					t.Errorf("%s: taken again, %s is open", what, seat.Post.Does)
				}
			}
		}
	}
	p := at[flow.Held].copied(t)
	p.say("Di", "i need a break, somebody take over please")
	p.join("Ada", "crew code", "Fay")
	p.say("Ada", "Fay is holder")
	if got := said(p.press("Fay", "take")["test/Di"]); got != "join.relieved_here" {
		t.Errorf("relieved Di is told %s", got)
	}
	// Who is leaving is given no other post, by whatever words: they are only relieved.
	for _, words := range []string{"Cy drives", "swap Bo and Cy", "Cy drives, Di is rigger", "Bo is rigger"} {
		p = at[flow.Held].copied(t)
		p.say("Bo", "i have to leave, my kid is sick")
		p.say("Ada", words)
		for _, seat := range p.job().Seats {
			if seat.Name == "Bo" && seat.Post.Does != "driver" {
				t.Errorf("%q: Bo, who leaves, gets %s", words, seat.Post.Does)
			}
		}
		if words == "Bo is rigger" {
			continue
		}
		if got := said(p.press("Cy", "take")["test/Bo"]); got != "join.relieved_here" {
			t.Errorf("%q: relieved Bo is told %s", words, got)
		}
		p.say("Ada", "stop")
		if got := said(p.say("Bo", "leave")["test/Bo"]); strings.Contains(got, "lost_you") {
			t.Errorf("%q: relieved Bo leaves and is told %s", words, got)
		}
	}
	// A stop comes before all, and the post is open as well.
	p = at[flow.Bite].copied(t)
	if got := said(p.say("Cy", "stop, i have to go")["test/Bo"]); !strings.HasPrefix(got, "stop.called") || !strings.Contains(got, "pull.lost_relief") {
		t.Errorf("with a stop Bo is told %s", got)
	}
	// What else is said counts.
	p = at[flow.Held].copied(t)
	if p.say("Cy", "the sling slips up the tree, i have to go"); p.job().Held["relief-"] != "" || len(p.job().Reports) < 2 {
		t.Errorf("what Cy sees is lost: %+v", p.job().Reports)
	}
	// Before a line lies it is open too, and no list goes on without.
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if got := said(p.say("Di", "sorry, i have to go now, bye")["test/Ada"]); !strings.Contains(got, "seat.off") {
		t.Errorf("before the pull the lead is told %s", got)
	}
	if why, barred := flow.Barred(p.engine, p.job(), p.input("Ada")); !barred {
		t.Errorf("without Di nothing keeps the pull: %s", why)
	}
	// What only has such words is no going.
	for _, words := range []string{"i have to go lower with the strop", "we should go", "Bo drives well"} {
		p := at[flow.Held].copied(t)
		p.say("Cy", words)
		for _, seat := range p.job().Seats {
			if !seat.Taken {
				t.Errorf("%q opens %s", words, seat.Post.Does)
			}
		}
	}
}
