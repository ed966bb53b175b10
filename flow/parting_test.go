package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestLeavingIsMeant: a button, or what picks it, takes nobody out of a job that others
// are in before it was asked whether that is meant; alone it does.
func TestLeavingIsMeant(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	p.say("Ada", "checks")
	p.until("a way to leave", func() bool { return p.has("Ada", "leave") })
	out := p.press("Ada", "leave")
	if s := p.job(); s.State == flow.Away || !strings.Contains(text(out["test/Ada"]), "Do you mean that") {
		t.Fatalf("the button leaves at once: %s, %q", s.State, text(out["test/Ada"]))
	}
	if m := p.last["test/Ada"]; m.Numbered {
		t.Error("a number picks the yes")
	}
	for _, words := range []string{"b", "4", "none", "stay in this job"} {
		q := p.copied(t)
		q.say("Ada", words)
		if s := q.job(); s.State == flow.Away {
			t.Errorf("%q leaves", words)
		}
		q.say("Ada", "yes")
		if s := q.job(); s.State == flow.Away {
			t.Errorf("after %q a yes to something else leaves", words)
		}
	}
	for _, words := range []string{"yes", "yes, leave it", "[yes, leave it]"} {
		q := p.copied(t)
		q.say("Ada", words)
		if s := q.job(); s.State != flow.Away {
			t.Errorf("%q leaves it at %s", words, s.State)
		}
	}
	q := p.copied(t)
	q.say("Ada", "yes")
	if q.say("Ada", "no"); q.job().State != flow.Away || !strings.Contains(q.asked("Ada"), "Begin another job") {
		t.Errorf("a bare no begins another job: %q", q.asked("Ada"))
	}
	alone := readyToPull(t)
	if alone.press("Ada", "leave"); alone.job().State != flow.Away {
		t.Errorf("alone the button leads to %s", alone.job().State)
	}
}

// TestNewWhileALineLies: the word begins no other job at once while a load hangs on a line.
func TestNewWhileALineLies(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t)
	p.to(flow.Held)
	code := p.job().Code
	if got := text(p.say("Ada", "new")["test/Ada"]); !strings.Contains(got, "Secure it there first") || p.last["test/Ada"].Session != code {
		t.Fatalf("another job is begun: %q", got)
	}
	q := p.copied(t)
	if q.say("Ada", "stay"); q.last["test/Ada"].Session != code || q.stage() != flow.Held {
		t.Errorf("to stay leads to %s", q.stage())
	}
	if p.press("Ada", "new_sure"); p.last["test/Ada"].Session == code {
		t.Error("who means it is kept")
	}
}

// TestAStopOfTheJobBefore: where whoever leads is in another job, a stop is still heard
// of there with the way to it, and ended by them on that way or by who takes the lead.
func TestAStopOfTheJobBefore(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	code := p.job().Code
	p.say("Ada", "leave")
	p.say("Ada", "new")
	if p.last["test/Ada"].Session == code {
		p.say("Ada", "yes")
	}
	p.code, p.was = code, nil
	out := p.say("Bo", "stop")
	if got := text(out["test/Ada"]); !strings.Contains(got, "open "+code) {
		t.Errorf("the lead is told %q", got)
	}
	for _, who := range []string{"Cy", "Di"} {
		p.press(who, "still")
	}
	q := p.copied(t)
	q.say("Ada", "open "+code)
	q.say("Ada", "a dog ran in, it is tied up now")
	if s := q.job(); s.State == flow.Halted {
		t.Errorf("back by open the lead can't end it: %q", q.asked("Ada"))
	}
	if got := p.asked("Cy"); !strings.Contains(got, "take the lead") {
		t.Errorf("Cy is told %q", got)
	}
	p.say("Cy", "take the lead")
	if p.job().Lead.Name != "Cy" {
		t.Fatalf("Cy can't take the lead: %q", p.asked("Cy"))
	}
	p.say("Cy", "i see them all stand still")
	p.say("Cy", "a dog ran in, it is tied up now")
	if s := p.job(); s.State == flow.Halted {
		t.Errorf("by Cy it can't be ended: %q", p.asked("Cy"))
	}
}

// TestNewAtAStop: the word begins no other job at once while others stand still for a stop,
// at whatever stage.
func TestNewAtAStop(t *testing.T) {
	flow.Lone(t)
	p := readyToPull(t, "Bo", "Cy", "Di", "Eve")
	code := p.job().Code
	p.say("Cy", "stop")
	if got := text(p.say("Ada", "new")["test/Ada"]); !strings.Contains(got, "A stop of job") || p.last["test/Ada"].Session != code || p.job().State != flow.Halted {
		t.Fatalf("at a stop another job is begun: %q", got)
	}
	if p.say("Ada", "yes"); p.last["test/Ada"].Session == code {
		t.Error("who means it is kept")
	}
}

// TestBackAtThePost: who leaves a tight line and is back before anybody else has their
// post goes by the name that they had, whatever the channel calls them, and is asked
// whether they take that post on again.
func TestBackAtThePost(t *testing.T) {
	flow.Lone(t)
	at := standing(t, "Bo", "Cy", "Di", "Eve")
	p := at[flow.Held].copied(t)
	p.say("Bo", "call me Tom")
	p.say("Ada", "Di has no phone")
	p.say("Bo", "leave")
	out := p.say("Bo", "back")
	if got := text(out["test/Bo"]); !strings.Contains(got, "as Tom") || !strings.Contains(got, "Do you take it on") {
		t.Errorf("who is back is told %q", got)
	}
	p.press("Bo", "take")
	for _, s := range p.job().Seats {
		if s.Post.Does == "driver" && (s.Name != "Tom" || !s.Taken) {
			t.Errorf("the driver's post: %+v", s)
		}
	}
	if got := p.job(); len(got.Held["relief-"+got.Seats[0].Member]) > 0 || *got.Sheet.Crew != 4 {
		t.Errorf("back it stands at %d people", *got.Sheet.Crew)
	}
}
