package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestOnlyTheCallerSaysByMistake: a stop that somebody else called is no mistake by the
// lead's word; once the caller says so, it is, and the lead goes on.
func TestOnlyTheCallerSaysByMistake(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "STOP!!")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	out := p.say("Ada", "by mistake")
	if got := said(out["test/Ada"]); p.job().State != flow.Halted || !strings.Contains(got, "stop.whose_mistake") {
		t.Fatalf("the lead's word leads to %s: %s", p.job().State, got)
	}
	if got := text(p.copied(t).say("Ada", "ok")["test/Ada"]); strings.Contains(got, "write: by mistake") || !strings.Contains(got, "only Cy can say") {
		t.Errorf("the lead is told to write what only the caller may: %q", got)
	}
	for _, words := range []string{"by mistake, I meant dont stop", "sorry, that was by mistake"} {
		q := p.copied(t)
		out = q.say("Cy", words)
		if got := said(out["test/Ada"]); q.job().State != flow.Halted || q.job().Stops[0].Calls > 0 || !strings.Contains(got, "stop.caller_mistaken") {
			t.Fatalf("%q of the caller leads to %s, and the lead is told %s", words, q.job().State, got)
		}
		if got := text(out["test/Cy"]); !strings.HasPrefix(got, "Taken as your word") {
			t.Errorf("%q of the caller is answered %q", words, got)
		}
		if q.say("Bo", words); q.job().Stops[0].Calls == 0 && strings.Contains(words, "dont stop") {
			t.Errorf("%q of somebody else calls no stop", words)
		}
	}
	p.say("Cy", "sorry, that was by mistake")
	if out := p.say("Ada", "by mistake"); p.job().State == flow.Halted {
		t.Errorf("the stop stays on though who called it says that it was a mistake: %s", text(out["test/Ada"]))
	}
	p.say("Cy", "stop")
	for _, who := range []string{"Bo", "Di"} {
		p.pressed(who, "still")
	}
	if p.say("Ada", "a dog ran in, it is tied up now"); p.job().State == flow.Halted {
		t.Error("what was seen to ends no stop")
	}
}

// TestEachCallIsItsCallers: where two have called a stop, the one's word that theirs was a
// mistake leaves the other's standing.
func TestEachCallIsItsCallers(t *testing.T) {
	flow.Lone(t)
	for _, second := range []string{"Di", "Bo"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LightTension)
		p.say("Cy", "stop")
		p.say(second, "stop, the line is humming")
		for _, who := range []string{"Bo", "Cy", "Di"} {
			if p.has(who, "still") {
				p.pressed(who, "still")
			}
		}
		p.say("Cy", "sorry, that was by mistake")
		out := p.say("Ada", "by mistake")
		if got := said(out["test/Ada"]); p.job().State != flow.Halted || !strings.Contains(got, "stop.whose_mistake") {
			t.Errorf("the lead's word ends the stop that %s called: %s", second, got)
		}
	}
}

// TestWhoGoesToTheLineDoesNotStand: who calls a stop in the words that take them to the
// line is asked whether they stand, as the others are.
func TestWhoGoesToTheLineDoesNotStand(t *testing.T) {
	flow.Lone(t)
	for words, stands := range map[string]bool{"going over to the rope quick theres a branch caught under it, stop": false, "stop theres a dog": true} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LightTension)
		out := p.say("Cy", words)
		if p.job().State != flow.Halted {
			t.Fatalf("%q stops nothing", words)
		}
		if p.has("Cy", "still") == stands {
			t.Errorf("%q: Cy has %q", words, p.last["test/Cy"].Text())
		}
		if got := text(out["test/Ada"]); strings.Contains(got, "No answer yet from: Bo, Cy and Di") == stands {
			t.Errorf("%q: the lead has %q", words, got)
		}
	}
}

// TestAQuestionAtAHoldHoldsNothing: how long it takes is a question: the hold keeps its
// number and who has confirmed it, and the lead reads it.
func TestAQuestionAtAHoldHoldsNothing(t *testing.T) {
	flow.Lone(t)
	for words, asks := range map[string]bool{"how long do we wait": true, "how long do we wait?": true, "wait": false, "when, hang on": false} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LightTension)
		p.press("Bo", "sure")
		was := p.job()
		out := p.say("Di", words)
		if same := p.job().Hold == was.Hold && len(p.job().Holds[len(p.job().Holds)-1].Sure) == len(was.Holds[len(was.Holds)-1].Sure); same != asks {
			t.Errorf("%q: hold %d is %d", words, was.Hold, p.job().Hold)
		}
		if asks && !strings.Contains(text(out["test/Ada"]), "how long do we wait") {
			t.Errorf("%q: the lead is told %q", words, text(out["test/Ada"]))
		}
	}
}
