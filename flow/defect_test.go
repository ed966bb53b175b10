package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestDefectsKeepThePull: a brake or a keeper that somebody of the crew tells
// against keeps the pull until it is put right and somebody else has looked.
func TestDefectsKeepThePull(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	for _, text := range []string{"brake pedal goes to the floor", "so it is, but brake is a bit soft", "so it is but the brake is soft", "pin sits in the drawbar but the clip is missing", "my seat belt is torn"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		ground, _ := p.job().Sheet.Get("load.ground")
		if out := p.say("Bo", text); !strings.Contains(said(out["test/Di"]), "pull.fault") {
			t.Errorf("%q is told on as %s", text, said(out["test/Di"]))
		}
		if got, _ := p.job().Sheet.Get("load.ground"); got != ground {
			t.Errorf("%q makes another ground: %s", text, got)
		}
		p.say("Ada", "begin the pull")
		if p.job().State == flow.Pulling {
			t.Errorf("%q begins all the same", text)
		}
		p.say("Bo", "lift")
		if p.say("Ada", "begin the pull"); p.job().State == flow.Pulling {
			t.Errorf("%q is lifted by who told of it", text)
		}
		p.say("Cy", "lift")
		if p.say("Ada", "begin the pull"); p.job().State != flow.Pulling {
			t.Errorf("%q looked at by another keeps the pull at %s", text, p.job().State)
		}
		b := at[flow.Bite].copied(t)
		if b.say("Bo", text); b.job().Stage.Moves() && b.job().State == flow.Pulling {
			t.Errorf("%q in a bite leaves it at %s", text, b.job().Stage)
		}
	}
	p := at[flow.AllPlaced].copied(t)
	n := p.job().Hold
	p.say("Bo", "brake is a bit soft")
	p.confirm()
	p.press("Ada", "release")
	if s := p.job(); s.Stage != flow.AllPlaced || s.Hold == n {
		t.Errorf("a soft brake leads to %s, hold %d after %d", s.Stage, s.Hold, n)
	}
	p.say("Ada", "lift")
	if p.press("Ada", "release"); p.stage() != flow.SlackOut {
		t.Errorf("put right it stays at %s", p.stage())
	}
	for _, text := range []string{"brakes are on", "brake works", "is the brake soft?", "the clip is not missing"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		if p.say("Bo", text); len(p.job().Defects) > 0 {
			t.Errorf("%q is a fault", text)
		}
	}
}

// TestWithheldAfterAWait: who is afar and says wait first withholds all the same.
func TestWithheldAfterAWait(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	if p.say("Eve", "wait, withhold the go, wind is getting up"); len(p.job().Vetoes) == 0 {
		t.Error("it is not withheld")
	}
}
