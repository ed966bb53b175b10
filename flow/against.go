package flow

import (
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// What anybody of the crew tells against a go is never only passed on: it counts
// until it was looked at again, whoever had said yes.

// against takes such words, and reports whether there were any.
func (t *turn) against(text string) bool {
	m := t.me()
	if m == nil || m.As == AsObserver {
		return false
	}
	if t.faulty(text) {
		return true
	}
	switch t.s.State {
	case Checks, Signing, Verdict, Pulling:
	default:
		return false
	}
	if _, ok := t.tellsOf(text, hear.Drink); ok {
		t.failsNow("sober", text)
		return true
	}
	if _, ok := t.tellsOf(text, hear.Unbraked); !ok || isQuestion(hear.Lowered(text)) {
		return false
	}
	for i, a := range t.s.Sheet.Anchors {
		path := "anchors[" + itoa(i) + "].braked"
		if was, told := t.s.Sheet.Get(path); a.Kind == "vehicle" && told && was == "true" {
			t.differ([]Differ{{Path: path, Was: was, Said: "false"}})
			return true
		}
	}
	return false
}

// failsNow has an item of the list fail by the word of somebody, and tells all.
func (t *turn) failsNow(field, text string) {
	c, ok := siteCheckOf(field)
	if !ok {
		return
	}
	t.holdNow()
	t.unsign(c.id)
	t.act(Act{Do: DoCheck, Topic: c.path(), Value: c.bad, Names: []string{t.whoName()}})
	t.note(text)
	says := func() {
		t.say(wording.JoinSays, wording.Args{"Name": t.whoName(), "Text": wording.Plain(text)})
	}
	t.tellAll(true, says)
	notSo := func() {
		t.say(wording.ItemNotSo, wording.Args{"Name": t.whoName(), "Criterion": t.fits(c.claim())})
	}
	t.inChat(t.s.leadChat(), func() {
		if t.main() {
			notSo()
		}
		if t.s.State != Checks && t.s.State != Signing {
			t.fire(Reopens)
			t.act(Act{Do: DoAsk})
		}
		t.act(Act{Do: DoSet, Path: c.path(), Value: c.bad, How: Told})
		if t.s.Settled[c.path()] == "" {
			t.settle(c.path(), Told)
		}
		t.next()
	})
	if !t.main() {
		notSo()
		t.ask()
	}
}
