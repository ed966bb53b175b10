package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestAVetoOutlivesWhoLeaves: what a coordinator withholds stays withheld when they
// leave, all read so, and it is lifted by whoever leads, who names them and somebody
// else who looked. That is told to all; who comes back lifts it like before.
func TestAVetoOutlivesWhoLeaves(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.confirm()
	p.say("Eve", "withhold 1, the oak leans")
	out := p.say("Eve", "leave")
	if got := text(out["test/Eve"]); !strings.Contains(got, "stays withheld") {
		t.Errorf("who leaves is told %q", got)
	}
	for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "Eve has left") || !strings.Contains(got, "stays withheld") {
			t.Errorf("%s is told %q", who, got)
		}
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "lift Eve, ") {
		t.Errorf("whoever leads is not told how it is lifted: %q", got)
	}
	for _, no := range []string{"release 1", "lift", "lift 1", "lift Eve", "lift Eve, Ada looked", "lift Eve, Eve looked", "lift Eve, I looked"} {
		if got := text(p.say("Ada", no)["test/Ada"]); p.stage() != flow.AllPlaced || len(p.job().Holds[0].Withheld) != 1 || !strings.Contains(got, "lift Eve, ") {
			t.Errorf("%q is taken, at %s: %q", no, p.stage(), got)
		}
	}
	if p.say("Bo", "lift Eve, Cy looked"); len(p.job().Holds[0].Withheld) != 1 {
		t.Error("somebody who does not lead lifts it")
	}
	out = p.say("Ada", "lift Eve, Bo looked")
	for _, who := range []string{"Ada", "Bo", "Cy", "Di"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "Ada lifts") || !strings.Contains(got, "Bo looked") {
			t.Errorf("that it is lifted tells %s %q", who, got)
		}
	}
	if p.say("Ada", "release 1"); len(p.job().Holds[0].Withheld) != 0 {
		t.Errorf("lifted, it is withheld by %v", p.job().Holds[0].Withheld)
	}

	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Eve", "withhold, the oak leans")
	p.say("Eve", "leave")
	if got := text(p.say("Ada", "begin the pull")["test/Ada"]); p.job().State == flow.Pulling || !strings.Contains(got, "lift Eve, ") {
		t.Errorf("withheld by who left, the pull begins: %q", got)
	}
	if p.say("Ada", "lift Eve, Bo looked"); len(p.job().Vetoes) != 0 {
		t.Error("what kept the pull can't be lifted")
	}
	p = readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.AllPlaced)
	p.say("Eve", "withhold 1")
	p.say("Ada", "Eve is gone")
	if len(p.job().Holds[0].Withheld) != 1 {
		t.Error("that they are gone, told by whoever leads, lifts it")
	}
}

// TestWithholdIsForNow: a withholding with the number of a hold that is over counts for
// the one that stands, in words as by a button; that it is taken back is no reason.
func TestWithholdIsForNow(t *testing.T) {
	flow.Lone(t)
	for _, press := range []bool{false, true} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.SlackIsOut)
		withhold := func() string {
			if press {
				return text(p.pressed("Eve", "withhold.1")["test/Bo"])
			}
			return text(p.say("Eve", "withhold 1")["test/Bo"])
		}
		got := withhold()
		h := p.job().Holds[len(p.job().Holds)-1]
		if h.Number != 2 || len(h.Withheld) != 1 || !strings.Contains(got, "withholds hold 2") {
			t.Errorf("a late withhold 1 at hold %d leaves it withheld by %v: %q", h.Number, h.Withheld, got)
		}
		got = text(p.say("Eve", "i take it back")["test/Eve"])
		h = p.job().Holds[len(p.job().Holds)-1]
		if len(h.Withheld) != 1 || len(h.Reasons) != 0 || !strings.Contains(got, "lift 2") {
			t.Errorf("taken back, %v is the reason and it is withheld by %v: %q", h.Reasons, h.Withheld, got)
		}
	}
}
