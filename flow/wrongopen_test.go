package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// wrongTold is a crew at the list where Cy has said that something is wrong with what nobody
// could read, and not yet with what.
func wrongTold(t *testing.T) *phonesAt {
	t.Helper()
	p := briefed(t, "Bo", "Cy", "Di", "Eve")
	p.say("Cy", "toni wants to push from behind, he is strong")
	p.say("Cy", "yes")
	p.say("Cy", "something is wrong")
	if !strings.Contains(p.asked("Cy"), "which of the list is not so") {
		t.Fatalf("Cy is asked %q", p.asked("Cy"))
	}
	return p
}

// TestSomethingWrongOutlastsWhoSaidIt: that something is wrong stays when whoever wrote it
// leaves before saying with what. All are told, nothing is pulled, and the look of somebody
// else lifts it.
func TestSomethingWrongOutlastsWhoSaidIt(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := wrongTold(t)
	out := p.say("Cy", "leave")
	for _, m := range p.last["test/Cy"].Choices {
		if m.Choice == "leave_sure" {
			out = p.say("Cy", "["+m.Label+"]")
		}
	}
	s := p.job()
	if len(s.Vetoes) != 1 || !strings.Contains(s.Vetoes[0].Reason, "toni wants to push") {
		t.Fatalf("with Cy gone nothing is withheld: %+v, open %+v", s.Vetoes, s.Unread)
	}
	if got := text(out["test/Ada"]); !strings.Contains(got, "toni wants to push") {
		t.Errorf("of what Cy left open Ada is told %q", got)
	}
	if got := text(p.say("Ada", "begin the pull")["test/Ada"]); strings.Contains(got, "drill") {
		t.Errorf("with it open the pull begins: %q", got)
	}
	if p.say("Ada", "lift Cy, Bo looked"); len(p.job().Vetoes) != 0 {
		t.Errorf("looked at by somebody else it stays: %+v", p.job().Vetoes)
	}
}

// TestSomethingWrongOutlastsAStop: a stop that comes before it is said what is wrong leaves
// it open, and it is asked again once that is over.
func TestSomethingWrongOutlastsAStop(t *testing.T) {
	flow.Lone(t)
	t.Parallel()
	p := wrongTold(t)
	p.say("Di", "stop")
	if s := p.job(); len(s.Unread) != 1 || s.Unread[0].Answer != "which" {
		t.Fatalf("a stop leaves %+v open", s.Unread)
	}
	for _, who := range []string{"Bo", "Cy"} {
		p.say(who, "[I stand still]")
	}
	p.say("Ada", "a dog ran in, it is gone")
	if s := p.job(); s.State == flow.Halted || len(s.Unread) != 1 {
		t.Fatalf("after the stop it stands at %s with %+v open", s.State, s.Unread)
	}
	if got := text(p.say("Cy", "none of these")["test/Ada"]); !strings.Contains(got, "Cy withholds the pull: toni wants to push") {
		t.Errorf("named after the stop Ada is told %q", got)
	}
}
