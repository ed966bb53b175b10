package flow

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// An answer on its way may meet another question than the one it was written to:
// somebody else's answer has ended that one. Words that tell of what another item
// asks are not taken for the one that stands, and a bare yes that comes right after
// the question was changed by others is asked back about.

// itemsToldIn lists the items of the list that words tell of.
func (t *turn) itemsToldIn(text string) []siteCheck {
	low := hear.Lowered(text)
	return slices.DeleteFunc(t.listed(), func(c siteCheck) bool {
		re := hear.ItemSubject(c.field)
		return re == nil || !re.MatchString(low)
	})
}

// tellsElsewhere takes a yes with words that tell of other items than the one that is
// asked: it is the answer to the one they tell of, where that is for who speaks to
// give, and else asked back about.
func (t *turn) tellsElsewhere(asked asking, text, value string) bool {
	if failing(asked.check, value) || t.alludes(asked.check, text) || t.namesItem(asked.check, text) {
		return false
	}
	others := t.itemsToldIn(text)
	if len(others) == 0 || slices.ContainsFunc(others, func(c siteCheck) bool { return c.field == asked.check.field }) {
		return false
	}
	if a, open := t.asking(others[0]); !t.s.alone() && len(others) == 1 && open && a.check.claimed(a.first.Value) == a.check.claim() && a.check.field != "tries" &&
		a.seat.Name != "" && t.seatChat(a.seat) == t.in.Chat && t.speaksFor(a.seat) {
		t.keepBeside(text, a.check)
		t.answerItem(a, a.check.topic().offers[0].sets[0].value)
		return true
	}
	var names wording.Names
	for _, c := range others {
		names = append(names, t.fits(c.short()))
	}
	t.keepBeside(text, append(others, asked.check)...) // what is told of neither is not lost by it
	t.say(wording.ItemElsewhere, wording.Args{"Names": names, "What": t.fits(asked.check.short())})
	t.ask()
	return true
}

// groupElsewhere is tellsElsewhere where several items are asked at once: a yes with words
// that tell of some of them is one to these, and to none where they tell of others.
func (t *turn) groupElsewhere(group []asking, text string) bool {
	others := t.itemsToldIn(text)
	if len(others) == 0 || everyOne.MatchString(text) {
		return false
	}
	var of []asking
	var names wording.Names
	for _, c := range others {
		names = append(names, t.fits(c.short()))
		if i := slices.IndexFunc(group, func(a asking) bool { return a.check.field == c.field }); i >= 0 {
			of = append(of, group[i])
		}
	}
	switch {
	case len(of) == len(group):
		return false
	case len(of) == 0:
		t.keepBeside(text, append(others, checksOf(group)...)...)
		t.say(wording.ItemElsewhereAll, wording.Args{"Names": names})
		t.ask()
	default:
		t.keepBeside(text, checksOf(of)...)
		t.answerAll(of)
	}
	return true
}

// everyOne are words that mean each of several.
var everyOne = regexp.MustCompile(`(?i)\b(?:all|each|every(?:thing)?|both)\b`)

// turnedFor is how long after others changed the question in a chat an answer there
// may have been written to the one before.
//
// Source: from memory; as long as a few words take to write.
const turnedFor = 8 * time.Second

// heldTurned keeps by chat which change of its question was asked back about.
const heldTurned = "turned-"

// justTurned reports whether others have changed the question that who speaks was asked
// so short ago that the answer may be one to the question before.
func (t *turn) justTurned() bool {
	since := t.s.Since[t.in.Chat]
	at, err := time.Parse(time.RFC3339, since.At)
	if err != nil || t.in.Piped || since.By == t.in.Person.ID || t.s.Held[heldTurned+t.in.Chat] == since.At || t.s.Wants[t.in.Chat] != t.want(t.in.Chat).id {
		return false
	}
	if since.Was == "" || since.Was == "wait-items" {
		return !t.in.At.After(at) // nothing was asked before: it was on its way already
	}
	return t.in.At.Sub(at) < turnedFor
}

// turnedItem asks back once about a yes or no without words of its own, where others have
// just changed the question.
func (t *turn) turnedItem(asked asking, text string) bool {
	if !t.justTurned() || slices.ContainsFunc(t.itemsToldIn(text), func(c siteCheck) bool { return c.field == asked.check.field }) {
		return false
	}
	t.askTurned(t.fits(asked.check.short()))
	return true
}

// askTurned asks which of two questions an answer was to.
func (t *turn) askTurned(now string) {
	t.act(Act{Do: DoHold, Path: heldTurned + t.in.Chat, Value: t.s.Since[t.in.Chat].At})
	if was, ok := t.wantedItem(t.s.Since[t.in.Chat].Was); ok {
		t.say(wording.ItemTurned, wording.Args{"Was": t.fits(was.short()), "What": now})
	} else { // several at once, or none of the list
		t.say(wording.ItemTurnedSince, wording.Args{"What": now})
	}
	t.ask()
}

// wantedItem returns the one item that was wanted in a chat by what is wanted there.
func (t *turn) wantedItem(id string) (siteCheck, bool) {
	rest, is := strings.CutPrefix(id, "item-")
	if !is || strings.HasPrefix(id, groupID) {
		return siteCheck{}, false
	}
	field, _, _ := strings.Cut(rest, "-")
	return siteCheckOf(field)
}

// sayLapsed says in a chat that the item that was asked there needs no answer any
// more, before it is asked something else.
func (t *turn) sayLapsed(was string) {
	c, ok := t.wantedItem(was)
	if !ok || !t.itemsOn() {
		return
	}
	for _, a := range t.openItems() {
		if t.itemID(a) == was {
			return // it is asked later
		}
	}
	t.say(wording.ItemLapsed, wording.Args{"What": t.fits(c.short())})
}

// changesItem takes a change of an item of the list, by the words that it goes by: that
// it is not so, from anybody, and it is asked anew. That it is so only those say who
// are asked.
func (t *turn) changesItem(words string) bool {
	if !t.itemsOn() || words == "" {
		return false
	}
	of := t.itemsToldIn(words)
	if len(of) != 1 {
		return false
	}
	c := of[0]
	a, _ := t.asking(c)
	if h := hear.Listen(lastWord(words), hear.TopicYesNo); h.Act != hear.No {
		t.remark(wording.ItemAsksThem, wording.Args{"What": t.fits(c.short()), "Name": cmp.Or(a.seat.Name, a.first.Name, t.s.Lead.Name)})
		return true
	}
	if t.s.Marks[c.path()].Value != "" || t.s.Settled[c.path()] != "" {
		t.unsign(c.id)
		t.reopenItem(c.path())
		a, _ = t.asking(c)
	}
	t.keepPart(c, a.seat.Name, t.in.Text)
	t.say(wording.ItemWaits, wording.Args{"Criterion": t.fits(c.claim())})
	t.onward2()
	return true
}

func lastWord(text string) string {
	words := strings.Fields(text)
	if len(words) == 0 {
		return ""
	}
	return words[len(words)-1]
}
