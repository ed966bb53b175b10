package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestSignerWithoutAPhoneIsAskedAloud: who is named to sign and has no phone is asked by
// voice before it counts, and a no of theirs leaves it unsigned; nobody but the lead, who
// hears them, answers for them.
func TestSignerWithoutAPhoneIsAskedAloud(t *testing.T) {
	flow.Lone(t)
	for _, no := range []bool{false, true} {
		p := toSign(t, "Di", "Cy", "Bo", "Cy", "Eve")
		if p.say("Cy", "yes"); len(p.job().Sheet.Signed) > 0 {
			t.Fatal("it is signed with nobody having asked Di")
		}
		if got := p.last["test/Ada"].Text(); !strings.Contains(got, "Does Di answer for going on") || !p.has("Ada", "word") {
			t.Fatalf("Ada is asked %q", got)
		}
		if p.pressed("Bo", p.choice("Ada", "word")); len(p.job().Sheet.Signed) > 0 {
			t.Fatal("Bo answers for Di")
		}
		if no {
			p.say("Ada", "no")
		} else {
			p.press("Ada", "word.yes")
		}
		if signed := p.job().Sheet.Signed; len(signed) > 0 == no {
			t.Errorf("Di says no %v, and it is %v", no, signed)
		}
	}
}
