package flow_test

import (
	"strings"
	"testing"
	"time"

	"linetender/flow"
)

// keys lists the wording keys of what was said.
func keys(messages []flow.Message) []string {
	var out []string
	for _, m := range messages {
		for _, p := range m.Parts {
			out = append(out, p.Key)
		}
	}
	return out
}

func says(messages []flow.Message, key string) bool {
	for _, k := range keys(messages) {
		if k == key {
			return true
		}
	}
	return false
}

// TestDoor: nobody comes in without a code, the first one makes an owner, the
// owner's invitations work once, and wrong codes are slowed down.
func TestDoor(t *testing.T) {
	owner := newChair(t)
	owner.engine.Anyone = false
	code, err := owner.engine.OwnerCode(owner.log, owner.at)
	if err != nil || code == "" {
		t.Fatalf("no owner's code: %q, %v", code, err)
	}
	guest := *owner
	guest.chat, guest.n = "test/2", 1000

	if got := guest.say("/start"); !says(got, "door.closed") {
		t.Errorf("a stranger is told %v", keys(got))
	}
	if got := guest.say("2.4 t"); !says(got, "door.closed") {
		t.Errorf("a stranger is told %v", keys(got))
	}
	if got := owner.say("/start " + strings.ToUpper(code)); !says(got, "door.owner") || !says(got, "ask.people") {
		t.Errorf("the owner is told %v", keys(got))
	}
	if again, err := owner.engine.OwnerCode(owner.log, owner.at); err != nil || again != "" {
		t.Errorf("with an owner there is another owner's code %q, %v", again, err)
	}
	for stream, entries := range owner.log.streams {
		for _, e := range entries {
			if strings.Contains(string(e), code) {
				t.Errorf("stream %s holds the code itself", stream)
			}
		}
	}
	invite := owner.say("invite")
	if !says(invite, "door.invite") {
		t.Fatalf("invite says %v", keys(invite))
	}
	words := strings.Fields(invite[0].Text())
	secret := words[len(words)-1]
	if got := guest.say("wrong-wrong-wrong-wrong-11"); !says(got, "door.wrong") {
		t.Errorf("a wrong code says %v", keys(got))
	}
	if got := guest.say(secret); !says(got, "door.welcome") {
		t.Errorf("the right code says %v", keys(got))
	}
	if got := guest.say("none"); !says(got, "ask.mass") {
		t.Errorf("once in, the guest is told %v", keys(got))
	}
	if got := guest.say("invite"); !says(got, "door.not_owner") {
		t.Errorf("a guest who invites is told %v", keys(got))
	}
	third := *owner
	third.chat, third.n = "test/3", 2000
	if got := third.say(secret); !says(got, "door.wrong") {
		t.Errorf("a used code says %v", keys(got))
	}
	for range 4 {
		third.say("guess-guess-guess-guess-22")
	}
	invite = owner.say("/invite")
	words = strings.Fields(invite[0].Text())
	secret = words[len(words)-1]
	if got := third.say(secret); !says(got, "door.shut") {
		t.Errorf("after five wrong codes the right one says %v", keys(got))
	}
	third.at = third.at.Add(2 * time.Hour)
	if got := third.say(secret); !says(got, "door.welcome") {
		t.Errorf("an hour later the right one says %v", keys(got))
	}
	invite = owner.say("invite")
	words = strings.Fields(invite[0].Text())
	late := *owner
	late.chat, late.n, late.at = "test/4", 3000, owner.at.Add(48*time.Hour)
	if got := late.say(words[len(words)-1]); !says(got, "door.wrong") {
		t.Errorf("a code of the day before yesterday says %v", keys(got))
	}
}

// TestStopNeedsNoInvitation: a stop is answered even to a stranger, and
// begins nothing.
func TestStopNeedsNoInvitation(t *testing.T) {
	c := newChair(t)
	c.engine.Anyone = false
	if got := c.say("STOP"); !says(got, "stop.called") {
		t.Errorf("a stranger's stop says %v", keys(got))
	}
	for s := range c.log.streams {
		if strings.HasPrefix(s, "job/") {
			t.Error("a stranger's stop began a job")
		}
	}
}

// TestStrangersAreBounded: who is not let in cannot make the log grow for
// ever, is still heard calling a stop, and can still come in by a code.
func TestStrangersAreBounded(t *testing.T) {
	c := newChair(t)
	c.engine.Anyone = false
	for range 300 {
		c.say("let me in")
	}
	if n := len(c.log.streams["chat/"+c.chat]); n != 50 {
		t.Errorf("%d entries are kept of a stranger, want 50", n)
	}
	if sent := c.say("stop"); len(sent) != 1 || sent[0].Parts[0].Key != "stop.called" {
		t.Errorf("a stop is answered with %v", sent)
	}
	code, err := c.engine.OwnerCode(c.log, c.at)
	if err != nil {
		t.Fatal(err)
	}
	if sent := c.say(code); len(sent) == 0 || sent[0].Parts[0].Key != "door.welcome" {
		t.Errorf("the code is answered with %v", sent)
	}
}
