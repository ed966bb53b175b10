package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// unreadShown is how much of what was not read is quoted, in signs.
const unreadShown = 140

// The answers to what was not read, in words.
var (
	nothingWrong   = regexp.MustCompile(`^(?:(?:no|yes|yep|ok|okay)[ ,]+)?(?:(?:there is |there's |its |it's |it is )?nothing(?:'s| is)?(?: is)?(?: wrong)?|it is so|so it is(?: all the same)?|all (?:good|fine|well|ok|okay)|fine|good)$`)
	somethingWrong = regexp.MustCompile(`^(?:(?:yes|no|nope)[ ,]+)?(?:something(?:'s| is)?(?: is)? (?:wrong|off|bad)|something|it(?:'s| is) wrong|wrong|not so|it is not|it isn'?t|no|nope|nah|not ok|not okay|not right)$`)
)

// unreadHere is what is open at a place for who speaks: their own, or at a hold, where
// they release it, anybody's.
func (t *turn) unreadHere(place string, release bool) *Unread {
	i := slices.IndexFunc(t.s.Unread, func(u Unread) bool {
		return u.Place == place && (u.By.ID == t.in.Person.ID || release)
	})
	if i < 0 {
		return nil
	}
	return &t.s.Unread[i]
}

// putBack keeps a good answer from counting while what was not read at its place is
// open, and puts that to who gives it; it reports whether it did. Given again after
// that, it counts. At a hold point it is void: by a word to the question nothing is
// confirmed there and nothing released.
func (t *turn) putBack(place, answer string, how How, release bool) bool {
	u := t.unreadHere(place, release)
	if u == nil || t.err != nil {
		return false
	}
	if u.Answer == whichWrong { // that something is wrong is said: a good answer to another item takes none of it back
		t.ask()
		return true
	}
	if u.To == t.in.Person.ID {
		t.nothingWrong(*u)
		return t.putBack(place, answer, how, release) // somebody else's, at a release
	}
	t.act(Act{Do: DoQuote, Topic: place, Path: itoa(u.Number), Value: answer, How: how})
	t.ask()
	return true
}

// unquote has what was not read be open no more.
func (t *turn) unquote(u Unread) {
	t.act(Act{Do: DoUnquote, Topic: u.Place, Path: itoa(u.Number)})
}

// nothingWrong takes that nothing is wrong with what was not read.
func (t *turn) nothingWrong(u Unread) {
	t.unquote(u)
	if u.Place != placePull && u.Place != placeList {
		return
	}
	for _, chat := range t.s.chats(AsLead, AsCoordinator) {
		if chat != t.in.Chat {
			t.inChat(chat, func() {
				t.say(wording.UnreadNothing, wording.Args{"Name": t.s.nameOf(u.By), "Second": t.whoName(), "Text": clipped(u.Text, unreadShown)})
			})
		}
	}
}

// putIn is what is put to somebody in a chat and stands to be answered there.
func (t *turn) putIn(chat string) *Unread {
	for i := range t.s.Unread {
		u := &t.s.Unread[i]
		m := t.s.member(u.To)
		if u.To == "" || m == nil || m.Gone || m.Chat != chat {
			continue
		}
		switch u.Place {
		case placePull:
			if t.s.State != Pulling || t.s.hold() == nil {
				continue
			}
		case placeList:
			if u.Answer == whichWrong {
				if slices.Contains([]State{Halted, Away, Closed, Debrief}, t.s.State) {
					continue
				}
			} else if !t.itemsOn() && t.s.State != Checks {
				continue
			}
		default:
			if t.s.Topic != u.Place || t.hub() || t.s.State == Pulling {
				continue
			}
		}
		return u
	}
	return nil
}

