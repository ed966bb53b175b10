package flow

import (
	"slices"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// insert puts a paragraph before the last one.
func (t *turn) insert(k wording.Key) {
	n := len(t.replies) - 1
	t.replies = slices.Insert(t.replies, max(n, 0), reply{key: k})
}

// how says how to find the answer out, and why says what it changes.
func (t *turn) how() {
	if t.s.Topic == "slope" && !t.hub() {
		t.say(wording.HowSlope, nil)
		t.ask()
		t.offers = append([]offer{{choice: "level"}, {choice: "board"}}, t.offers...)
		return
	}
	if c, ok := t.walkedItem(); ok {
		t.aboutItem(c, true)
		return
	}
	t.remark(t.about("how"), nil)
}

func (t *turn) why() {
	if t.s.State == Verdict {
		t.reasons()
		return
	}
	if c, ok := t.walkedItem(); ok {
		t.aboutItem(c, false)
		return
	}
	t.remark(t.about("why"), nil)
}

// answered takes an answer that has a question behind it, and answers that
// too: why this is asked, or how the next is found out.
func (t *turn) answered(h hear.Heard) {
	asked, act := t.s.Topic, h.Act
	why := t.about("why")
	h.Act = hear.None
	t.heard(h)
	if t.err != nil || t.hub() || len(t.replies) == 0 {
		return
	}
	switch {
	case act == hear.Why:
		t.insert(why)
	case t.s.Topic == asked || t.s.Settled[asked] != "":
		t.insert(t.about("how"))
	}
}

// about returns the key of a section for where the job stands.
func (t *turn) about(section string) wording.Key {
	s := t.s
	switch s.State {
	case Referred, Halted, Away, Closed, Verdict, Pulling, Debrief:
		return wording.Key(section + "." + string(s.State))
	}
	if _, ok := topicByName(s.Topic); ok {
		return t.ofKind1(section, s.Topic)
	}
	return wording.Key(section + "." + string(Amend))
}
