package flow_test

import (
	"strings"
	"testing"

	"linetender/flow"
)

// TestEveryMessageSaysHowAStopReachesUs: where the channel shows only
// commands, replies and presses, each message carries the way to a stop and
// its button, and both halt.
func TestEveryMessageSaysHowAStopReachesUs(t *testing.T) {
	for _, way := range []string{"button", "/stop"} {
		c := newChair(t)
		c.mode = func(in *flow.Input) { in.Group, in.Partial = true, true }
		for _, text := range []string{"/start", "none", "2.4 t", "1 in 5", "so far", "how"} {
			for _, m := range c.say(text) {
				if !strings.Contains(m.Text(), "/stop") {
					t.Errorf("to %q a message does not say how to stop: %q", text, m.Text())
				}
				if n := len(m.Choices); n == 0 || m.Choices[n-1].Choice != "stop" {
					t.Errorf("to %q a message has no stop button: %v", text, m.Choices)
				}
			}
		}
		var got []flow.Message
		if way == "button" {
			in := c.input()
			// An old message's button stops as well as the newest one's.
			in.Press = &flow.Press{Session: c.last.Session, Revision: 1, Choice: "stop"}
			got = c.run(in)
		} else {
			got = c.say("/stop")
		}
		if !says(got, "stop.called") || !got[0].Urgent {
			t.Errorf("%s: a stop says %v, urgent %v", way, keys(got), got[0].Urgent)
		}
	}
}

// TestGroupTalkIsLeftAlone: in a group people talk to each other. What is no
// answer and not meant for the program gets none; a stop always counts.
func TestGroupTalkIsLeftAlone(t *testing.T) {
	c := newChair(t)
	c.say("/start")
	c.mode = func(in *flow.Input) { in.Group, in.Direct = true, false }
	if got := c.say("did you bring the sandwiches"); len(got) != 0 {
		t.Errorf("table talk is answered: %v", keys(got))
	}
	if got := c.say("none of those, all clear"); !says(got, "ask.mass") {
		t.Errorf("an answer in a group says %v", keys(got))
	}
	if got := c.say("wait, STOP"); !says(got, "stop.called") {
		t.Errorf("a stop in a group says %v", keys(got))
	}
}

// TestOldButtons: a button of an earlier question changes nothing and says so
// in place; the keyboard that was answered is replaced by its answer.
func TestOldButtons(t *testing.T) {
	c := newChair(t)
	c.say("/start")
	old := c.last
	sent := c.press("none of these")
	if len(sent[0].Settles) != 1 || sent[0].Settles[0].Slot != old.Slot {
		t.Fatalf("the answered buttons are not settled: %+v", sent[0].Settles)
	}
	if text := sent[0].Settles[0].Text; !strings.HasSuffix(text, "» none of these") || !strings.Contains(text, "Is anyone hurt") {
		t.Errorf("the answered question becomes %q", text)
	}
	in := c.input()
	in.Press, in.Handle = &flow.Press{Session: old.Session, Revision: old.Revision, Choice: "edge"}, "h1"
	got := c.run(in)
	if len(got) != 1 || !got[0].Notice || got[0].Handle != "h1" || !says(got, "refuse.stale_short") {
		t.Errorf("an old press says %+v", got)
	}
	if got := c.say("2.4 t"); !says(got, "ask.slope") {
		t.Errorf("after an old press the job goes on with %v", keys(got))
	}
}

// TestWhatIsNotWords: recordings, pictures, places and rewritten messages get
// a kind word, keep the question, and lose nothing.
func TestWhatIsNotWords(t *testing.T) {
	for other, want := range map[string]string{
		flow.OtherVoice: "refuse.voice", flow.OtherSticker: "refuse.file", flow.OtherFile: "refuse.file",
		flow.OtherPhoto: "read.photo", flow.OtherLocation: "read.location",
	} {
		c := newChair(t)
		c.say("/start")
		c.say("none")
		in := c.input()
		in.Other = other
		if got := c.run(in); !says(got, want) || !says(got, "ask.mass") {
			t.Errorf("%s says %v", other, keys(got))
		}
	}
	c := newChair(t)
	c.say("/start")
	in := c.input()
	in.Edited, in.Text = true, "2.4 t"
	if got := c.run(in); !says(got, "refuse.edited") {
		t.Errorf("a rewritten message says %v", keys(got))
	}
	in = c.input()
	in.Edited, in.Text = true, "2.4 t stop"
	if got := c.run(in); !says(got, "stop.called") {
		t.Errorf("a stop written into an earlier message says %v", keys(got))
	}
}

// TestForeignLog: a job that stands where this release has no state is not
// gone on with, and says so; what was said stays, and a new job can begin.
func TestForeignLog(t *testing.T) {
	for name, change := range map[string]func(string) string{
		"open.unknown": func(s string) string { return strings.Replace(s, `"state":"people"`, `"state":"lifting"`, 1) },
		"open.broken":  func(s string) string { return strings.Replace(s, `"v":1`, `"v":99`, 1) },
	} {
		c := newChair(t)
		c.say("/start")
		for stream, entries := range c.log.streams {
			if strings.HasPrefix(stream, "job/") {
				entries[0] = []byte(change(string(entries[0])))
			}
		}
		if got := c.say("none"); !says(got, name) {
			t.Errorf("%s: it says %v", name, keys(got))
		}
		if got := c.say("new"); !says(got, "ask.people") {
			t.Errorf("%s: new says %v", name, keys(got))
		}
		if got := c.say("none"); !says(got, "ask.mass") {
			t.Errorf("%s: in the new job it says %v", name, keys(got))
		}
	}
}
