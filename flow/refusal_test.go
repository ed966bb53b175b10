package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestARefusalStands: the no of somebody who was asked to sign stands with its words:
// the lead, who watches from afar, the board and the report have it, nobody signs over it while
// they are of the crew, whatever their post is, and once they are not whoever is asked
// next reads it.
func TestARefusalStands(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := toSign(t, "Cy", "Di", "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "yes")
	out := p.say("Di", "no i dont like it")
	for _, who := range []string{"Ada", "Eve"} {
		if got := text(out["test/"+who]); !strings.Contains(got, "Di says no to it: “no i dont like it”") {
			t.Errorf("%s is told %q", who, got)
		}
	}
	if got := board(out["test/Eve"]); !strings.Contains(got, "No to signing: Di") {
		t.Errorf("the board says %q", got)
	}
	if got := p.choice("Ada", "checks"); got == "" {
		t.Fatalf("Ada has %q", p.last["test/Ada"].Text())
	}
	got := text(p.press("Ada", "checks")["test/Ada"])
	if s := p.job(); s.State == flow.Signing || !strings.Contains(got, "Nobody signs over that") {
		t.Errorf("it is %s, Ada reads %q", s.State, got)
	}
	if got := told(p.say("Di", "i take my no back")["test/Di"]); !strings.HasPrefix(got, "checks.no_back ") {
		t.Errorf("taking it back says %s", got)
	}
	p.press("Ada", "checks")
	if s := p.job(); s.State != flow.Signing {
		t.Errorf("taken back it is %s: %s", s.State, p.last["test/Ada"].Text())
	}
	h, err := p.engine.History(p.log, p.head().Code, 0)
	if err != nil || len(h.Refused) != 1 || h.Refused[0].Words != "no i dont like it" || h.Refused[0].Back == "" {
		t.Errorf("the report has %+v, %v", h.Refused, err)
	}
}

// TestARefusalIsRead: who is asked after somebody who has no post reads their no.
func TestARefusalIsRead(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := toSign(t, "Cy", "Eve", "Bo", "Cy", "Di", "Eve")
	if p.say("Eve", "no, too steep for me"); p.job().State == flow.Signing {
		t.Fatal("Eve's no leaves it to be signed")
	}
	if got := text(p.press("Ada", "checks")["test/Ada"]); !strings.Contains(got, "Eve was asked for the same and said no: “no, too steep for me”") {
		t.Errorf("Ada reads %q", got)
	}
	p.say("Ada", "Cy")
	p.say("Ada", "Bo")
	out := p.say("Ada", "throttle at idle")
	if got := text(out["test/Bo"]); !strings.Contains(got, "Eve was asked for the same and said no") {
		t.Errorf("Bo reads %q", got)
	}
}

// TestARefusalOutlivesAPost: who refused and is given another post has refused still; who
// leaves, or changes their mind, has not.
func TestARefusalOutlivesAPost(t *testing.T) {
	flow.Lone(t)
	refused := toSign(t, "Cy", "Di", "Bo", "Cy", "Di", "Eve")
	refused.say("Cy", "yes")
	refused.say("Di", "no i dont like it")
	for words, ends := range map[string]bool{"Di does nothing any more, Cy is the anchor watch": false, "Di and Bo swap": false, "leave": true, "i changed my mind": true, "i agree now": true} {
		p := refused.copied(t)
		who := "Ada"
		if ends {
			who = "Di"
		}
		p.say(who, words)
		got := textOf(p.say("Ada", "checks")["test/Ada"])
		stands := strings.Contains(got, "Nobody signs over that") || !ends && strings.Contains(got, "No to signing: Di") // on the board while others look first
		if s := p.job(); ends == stands || s.State == flow.Signing && !ends {
			t.Errorf("after %q of %s it stands at %s: %s", words, who, s.State, got)
		}
	}
}