// wantUnread asks whether it is so all the same.
func (t *turn) wantUnread(chat string) want {
	u := t.putIn(chat)
	if u == nil {
		return want{}
	}
	if u.Answer == whichWrong {
		return t.wantWhichWrong(chat, *u)
	}
	n := itoa(u.Number)
	return want{id: "unread-" + n + "-" + itoa(len(u.Text)), say: func() {
		k := wording.UnreadYou
		if u.To != u.By.ID || t.shared(chat) {
			k = wording.UnreadName
		}
		t.say(k, wording.Args{"Name": t.s.nameOf(u.By), "Text": clipped(u.Text, unreadShown)})
		if u.Place == placePull {
			t.say(wording.UnreadNotSo, wording.Args{"Number": t.s.Hold, "Text": t.anew(*u)})
		}
		t.offers = []offer{{choice: "nothing_wrong." + n, label: t.saying(wording.ChoiceNothingWrong)}, {choice: "something_wrong." + n, label: t.saying(wording.ChoiceSomethingWrong)}}
		if t.s.Stage.Rigged() {
			t.offers = append(t.offers, offer{choice: choiceStop})
		}
	}}
}

// unreadPress takes a button of that question.
func (t *turn) unreadPress(choice string) bool {
	name, n, field := cut(choice)
	if !slices.Contains([]string{"nothing_wrong", "something_wrong", "wrong_item", "wrong_else"}, name) {
		return false
	}
	u := t.putIn(t.in.Chat)
	which := name == "wrong_item" || name == "wrong_else"
	if u != nil && which != (u.Answer == whichWrong) {
		u = nil // it is another question now
	}
	if c, ok := siteCheckOf(field); ok && name == "wrong_item" {
		t.said = t.sayingWith(wording.ItemNotOne, wording.Args{"What": t.fits(c.short())})
	} else {
		t.said = t.saying(wording.Key("choice." + name))
	}
	if u == nil || itoa(u.Number) != n {
		t.notice = true
		t.say(wording.RefuseStaleShort, nil)
		return true
	}
	if which {
		t.wrongIs(*u, field)
		return true
	}
	t.answersUnread(*u, name == "nothing_wrong")
	return true
}

// unreadWords takes words to that question.
func (t *turn) unreadWords(text string) bool {
	u := t.putIn(t.in.Chat)
	if u == nil || u.To != t.in.Person.ID || !strings.HasPrefix(t.want(t.in.Chat).id, "unread-") {
		return false
	}
	low := hear.Lowered(strings.Trim(text, " .!"))
	if u.Answer == whichWrong {
		return t.whichWords(*u, text, low)
	}
	if name, _, _ := cut(u.Answer); u.Place == placePull && name == "sure" && strings.HasPrefix(low, "so it is") {
		return false // the answer that waited, given anew: with its number it counts
	}
	clean := nothingWrong.MatchString(low) || slices.Contains([]string{"yes", "y", "yep", "yeah", "aye", "ok", "okay"}, low)
	switch {
	case clean && t.sentEarly():
		t.ask()
	case clean:
		t.answersUnread(*u, true)
	case somethingWrong.MatchString(low):
		t.answersUnread(*u, false)
	case u.Place != placePull && u.Place != placeList && hear.Listen(text, hear.TopicText).Act == hear.Skip: // of what they wrote, not of what was asked
		t.act(Act{Do: DoUnquote, Topic: u.Place, Path: itoa(u.Number), Value: "wrong"})
		t.ask()
	default:
		return false
	}
	return true
}

// answersUnread takes the answer to it: the good answer that waits counts, or it does
// not.
func (t *turn) answersUnread(u Unread, clean bool) {
	if u.To != t.in.Person.ID {
		t.remark(wording.SeatNotYours, wording.Args{"Name": t.s.nameOf(Person{ID: u.To})})
		return
	}
	if clean {
		t.nothingWrong(u)
		if u.Place == placePull {
			t.voided(u)
			return
		}
		t.givesAgain(u)
		return
	}
	switch h := t.s.hold(); {
	case u.Place == placePull && h != nil:
		t.unquote(u)
		t.act(Act{Do: DoWithhold, Value: itoa(h.Number), Reason: clipped(u.Text, unreadShown)})
		args := wording.Args{"Name": t.whoName(), "Number": h.Number, "Reason": clipped(u.Text, unreadShown)}
		t.tellAll(true, func() { t.say(wording.PullHasWithheldFor, args) })
		t.say(wording.PullHasWithheldFor, args)
		t.say(wording.PullYouWithhold, wording.Args{"Number": h.Number})
		t.ask()
	case u.Place == placeList:
		t.wrongItem(u)
	default:
		t.wrongAnswer(u)
	}
}

