package flow_test

import (
	"fmt"
	"strings"
	"testing"

	"linetender/flow"
)

// TestRerigBeginsAtASlackLine: between the proved hold and hands on the gear
// stands a hold with a number of its own: first the driver says that the line
// lies slack, then whoever does not pull the pin that the load has not moved, and
// only the lead's release lets hands in. A load that moves there stops it all.
func TestRerigBeginsAtASlackLine(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.HoldProved)
	proved := p.job().Hold
	p.confirm()
	out := p.press("Ada", "release")
	if s := p.job(); s.Stage != flow.LineSlack || s.Hold != proved+1 {
		t.Fatalf("the proved hold leads to %s, hold %d after %d", s.Stage, s.Hold, proved)
	}
	for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
		if got := said(out["test/"+who]); !strings.Contains(got, "hold.taut") || strings.Contains(got, "going.re_rig") {
			t.Errorf("%s is told %s before the line is eased", who, got)
		}
	}
	if p.say("Ada", "release "+fmt.Sprint(p.job().Hold)); p.stage() != flow.LineSlack {
		t.Fatalf("hands go in with nothing said: %s", p.stage())
	}
	p.say("Di", "so it is "+fmt.Sprint(p.job().Hold)) // the prover, before the driver
	p.press("Bo", "sure")
	if p.say("Ada", "release "+fmt.Sprint(p.job().Hold)); p.stage() != flow.LineSlack {
		t.Fatalf("hands go in before it is said that the load has not moved: %s", p.stage())
	}
	moves := p.copied(t)
	moves.say("Di", "it moves")
	if s := moves.job(); s.State != flow.Halted {
		t.Errorf("the load moves at a slack line and the job stands at %s, %s", s.State, s.Stage)
	}
	p.confirm()
	if p.press("Ada", "release"); p.stage() != flow.Rerig {
		t.Errorf("released it stands at %s", p.stage())
	}
}

// TestOldLogsReRigFromTheProvedHold: logs from before that hold are still read.
func TestOldLogsReRigFromTheProvedHold(t *testing.T) {
	for _, s := range flow.Steps() {
		if s.Cue != flow.Shifts {
			continue
		}
		for _, from := range s.From {
			if from == flow.HoldProved && s.To == flow.Rerig {
				return
			}
		}
	}
	t.Error("an old log's re-rig can't be replayed")
}
