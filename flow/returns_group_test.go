package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestWhoLeftTheGroup: who has left a job and writes in its group is asked whether
// they are back, once, and is in it only when they say so. A stop of theirs, and a
// danger, count all the same.
func TestWhoLeftTheGroup(t *testing.T) {
	p := planned(t)
	say := func(who, text, press string) []flow.Message {
		in := p.input(who)
		in.Chat, in.Group, in.Direct, in.Text = "test/Ada", true, false, text
		if press != "" {
			in.Press = &flow.Press{Session: p.head().Code, Revision: p.last[in.Chat].Revision, Choice: press}
		}
		return p.run(in)["test/Ada"]
	}
	in := func() bool {
		s, err := flow.Load(p.log, p.head().Code)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range s.Party {
			if m.ID == "test/Bo" {
				return !m.Gone
			}
		}
		return false
	}
	say("Ada", "so far", "")
	say("Bo", "hello all", "")
	if !in() {
		t.Fatal("who speaks in the group is not in the job")
	}
	say("Bo", "leave", "")
	if got := say("Bo", "did you see the match", ""); in() || !strings.Contains(text(got), "Are you back?") {
		t.Errorf("who has left is in: %v, and reads %q", in(), text(got))
	}
	if got := say("Bo", "yes, it was great", ""); in() || len(got) > 0 {
		t.Errorf("who was told is in: %v, and reads %q", in(), text(got))
	}
	if got := say("Bo", "", "take.1"); in() || !strings.Contains(text(got), "Are you back?") {
		t.Errorf("a press of who has left says %q", text(got))
	}
	if got := say("Bo", "STOP", ""); p.head().State != flow.Halted || in() {
		t.Errorf("their stop says %q", text(got))
	}
	say("Bo", "back", "")
	if !in() {
		t.Error("who is back is not in")
	}
	say("Bo", "leave", "")
	if say("Bo", "", "come_back"); !in() {
		t.Error("the button does not take them in")
	}
}
