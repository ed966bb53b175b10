package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// That something is wrong with what nobody could read, written while the list is answered,
// is a no to whatever it tells of, and hardly ever to the item that happened to be asked.
// Where the words tell of one item it is that; else it is asked which, and where it is none
// of the list nothing is pulled until whoever wrote it lifts that.

// whichWrong stands for the answer that waits while it is asked which item is meant.
const whichWrong = "which"

// mostWrong is how many items are offered for that; all others go by their words.
const mostWrong = 8

// elseWrong are words that it is none of the list.
var elseWrong = regexp.MustCompile(`^(?:(?:it'?s |it is |no |its )?(?:none(?: of (?:these|those|them|it))?|neither|another(?: thing)?|something else|other|else))$`)

// wrongItem takes that something is wrong with what was not read at the list.
func (t *turn) wrongItem(u Unread) {
	t.toLead(func() {
		t.say(wording.JoinSays, wording.Args{"Name": t.s.nameOf(u.By), "Text": clipped(u.Text, unreadShown)})
	})
	if of := t.itemsToldIn(u.Text); len(of) == 1 {
		t.wrongIs(u, of[0].field)
		return
	}
	t.act(Act{Do: DoQuote, Topic: u.Place, Path: itoa(u.Number), Value: whichWrong, How: Pressed})
	t.ask()
}

// wantWhichWrong asks which item is not so.
func (t *turn) wantWhichWrong(chat string, u Unread) want {
	n := itoa(u.Number)
	return want{id: "unread-" + n + "-which", say: func() {
		t.say(wording.UnreadWhich, wording.Args{"Text": clipped(u.Text, unreadShown)})
		t.offers = nil
		for _, c := range t.mayBeWrong(chat) {
			t.offers = append(t.offers, offer{choice: "wrong_item." + n + "." + c.field, label: t.sayingWith(wording.ItemNotOne, wording.Args{"What": t.fits(c.short())})})
		}
		t.offers = append(t.offers, offer{choice: "wrong_else." + n, label: t.saying(wording.ChoiceWrongElse)})
		if t.s.Stage.Rigged() {
			t.offers = append(t.offers, offer{choice: choiceStop})
		}
	}}
}

// mayBeWrong are the items that are asked in a chat.
func (t *turn) mayBeWrong(chat string) []siteCheck {
	if t.s.alone() {
		if c, ok := siteCheckOf(strings.TrimPrefix(t.s.Topic, "site.")); ok {
			return []siteCheck{c}
		}
		return nil
	}
	var out []siteCheck
	for _, a := range t.openItems() {
		if a.seat.Name != "" && t.seatChat(a.seat) == chat && len(out) < mostWrong {
			out = append(out, a.check)
		}
	}
	return out
}

// whichWords takes words to that question.
func (t *turn) whichWords(u Unread, text, low string) bool {
	of := t.itemsToldIn(text)
	if len(of) == 0 {
		of = slices.DeleteFunc(t.listed(), func(c siteCheck) bool { return !t.alludes(c, text) })
	}
	switch {
	case elseWrong.MatchString(low):
		t.wrongIs(u, "")
	case len(of) == 1:
		t.wrongIs(u, of[0].field)
	case nothingWrong.MatchString(low) && hear.Listen(text, hear.TopicYesNo).Act != hear.Yes:
		t.nothingWrong(u)
		t.ask()
	case slices.Contains([]string{"yes", "y", "yep", "yeah", "ok", "okay", "no", "n"}, low):
		t.ask()
	default:
		return false
	}
	return true
}

// wrongOpen returns what is told to be wrong and not yet with which item.
func (s *Session) wrongOpen() (Unread, bool) {
	i := slices.IndexFunc(s.Unread, func(u Unread) bool { return u.Answer == whichWrong })
	if i < 0 {
		return Unread{}, false
	}
	return s.Unread[i], true
}

// wrongStays keeps the pull from beginning by what somebody who leaves had told to be wrong
// and not yet with which item: it becomes what they withhold, which outlasts them and is
// lifted by the look of somebody else.
func (s *Session) wrongStays(id string) {
	for _, u := range s.Unread {
		if u.By.ID == id && u.Answer == whichWrong {
			s.applyVeto(Act{Do: DoWithhold, Reason: clipped(u.Text, unreadShown)}, Entry{Who: u.By})
		}
	}
}

// wrongIs makes a no of the item that is meant; without one nothing is pulled until that is
// lifted.
func (t *turn) wrongIs(u Unread, field string) {
	t.unquote(u)
	c, ok := siteCheckOf(field)
	if !ok {
		t.withholdPull(clipped(u.Text, unreadShown))
		return
	}
	if t.s.alone() && t.s.Topic == c.path() {
		t.checkValue(c.topic(), worstOf(c))
		return
	}
	if a, open := t.asking(c); open && !t.s.alone() && a.seat.Name != "" && t.seatChat(a.seat) == t.in.Chat {
		t.answerItem(a, worstOf(c))
		return
	}
	t.failsNow(c.field, u.Text)
}
