package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestStopWithHandsOnTheGear: a stop while it is rigged anew or unrigged leads to
// a hold of its own, with a number of its own, that waits for those who say that
// the load is held; what was pressed before it is void.
func TestStopWithHandsOnTheGear(t *testing.T) {
	flow.Lone(t)
	for _, row := range []struct {
		at, held flow.Stage
		done     string
		waits    []string
	}{
		{flow.Rerig, flow.RerigHeld, "done_re_rig", []string{"proof", "driver", "chocks", "holder"}},
		{flow.Unrig, flow.UnrigHeld, "done_unrig", []string{"driver", "leader", "chocks", "holder"}},
		{flow.GearCheck, flow.UnrigHeld, "release", []string{"driver", "leader", "chocks", "holder"}},
	} {
		for _, text := range []string{"stop", "wait"} {
			p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
			p.to(row.at)
			if text == "wait" && row.at == flow.GearCheck {
				continue // it holds
			}
			was := p.job().Hold
			p.say("Cy", text)
			if text == "stop" {
				p.pressed("Bo", "still")
				p.pressed("Di", "still")
				p.say("Ada", "a dog ran in, it is gone")
				p.until("the pull", func() bool { return p.job().State == flow.Pulling })
			}
			s := p.job()
			if s.Stage != row.held || s.Hold <= was {
				t.Errorf("%s, %q: it comes back to %s, hold %d after %d", row.at, text, s.Stage, s.Hold, was)
			}
			out := p.pressed("Ada", row.done+"."+strings.TrimLeft(itoa(was), "0"))
			if now := p.job(); now.Stage != row.held || !strings.Contains(said(out["test/Ada"]), "pull.void") {
				t.Errorf("%s, %q: a press from before leads to %s and is told %s", row.at, text, now.Stage, said(out["test/Ada"]))
			}
			p.confirm()
			h := p.job().Holds
			for _, duty := range row.waits {
				found := false
				for _, y := range h[len(h)-1].Sure {
					found = found || y.Duty == duty
				}
				if !found {
					t.Errorf("%s, %q: nobody is asked for %s: %+v", row.at, text, duty, h[len(h)-1].Sure)
				}
			}
			if p.press("Ada", "release"); p.stage() != flow.Rerig && p.stage() != flow.Unrig {
				t.Errorf("%s, %q: its release leads to %s", row.at, text, p.stage())
			}
		}
	}
}

// TestHoldVoidsARelease: whoever says hold where it holds makes it another hold:
// a release or a confirmation that was sent before is for none that is open.
func TestHoldVoidsARelease(t *testing.T) {
	flow.Lone(t)
	for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
		p := readyToPull(t, crew...)
		p.to(flow.SlackIsOut)
		p.confirm()
		who := "Ada"
		if crew != nil {
			who = "Cy"
		}
		p.say(who, "hold")
		if s := p.job(); s.Hold != 3 {
			t.Errorf("after hold it stands at %d", s.Hold)
		}
		if out := p.say("Ada", "release 2"); p.stage() != flow.SlackIsOut || !strings.Contains(said(out["test/Ada"]), "pull.void") {
			t.Errorf("a release of the hold before leads to %s: %s", p.stage(), said(out["test/Ada"]))
		}
	}
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.SlackIsOut)
	sent := p.input("Bo")
	sent.Text = "so it is"
	p.say("Di", "wait") // another hold, before what Bo sent arrives
	if p.run(sent); len(p.job().Holds[p.job().Hold-1].Sure) > 0 {
		t.Error("what was sent for the hold before confirms this one")
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "stop")
	p.pressed("Bo", "still")
	p.pressed("Di", "still")
	p.say("Ada", "a dog ran in, it is gone")
	if out := p.say("Ada", "release 3"); !strings.HasPrefix(said(out["test/Ada"]), "pull.not_now") {
		t.Errorf("a release after a stop is told %s", said(out["test/Ada"]))
	}
}

// TestStandingIsForOneStop: that somebody stands, or why it was called, pressed
// for one stop says nothing of the next.
func TestStandingIsForOneStop(t *testing.T) {
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.Held)
	p.say("Cy", "stop")
	still, cause := p.choice("Bo", "still"), p.choice("Ada", "stop_cause.unsure*")
	p.press("Bo", "still")
	p.press("Di", "still")
	p.say("Ada", "a dog ran in, it is gone")
	p.say("Cy", "stop")
	p.pressed("Bo", still)
	if stops := p.job().Stops; len(stops[len(stops)-1].Still) != 1 {
		t.Errorf("a press for the stop before counts as standing: %+v", stops[len(stops)-1].Still)
	}
	p.press("Bo", "still")
	p.press("Di", "still")
	if p.pressed("Ada", cause); p.job().State != flow.Halted {
		t.Error("the reason for the stop before ends this one")
	}
	cause = p.choice("Ada", "stop_cause.unsure*")
	p.say("Di", "stop") // again: who calls may have seen another thing
	if p.pressed("Ada", cause); p.job().State != flow.Halted {
		t.Error("the reason for the first call ends the second")
	}
}

// TestStoodInWords: that all have stopped is no other stop and no reason for the
// one that is on; in the drill it is the answer.
func TestStoodInWords(t *testing.T) {
	flow.Lone(t)
	for _, text := range []string{"all stood", "everyone stopped", "all stopped, foot off", "foot off, all stood", "everybody stood still", "yes"} {
		for _, crew := range [][]string{nil, {"Bo", "Cy", "Di", "Eve"}} {
			p := readyToPull(t, crew...)
			p.to(flow.StopDrill)
			if crew != nil {
				p.press("Ada", "drill")
			}
			p.say("Ada", "stop")
			for _, who := range []string{"Bo", "Cy", "Di"} {
				if p.has(who, "still") {
					p.press(who, "still")
				}
			}
			if p.say("Ada", text); p.stage() != flow.AllPlaced || p.job().State != flow.Pulling {
				t.Errorf("%d phones, %q after the drill leads to %s, %s", len(crew)+1, text, p.job().State, p.stage())
			}
			p.say("Ada", "stop")
			n := len(p.job().Stops)
			if out := p.say("Ada", text); p.job().State != flow.Halted || len(p.job().Stops) != n || p.job().Stops[n-1].Calls > 0 {
				t.Errorf("%d phones, %q in a stop leads to %s: %s", len(crew)+1, text, p.job().State, said(out["test/Ada"]))
			}
		}
	}
}
