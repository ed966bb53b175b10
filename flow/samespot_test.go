package flow_test

import (
	"testing"

	"linetender/flow"
)

// TestASlipOutlivesABetterWord: after a slip a better word for the ground that the
// puller slipped on does not lift what it was seen to give there; a worse one counts.
func TestASlipOutlivesABetterWord(t *testing.T) {
	for word, want := range map[string]string{"asphalt": "", "wet grass": "wet grass", "asphalt, moved 10 m up": "asphalt"} {
		p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
		p.to(flow.LightTension)
		p.say("Bo", "wheels are spinning")
		for _, who := range []string{"Bo", "Cy", "Di"} {
			p.pressed(who, "still")
		}
		if p.job().State == flow.Halted {
			p.say("Ada", "looked at it")
		}
		asks := func() bool { return p.job().State == flow.Amend && p.job().Topic == "puller.ground" }
		for range 20 {
			if asks() {
				break
			}
			p.willing()
		}
		if !asks() {
			t.Fatalf("the puller's ground is not asked again: %s, %s", p.job().State, p.job().Topic)
		}
		was := p.job().Sheet.Puller.Ground
		if want == "" {
			want = was
		}
		out := told(p.say("Ada", word)["test/Ada"])
		if got := p.job().Sheet.Puller.Ground; got != want {
			t.Errorf("%s told of %s where it slipped: %s, want %s; Ada is told %s", word, was, got, want, out)
		}
		if want == was && !asks() {
			t.Errorf("%s: no longer asked", word)
		}
		if p.say("Ada", "as before"); want == was && p.job().Sheet.Puller.Ground != was {
			t.Errorf("%s: as before is %s", word, p.job().Sheet.Puller.Ground)
		}
		if want != was {
			continue
		}
		p.say("Ada", "change puller ground asphalt")
		if got := p.job().Sheet.Puller.Ground; got != was {
			t.Errorf("changed to a better word on the spot where it slipped: %s, want %s", got, was)
		}
		p.say("Ada", "change puller ground asphalt, it has moved")
		if got := p.job().Sheet.Puller.Ground; got != "asphalt" {
			t.Errorf("said to have moved: %s, want asphalt", got)
		}
	}
}