// voided says that the answer which waited at a hold point is to be given anew, or puts
// what else was not read there first.
func (t *turn) voided(u Unread) {
	name, _, _ := cut(u.Answer)
	if next := t.unreadHere(placePull, name != "sure"); next != nil {
		t.act(Act{Do: DoQuote, Topic: placePull, Path: itoa(next.Number), Value: u.Answer, How: Pressed})
		t.ask()
		return
	}
	t.say(wording.UnreadAgain, wording.Args{"Number": t.s.Hold, "Text": t.anew(u)})
	t.ask()
}

// anew is how an answer that waited at a hold point is given there anew.
func (t *turn) anew(u Unread) string {
	name, _, _ := cut(u.Answer)
	said := t.sayingWith(wording.Key("choice."+name), wording.Args{"Number": t.s.Hold})
	if name == "sure" {
		said += " " + itoa(t.s.Hold)
	}
	return said
}

// givesAgain gives the answer that waited.
func (t *turn) givesAgain(u Unread) {
	t.regiven = true
	if u.Words {
		t.inWords(u.Answer, t.text)
		return
	}
	if t.crewPress(u.Answer) {
		return
	}
	for _, o := range t.allChoices() {
		if o.choice == u.Answer {
			t.choose(o)
			return
		}
	}
	t.ask() // it is asked no more
}

// worstOf is an item's no.
func worstOf(c siteCheck) string {
	for _, o := range c.topic().offers {
		if v := o.sets[0].value; failing(c, v) {
			return v
		}
	}
	return c.bad
}

// wrongAnswer takes a question as one to which the answer is not known: the careful
// one counts. What can't be left unknown is asked again, and what was not read stays.
func (t *turn) wrongAnswer(u Unread) {
	tp, ok := topicByName(u.Place)
	drop := func() { t.unquote(u) }
	switch {
	case !ok:
		drop()
		t.ask()
	case tp.name == "gear_sound":
		drop()
		t.sound(false)
	case tp.name == "kit_check":
		drop()
		t.kitLooked(false)
	case tp.noskip || len(tp.skip) == 0:
		t.act(Act{Do: DoUnquote, Topic: u.Place, Path: itoa(u.Number), Value: "wrong"})
		t.say(wording.UnreadWhat, wording.Args{"Example": t.example()})
		t.ask()
	default:
		drop()
		t.skip()
	}
}

// hesitates reports whether a none to the hazards is no answer in any case: the word of
// one was written before.
func (t *turn) hesitates() bool {
	return t.s.Topic == firstTopics[0].name && t.s.Held["hazard_word"] != "" && hesitates.MatchString(t.in.Text)
}

// askedOtherwise takes what was not read at a question as put back there by other words.
func (t *turn) askedOtherwise(place string) {
	if u := t.unreadHere(place, false); u != nil {
		t.unquote(*u)
	}
}

// goodAnswer reports whether what was heard at a question is, or could be, its good
// answer.
func (t *turn) goodAnswer(tp topic, h hear.Heard) bool {
	told := false
	for _, f := range h.Facts {
		if slices.Contains(tp.fills, f.Field) {
			told = true
			if goodValue(f.Field, f.Value) {
				return true
			}
		}
	}
	if told {
		return false
	}
	said := ""
	switch {
	case tp.name == "people":
		return h.Act == hear.No || noneOfThem.MatchString(t.in.Text) || noneOfRest.MatchString(t.in.Text)
	case h.Act == hear.Yes, agreesFirst.MatchString(t.in.Text):
		said = "yes"
	case h.Act == hear.No:
		said = "no"
	case tp.name == "gear_sound":
		return allIsWell.MatchString(t.in.Text)
	}
	switch field := tp.name[strings.LastIndexByte(tp.name, '.')+1:]; field {
	case "lean", "belly", "knots":
		return said == "no"
	default:
		return said == "yes"
	}
}

// goodChoice reports whether a button is the good answer of a question.
func goodChoice(tp topic, o offer) bool {
	if tp.name == "gear_sound" || tp.name == "kit_check" {
		return o.choice == "yes"
	}
	return slices.ContainsFunc(o.sets, func(s set) bool { return goodValue(s.path, s.value) })
}
