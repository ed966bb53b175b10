package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestHowItIsLeft: a pull is closed only when it was said whether the load
// stands where it was to come to, where, what keeps it there and, where it is
// left undone, who is warned. Nothing is no answer to any of it.
func TestHowItIsLeft(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.to(flow.GearCheck)
	p.confirm()
	p.press("Ada", "release")
	for _, row := range []struct{ text, next string }{
		{"close", "debrief.end"}, {"nothing", "debrief.end"}, {"we had lunch", "debrief.end"}, {"not there yet", "debrief.rests"},
		{"no", "debrief.rests"}, {"close", "debrief.rests"}, {"halfway, two chocks, line on the oak", "debrief.warned"},
		{"don't know", "debrief.warned"}, {"nobody", "debrief.warned"}, {"the farmer, we are back at eight", "debrief.went"},
	} {
		if got := told(p.say("Ada", row.text)["test/Ada"]); !strings.HasSuffix(got, row.next) {
			t.Errorf("%q leads to %s, want %s", row.text, got, row.next)
		}
		if p.job().State != flow.Debrief {
			t.Fatalf("%q closes the job", row.text)
		}
	}
	out := p.say("Ada", "close")
	if p.job().State != flow.Closed || !strings.Contains(text(out["test/Bo"]), "Left undone: halfway, two chocks, line on the oak. Warned: the farmer") {
		t.Errorf("closed it stands at %s and Bo is told %q", p.job().State, text(out["test/Bo"]))
	}
	found := 0
	h, err := p.engine.History(p.log, p.head().Code, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range h.Debrief {
		if strings.Contains(d.Answer, "short of there") || strings.Contains(d.Answer, "halfway") || strings.Contains(d.Answer, "the farmer") {
			found++
		}
	}
	if found != 3 {
		t.Errorf("of how it was left the report has %+v", h.Debrief)
	}
}

// TestClosedUnpulled: a job that was not pulled is closed when it is said how
// the load is left; the way back leads back, and another job leaves this one open.
func TestClosedUnpulled(t *testing.T) {
	p := readyToPull(t)
	if got := told(p.say("Ada", "close")["test/Ada"]); got != "debrief.closing" {
		t.Errorf("close says %s", got)
	}
	if got := told(p.say("Ada", "back")["test/Ada"]); !strings.HasSuffix(got, "ask.verdict") {
		t.Errorf("the way back says %s", got)
	}
	p.say("Ada", "close")
	if got := told(p.say("Ada", "ok")["test/Ada"]); !strings.HasPrefix(got, "debrief.must") {
		t.Errorf("a bare word is taken for how it is left: %s", got)
	}
	if out := p.say("Ada", "in the ditch, chocked, the farmer knows"); p.job().State != flow.Closed || !strings.Contains(text(out["test/Ada"]), "Left undone: in the ditch") {
		t.Errorf("it stands at %s and says %q", p.job().State, text(out["test/Ada"]))
	}
	p = readyToPull(t)
	p.say("Ada", "new")
	if got := p.job().State; got != flow.Away {
		t.Errorf("with another job begun this one is %s", got)
	}
}
