package flow

import (
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// yesTurned takes a yes behind which more is told than people say beside one: "yes, well
// no, the pin is bent". What turns against it makes it a no, and each piece is asked for by
// itself; of what nobody can read the question stays, and it is put back with the next yes.
func (t *turn) yesTurned() bool {
	rest, turned := hear.BehindYes(t.in.Text)
	switch {
	case rest == "" || allIsWell.MatchString(t.in.Text) || !turned && t.tellsNothing(rest):
		return false
	case turned:
		t.say(wording.ReadYesTurned, wording.Args{"Text": rest})
		if t.s.Topic == "kit_check" {
			t.kitLooked(false)
		} else {
			t.sound(false)
		}
	default:
		t.say(wording.RefusePart, wording.Args{"Text": rest})
		t.ask()
	}
	return true
}

// yesAndNo reports whether a message begins with a yes where that is the good answer, and
// turns against it without telling anything: "yes, well no". It answers nothing.
func (t *turn) yesAndNo(tp topic, h hear.Heard) bool {
	if h.Act != hear.Yes || len(h.Facts) > 0 || !soundTopic(tp.name) {
		return false
	}
	_, turned := hear.BehindYes(t.in.Text)
	return turned
}
