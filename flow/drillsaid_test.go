package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestTheDrillsAnswerIsNoStop: that the driver stopped and all stood is the answer to
// how the drill went, in those words too; a bare stop is one then as ever.
func TestTheDrillsAnswerIsNoStop(t *testing.T) {
	flow.Lone(t)
	for words, good := range map[string]bool{
		"he stopped and all stood still": true, "driver stopped at once, everybody stood": true, "yes, they all stopped": true,
		"stop": false, "stopped": false, "stop it": false, "he stopped but the rope is off": false, "stop all": false,
	} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		p.say("Ada", words)
		if got := p.stage() == flow.AllPlaced; got != good {
			t.Errorf("%q ends the drill as it should: %v", words, got)
		}
		if stopped := p.job().State == flow.Halted; stopped == good {
			t.Errorf("%q is a stop: %v", words, stopped)
		}
	}
	early := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	early.to(flow.StopDrill)
	early.press("Ada", "drill")
	if early.say("Ada", "standing, Bo too"); early.stage() != flow.StopDrill {
		t.Errorf("who stands before any stop was called has done the drill: %s", early.stage())
	}
	p := readyToPull(t)
	p.to(flow.StopDrill)
	p.say("Ada", "he stopped and all stood still")
	if p.stage() != flow.AllPlaced {
		t.Errorf("with one phone the drill stands at %s", p.stage())
	}
}

// TestWhoObeysTheDrillStops: who writes that they have stopped, once the drill is called,
// obeys it: it is the drill, and they stand. A stop with anything else in it is one.
func TestWhoObeysTheDrillStops(t *testing.T) {
	flow.Lone(t)
	for words, drill := range map[string]bool{"stopped": true, "I have stopped": true, "stopped, brake on": true, "stopped, the rope is off": false} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		out := p.say("Bo", words)
		stop := p.job().Stops[len(p.job().Stops)-1]
		if got := text(out["test/Cy"]); p.job().State != flow.Halted || stop.Drill != drill || len(stop.Still) == 0 || !strings.HasPrefix(got, "STOP") {
			t.Errorf("%q: %+v; Cy reads %q", words, stop, got)
		}
		if !drill {
			continue
		}
		for _, who := range []string{"Cy", "Di"} {
			p.press(who, "still")
		}
		if p.press("Ada", "drill_ok"); p.stage() != flow.AllPlaced {
			t.Errorf("%q: the drill is not done: %s, %s", words, p.job().State, p.stage())
		}
	}
}

// TestNoRealStop: that a stop was no real one is said with its word, and is no other.
func TestNoRealStop(t *testing.T) {
	flow.Lone(t)
	for _, words := range []string{"was not a real stop", "that wasnt a real stop"} {
		p := planned(t)
		p.say("Ada", "stop")
		calls := p.job().Stops[0].Calls
		if p.say("Ada", words); p.job().State == flow.Halted || p.job().Stops[0].Calls != calls {
			t.Errorf("%q ends no stop", words)
		}
	}
}

// TestAFailedDrillIsHeard: that the driver went on, or saw nothing, is a drill that failed,
// whoever tells it and though it has the letters of a stop in it: all read what to put
// right, no button passes it, and it is done anew before anything pulls.
func TestAFailedDrillIsHeard(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	drill := func(p *puller) *puller {
		p.to(flow.StopDrill)
		p.press("Ada", "drill")
		p.say("Cy", "stop")
		return p
	}
	for _, words := range []string{"he kept going about a second", "took a while till he stopped", "he didn't see it", "no", "all stood but he stopped late"} {
		p := drill(readyToPull(t, "Bo", "Cy"))
		p.press("Bo", "still")
		out := p.say("Ada", words)
		for _, who := range []string{"Ada", "Bo"} {
			if got := said(out["test/"+who]); !strings.Contains(got, "drill.bad") || !strings.Contains(got, "drill.put_right") {
				t.Errorf("%q: %s reads %s", words, who, got)
			}
		}
		if s := p.job(); s.Stage != flow.StopDrill || s.State != flow.Pulling || len(s.Stops) != 1 || !p.has("Ada", "drill") {
			t.Errorf("%q leads to %s, %s after %d stops", words, s.State, s.Stage, len(s.Stops))
		}
	}
	// Who drives knows best; a pass that was up before, or is written, passes nothing then.
	for _, pass := range []string{"", "foot off, all stood", "yes", "he stopped at once, all stood"} {
		p := drill(readyToPull(t, "Bo", "Cy"))
		out := p.say("Bo", "sorry I didn't see it")
		if got := text(out["test/Ada"]); !strings.Contains(got, "didn't see it") {
			t.Errorf("of Bo's word Ada reads %q", got)
		}
		p.press("Bo", "still")
		if pass == "" {
			p.pressed("Ada", "drill_ok")
		} else {
			p.say("Ada", pass)
		}
		if s := p.job(); s.Stage != flow.StopDrill {
			t.Errorf("%q passes a drill that Bo did not see: %s", pass, s.Stage)
		}
	}
	// Words that tell of it in no plain way pass nothing and are asked about; a stop is one.
	p := readyToPull(t)
	p.to(flow.StopDrill)
	if got := said(p.say("Ada", "sort of i think")["test/Ada"]); !strings.Contains(got, "drill.unclear") || p.stage() != flow.StopDrill {
		t.Errorf("sort of: %s", got)
	}
	if p.say("Ada", "he kept going"); p.stage() != flow.StopDrill || p.job().State != flow.Pulling {
		t.Errorf("with one phone it leads to %s", p.stage())
	}
	if p.say("Ada", "stop, he keeps going"); p.job().State != flow.Halted {
		t.Error("a stop in a drill stops nothing")
	}
	// At the slack line after it, the drill that was passed is done anew.
	p = readyToPull(t, "Bo", "Cy")
	p.to(flow.AllPlaced)
	if p.say("Bo", "at the drill I only let go after a second"); p.stage() != flow.StopDrill {
		t.Errorf("a drill that is told to have failed afterwards leads to %s", p.stage())
	}
}
