package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestACardBuriesNoQuestion: what stands to be answered on a phone comes behind another card,
// a card says that it is no go by itself, and one whose plan is none any more is taken back.
func TestACardBuriesNoQuestion(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := briefed(t, "Bo", "Cy", "Eve")
	asked := map[string]string{}
	for _, who := range []string{"Bo", "Cy"} {
		asked[who] = p.asked(who)[strings.LastIndex(p.asked(who), "go and look"):]
	}
	out := p.say("Eve", "change weight 2.5 t, off the weighbridge")
	if got := said(out["test/Cy"]); strings.Contains(got, "nosignal.head") {
		t.Errorf("while it is asked which weight it is Cy is handed a card: %s", got)
	}
	out = p.say("Ada", "[2.5 t = 5,510 lb]")
	handed := false
	for _, who := range []string{"Bo", "Cy"} {
		m := out["test/"+who]
		if !strings.Contains(said(m), "nosignal.head") {
			continue
		}
		handed = true
		if !strings.Contains(m[len(m)-1].Text(), asked[who]) || len(m[len(m)-1].Choices) == 0 {
			t.Errorf("behind another card %s is asked %q, before %q", who, m[len(m)-1].Text(), asked[who])
		}
		if !strings.Contains(text(m), "This card is no go") {
			t.Errorf("%s's card does not say that it is no go by itself", who)
		}
	}
	if !handed {
		t.Fatalf("nobody is handed another card: %s", said(out["test/Cy"]))
	}
	out = p.say("Ada", "change ground mud")
	for _, who := range []string{"Ada", "Bo", "Cy"} {
		if !strings.Contains(said(out["test/"+who]), "nosignal.void") {
			t.Errorf("with no go left %s is told %s", who, said(out["test/"+who]))
		}
	}
}
