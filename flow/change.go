package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// back takes up the last answer again.
func (t *turn) back() {
	if t.s.State == Away || t.s.State == Halted {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	trail := t.s.Trail
	if len(trail) == 0 {
		t.remark(wording.RefuseBackNone, nil)
		return
	}
	t.reopen(trail[len(trail)-1].Topic)
}

// reopen asks a topic again. What it filled stays until there is a new answer.
func (t *turn) reopen(name string) {
	tp, ok := topicByName(name)
	if !ok {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	t.fire(Reopens)
	t.act(Act{Do: DoReopen, Topic: name})
	t.act(Act{Do: DoAsk, Topic: name})
	if text := t.valueOf(tp); text != "" {
		t.say(wording.ReadWord, wording.Args{"What": t.name(name), "Text": text})
	}
	t.ask()
}

// change takes up an earlier answer by its name. With facts in the same
// message it is done at once.
func (t *turn) change(h hear.Heard) {
	if t.s.State == Away || t.s.State == Halted || t.s.State == Closed {
		t.remark(wording.RefuseNotHere, nil)
		return
	}
	name := t.changeable(h.Object)
	if name == "" {
		if t.s.State == Referred || t.s.State == Verdict {
			t.fire(Reopens)
			t.act(Act{Do: DoAsk})
		}
		t.remark(wording.RefuseChangeWhat, wording.Args{"Names": t.knownNames()})
		return
	}
	if len(h.Facts) == 0 {
		t.reopen(name)
		return
	}
	t.fire(Reopens)
	t.act(Act{Do: DoReopen, Topic: name})
	t.act(Act{Do: DoAsk, Topic: name})
	t.heard(hear.Heard{Facts: h.Facts, Rest: h.Rest})
}

// changeable finds the topic that a word means: one that is heard under it.
func (t *turn) changeable(object string) string {
	if object == "" {
		return ""
	}
	switch object {
	case "rope", "block", "shackle", "sling", "kit":
		return "gear"
	case "lip", "wheel_radius":
		return "lip"
	case "checks", "check":
		return ""
	}
	if tp, ok := topicByName(object); ok && !strings.HasPrefix(tp.name, "sign_") && !strings.HasPrefix(tp.name, "kit_") {
		return tp.name
	}
	return ""
}

// knownNames lists the topics that have had an answer.
func (t *turn) knownNames() wording.Names {
	var out wording.Names
	for _, s := range t.s.Trail {
		if n := t.name(s.Topic); !slices.Contains(out, n) && !strings.HasPrefix(s.Topic, "site.") {
			out = append(out, n)
		}
	}
	return out
}

// leave keeps everything and lets go.
func (t *turn) leave() {
	t.fire(Leaves)
	t.act(Act{Do: DoAsk})
	t.say(wording.OpenAgain, wording.Args{"Code": t.s.Code})
	t.ask()
}

// fresh begins another job. The one before stays in its log: closed where it
// had come to an end, else left where it stood.
func (t *turn) fresh() {
	switch t.s.State {
	case Closed:
	case Verdict, Referred:
		if t.s.Stage.Lies() { // gear is on the load: left, and to be come back to
			t.fire(Leaves)
			t.act(Act{Do: DoAsk})
			break
		}
		t.fire(Closes)
		t.act(Act{Do: DoAsk})
	default:
		t.fire(Leaves)
		t.act(Act{Do: DoAsk})
	}
	t.turnPage()
	t.begin()
	t.next()
}

// turnPage ends the turn's part in the job that the chat was in.
func (t *turn) turnPage() {
	if t.err != nil {
		return
	}
	w, err := t.write()
	if err != nil {
		t.err = err
		return
	}
	t.before = append(t.before, w)
	t.over = append(t.over, t.settles(t.in.Chat, true)...)
	t.entry = newEntry(t.in)
	t.replies, t.known = nil, false
}

func (t *turn) close() {
	t.fire(Closes)
	t.act(Act{Do: DoAsk})
	t.ask()
}
