package flow

import (
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// What a stop in the pull was for says which answers it makes doubtful.

// A stopCause is one reason for a stop. Its button is cause. and its name.
type stopCause struct {
	name   string
	causes []calc.Cause // beside the stop itself
	topics []string     // questions that calc's list of causes does not reach
}

var stopCauses = []stopCause{
	{name: "inside"},
	{name: "slips", causes: []calc.Cause{calc.PullSlip}},
	{name: "stuck", causes: []calc.Cause{calc.PullSlip}},
	{name: "creeps", causes: []calc.Cause{calc.Creep}},
	{name: "anchor", causes: []calc.Cause{calc.AnchorOut}},
	{name: "runs", causes: []calc.Cause{calc.PullSlip}},
	{name: "wheel", causes: []calc.Cause{calc.Rerig}},
	{name: "sound", causes: []calc.Cause{calc.Creep}, topics: []string{"gear_sound"}},
	{name: "lifts", topics: []string{"puller.hitch_height", "puller.slope"}},
	{name: "weather", causes: []calc.Cause{calc.Rain}},
	{name: "signal"},
	{name: "unsure"},
}

func stopCauseOf(name string) (stopCause, bool) {
	for _, c := range stopCauses {
		if c.name == name {
			return c, true
		}
	}
	return stopCause{}, false
}

// causeIn returns the cause that words name; the words themselves where they
// name none, so that the same words twice are the same reason.
func causeIn(words string) string {
	low := strings.ToLower(strings.Trim(wording.Plain(words), " .!"))
	if s, ok := sightIn(low); ok {
		if _, ok := stopCauseOf(s.kind); ok {
			return s.kind
		}
	}
	for _, c := range causeWords {
		for _, word := range c.words {
			if strings.Contains(low, word) {
				return c.name
			}
		}
	}
	return low
}

var causeWords = []struct {
	name  string
	words []string
}{
	{"inside", []string{"somebody", "someone", "person", "child", "kid", "dog", "animal", "walked in", "ran in", "bystander"}},
	{"weather", []string{"rain", "storm", "lightning", "fog", "dark"}},
	{"signal", []string{"radio", "signal", "can't see", "cannot see"}},
	{"unsure", []string{"unsure", "not sure", "uneasy"}},
}

// causeOffers are the reasons that the lead can press at a stop in the pull.
func (t *turn) causeOffers() []offer {
	stop := t.s.stop()
	if stop == nil || stop.Drill || !t.s.Stage.Lies() {
		return nil
	}
	var out []offer
	for _, c := range stopCauses {
		out = append(out, offer{choice: "stop_cause." + c.name, label: t.saying(wording.Key("cause." + c.name))})
	}
	return out
}

// causePress takes the reason for a stop from the lead.
func (t *turn) causePress(name string) {
	c, ok := stopCauseOf(name)
	if !ok || t.s.State != Halted || t.s.stop() == nil {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return
	}
	t.said = t.saying(wording.Key("cause." + name))
	if !t.leads() {
		return
	}
	t.act(Act{Do: DoCause, Value: c.name})
	t.resumeHalted(t.saying(wording.Key("cause." + c.name)))
}

// afterStop reopens what the last stop could have changed. Two stops for the
// same reason say that the plan is not understood: all of the list is asked
// again, and the plan is read back.
func (t *turn) afterStop() {
	stop := t.s.Stops[len(t.s.Stops)-1]
	if !t.s.Stage.needsPlan() {
		t.backToPull()
		t.ask()
		return
	}
	t.reopenFor(calc.Stopped)
	if c, ok := stopCauseOf(stop.Cause); ok {
		t.reopenFor(c.causes...)
		for _, name := range c.topics {
			if tp, ok := topicByName(name); !ok || tp.apply != nil && !tp.apply(t.s.Sheet) {
				continue
			}
			t.act(Act{Do: DoAgain, Topic: name, Reason: t.saying(wording.Key("cause." + c.name))})
		}
	}
	if t.s.stopsFor(stop.Cause) > 1 {
		t.stale()
		if p := t.plan(); p != nil {
			t.sayApart(wording.StopTwice, nil)
			t.tell(p)
			t.act(Act{Do: DoTold, Value: finding(*p).Digest})
		}
	}
	t.act(Act{Do: DoHold, Path: "checking", Value: "yes"})
	t.next()
}

// stopsFor counts the stops of the pull for one reason.
func (s *Session) stopsFor(cause string) int {
	n := 0
	for _, stop := range s.Stops {
		if !stop.Drill && stop.Cause == cause && stop.Stage != NotBegun {
			n++
		}
	}
	return n
}
