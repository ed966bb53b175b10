package flow

import (
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// Whatever a button says may be typed: with gloves, on a terminal, in a group
// where people reply in words. The label of a button that stands to be pressed
// in the chat at this moment does what pressing it does. One that is over is
// words like any other, and never a release: that has its number in its label.

// bareLabel is a label or a text by its letters and figures alone: how people
// type it leaves out the rest.
func bareLabel(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(strings.ReplaceAll(hear.Straight(s), "'", "")), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ")
}

// wantedHere are the buttons that stand to be pressed where the input came from.
func (t *turn) wantedHere() []offer {
	was, mails := t.mail, t.mails
	t.mail = &mail{chat: t.in.Chat}
	t.mails = []*mail{t.mail}
	defer func() { t.mail, t.mails = was, mails }()
	if t.s.alone() {
		t.askMain()
	} else {
		t.want(t.in.Chat).say()
	}
	return t.mail.offers
}

// typed does what a button does whose label was typed, and reports whether
// there was one.
func (t *turn) typed(text string) bool {
	if t.s == nil || t.me() == nil && len(t.s.Party) > 0 {
		return false
	}
	said := bareLabel(text)
	if said == "" || strings.HasSuffix(strings.TrimRight(text, " .!]"), "?") { // who asks whether it is so presses nothing
		return false
	}
	offers := t.wantedHere()
	if t.s.State == Pulling { // what is under the button that lists what can be seen
		for _, s := range sights {
			if said == bareLabel(t.saying(wording.Key("saw."+s.kind))) {
				t.saw(s.kind, t.saying(wording.Key("saw."+s.kind)))
				return true
			}
		}
	}
	for _, o := range offers {
		if t.s.State == Pulling && t.sentEarly() && strings.Contains(o.choice, ".") {
			continue // it was meant for what stood there before
		}
		label, err := t.label1(o)
		if err != nil {
			t.err = err
			return true
		}
		if said == bareLabel(label) {
			return t.press(o)
		}
	}
	return false
}

// press does what an offer does that stands to be pressed.
func (t *turn) press(o offer) bool {
	if t.crewPress(o.choice) {
		return true
	}
	if _, ok := choiceActs[o.choice]; ok && !t.offered(o.choice) {
		return false // the word says the same
	}
	if !t.main() {
		return false
	}
	t.choose(o)
	return true
}
