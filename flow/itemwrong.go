package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// At an item of the list a sentence is first of all the answer to it: "it rubs on the post"
// says that the line is not free, and puts no post among the anchors. Where it says of what
// another item asks that something is amiss, it is no answer to the one that stands; that
// other item is opened, and asked once more.

// addsNothing are the facts of a message that put no piece on the list: what a line is said
// to rub on is no anchor.
func addsNothing(facts []hear.Fact) []hear.Fact {
	return slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool { return strings.Contains(f.Field, "[+") })
}

// amissElsewhere takes words that name a thing which another item asks about and say that it
// is amiss, from anybody on the spot who may be asked for one.
func (t *turn) amissElsewhere(text string, asked asking, ok bool) bool {
	group := t.groupIn(t.in.Chat, t.openItems())
	if ok && hear.ItemWrong(asked.check.field, text, true) {
		return false
	}
	for _, c := range t.listed() {
		if !hear.ItemWrong(c.field, text, false) {
			continue
		}
		if i := slices.IndexFunc(group, func(a asking) bool { return a.check.field == c.field }); i >= 0 {
			t.answerItem(group[i], c.bad)
			return true
		}
		t.partElsewhere(c, text)
		return true
	}
	return false
}

// partElsewhere keeps of another item than the one that is asked that it is not so yet: one
// that was answered is asked anew.
func (t *turn) partElsewhere(c siteCheck, text string) {
	if t.s.Marks[c.path()].Value != "" || t.s.Settled[c.path()] != "" {
		t.unsign(c.id)
		t.reopenItem(c.path())
	}
	a, _ := t.asking(c)
	t.keepPart(c, a.seat.Name, text)
	t.say(wording.ItemWaits, wording.Args{"Criterion": t.fits(c.claim())})
	if t.s.alone() {
		t.next()
		return
	}
	t.onward2()
}
