package flow_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"linetender/flow"
)

// TestAlarmReachesEveryChat: a stop that can't be kept is passed on to all in
// the job, as far as the log can be read.
func TestAlarmReachesEveryChat(t *testing.T) {
	p := newPhones(t)
	p.say("Ada", "/start")
	p.join("Ada", "crew code", "Bo")
	p.join("Ada", "coordinator code", "Eve")
	in := p.input("Bo")
	in.Text = "stop"
	if d := cmp.Diff([]string{"test/Bo", "test/Ada", "test/Eve"}, p.engine.AlarmChats(p.log, in)); d != "" {
		t.Error(d)
	}
	if text, err := p.engine.Alarm(in); text == "" || err != nil {
		t.Errorf("the alarm says %q, %v", text, err)
	}
	stranger := p.input("Nobody")
	if d := cmp.Diff([]string{"test/Nobody"}, p.engine.AlarmChats(p.log, stranger)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"test/Bo"}, p.engine.AlarmChats(broken{}, in)); d != "" {
		t.Error(d)
	}
}

// broken is a log that can't be read.
type broken struct{ flow.Log }

func (broken) Replay(string, uint64, func(uint64, []byte) error) error { return errBroken }

var errBroken = movedError{}
