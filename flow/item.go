package flow

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc"
	"linetender/flow/wording"
)

// With more than one person in the job the list is split by who can see what.
// Each is asked on their own phone, one item at a time; the lead is asked for
// those without one, by name. What blocks needs two people's eyes: the one
// whose part it is and somebody else. Until both have said yes nothing of it
// is on the sheet; a no of either is there at once.

// An asking is one item as it stands to be answered: by whom, and whether
// somebody has answered it first.
type asking struct {
	check  siteCheck
	seat   Seat
	first  Mark // of the first, where this is the second
	second bool
}

// number is the last part of its buttons: an earlier asking has another.
func (t *turn) number2(c siteCheck) string { return itoa(t.s.Rounds[c.path()]) }

// itemsOn reports whether the list is walked by several people now.
func (t *turn) itemsOn() bool {
	at := t.s.spot()
	if at.State == Amend { // what one changes keeps nobody else from answering
		at = t.s.From
	}
	return !t.s.alone() && t.checking() && (at.State == Checks && strings.HasPrefix(at.Topic, "site.") || at.State == Signing)
}

// openItems lists what of the list stands to be answered, in its order: what
// nobody has looked at, then what a second person is to look at, then what was
// said to be so only in part. It is empty
// once the list is done, and never before. What waits for a slack line is no part of it.
func (t *turn) openItems() []asking {
	return slices.DeleteFunc(t.opens(), func(a asking) bool { return t.s.itemWaits(a.check) })
}

// opens lists those and what waits.
func (t *turn) opens() []asking {
	var firsts, seconds, waiting []asking
	shares := t.shares()
	for _, c := range t.listed() {
		switch a, open := t.askingBy(c, shares[c.path()]); {
		case open && t.s.Parts[c.path()].Value != "":
			waiting = append(waiting, a)
		case open && a.second:
			seconds = append(seconds, a)
		case open:
			firsts = append(firsts, a)
		}
	}
	return slices.Concat(firsts, seconds, waiting)
}

// asking returns who is to answer an item now, and whether anybody is.
func (t *turn) asking(c siteCheck) (asking, bool) { return t.askingBy(c, t.shares()[c.path()]) }

func (t *turn) askingBy(c siteCheck, by share) (asking, bool) {
	first := by.first
	mark, answered := t.s.Marks[c.path()]
	settled := t.s.Settled[c.path()] != ""
	switch {
	case !settled && !answered:
		return asking{check: c, seat: first}, true
	case t.seconded(c):
		return asking{}, !settled
	}
	// Nobody to be the second leaves it open: it waits until somebody is named.
	second := by.second
	if looked := cmp.Or(mark.Name, mark.By.Name, first.Name); second.Name == "" || sameName(second.Name, looked) {
		second, _ = t.elseOf(c, looked, nil) // it was somebody else's when it was answered
	}
	return asking{check: c, seat: second, first: mark, second: true}, true
}

// seconded reports whether an item needs nobody else's eyes any more.
func (t *turn) seconded(c siteCheck) bool {
	return !c.two || t.people() < 2 || t.s.Seconds[c.path()].Value != "" || c.fails(t.s.Sheet) && !t.s.askedAnew(c)
}

func (t *turn) leadSeat() Seat {
	return Seat{Name: t.s.Lead.Name, Member: t.s.Lead.ID}
}

// wantItem asks whoever can see an item of the list for it.
func (t *turn) wantItem(chat string) want {
	if !t.itemsOn() || chat == t.s.leadChat() && t.s.State != Checks {
		return want{}
	}
	open := t.openItems()
	if group := t.groupIn(chat, open); len(group) > 0 {
		return t.groupWant(group)
	}
	if a, ok := t.itemIn(chat, open); ok {
		return want{id: t.itemID(a), say: func() { t.askItem(a) }}
	}
	if chat == t.s.leadChat() {
		return want{id: "wait-items", say: func() {
			if t.stopOpen() {
				t.say(wording.ItemWaitStop, nil)
				t.sayStopLeft()
			} else {
				t.say(wording.ItemWait, wording.Args{"Names": t.openNames(open)})
			}
			t.offers = []offer{{choice: "who", label: t.saying(wording.ItemWho)}}
		}}
	}
	return want{}
}

// sayTight says what carries something while people look.
func (t *turn) sayTight() {
	switch {
	case t.s.tight() && t.s.haulSlack(): // only the holding line does
		t.say(wording.ItemHolds, nil)
	case t.s.tight():
		t.say(wording.ItemTight, nil)
	}
}

// haulSlack reports whether the haul line lies slack where the rope is laid out or rigged
// anew: shackles and pins are looked at from near, and the holding line has the load.
func (s *Session) haulSlack() bool {
	return slices.Contains([]Stage{AllPlaced, LineSlack, Rerig, RerigHeld}, s.Stage) && !s.taut()
}

// askItem puts an item to whoever is asked for it.
func (t *turn) askItem(a asking) {
	t.sayTight()
	if who := t.s.Held[heldNo+a.check.path()]; who != "" {
		t.say(wording.ItemNoBefore, wording.Args{"Name": who})
	}
	args := wording.Args{"Name": a.seat.Name, "Criterion": t.claimHere(a.check, a.first.Value)}
	phone := t.s.phone(a.seat) != nil
	switch {
	case a.second && phone:
		args["Second"] = cmp.Or(a.first.Name, a.first.By.Name)
		t.say(wording.ItemSecond, args)
	case a.second:
		args["Second"] = cmp.Or(a.first.Name, a.first.By.Name)
		t.say(wording.ItemSecondThrough, args)
	case phone || a.seat.Post.Does == "":
		t.say(wording.ItemAsk, args)
	default:
		args["Role"] = t.role(a.seat)
		t.say(wording.ItemAskThrough, args)
	}
	kind := "item."
	if a.second {
		kind = "eyes."
	}
	for _, o := range a.check.topic().offers {
		t.offers = append(t.offers, offer{choice: kind + a.check.field + "." + o.choice + "." + t.number2(a.check), label: t.saying(wording.Key("choice." + o.choice))})
	}
	t.offers = append(t.offers, offer{choice: "howitem." + a.check.field, label: t.saying(wording.Key("choice.how"))})
}

// openNames says who has how much to answer.
func (t *turn) openNames(open []asking) wording.Names {
	var who []string
	count := map[string]int{}
	for _, a := range open {
		if count[a.seat.Name]++; count[a.seat.Name] == 1 && a.seat.Name != "" {
			who = append(who, a.seat.Name)
		}
	}
	var out wording.Names
	for _, n := range who {
		out = append(out, t.sayingWith(wording.ItemCount, wording.Args{"Name": n, "Number": count[n]}))
	}
	return out
}

// who tells who is still open, with what.
func (t *turn) who() {
	var lines wording.Lines
	for _, s := range t.s.Seats {
		if s.Name != "" && !s.Taken {
			lines = append(lines, t.sayingWith(wording.ItemWhoSeat, wording.Args{"Name": s.Name, "Role": t.role(s)}))
		}
	}
	if t.itemsOn() {
		lines = append(lines, t.openLines()...)
	}
	if empty := t.emptyPosts(); t.tooFew(empty) {
		t.say(wording.PullTooFew, wording.Args{"Number": t.people()})
	} else if len(empty) > 0 {
		t.say(wording.ItemPosts, wording.Args{"Names": t.postNames(empty)})
	}
	if waiting := t.movers(); len(lines) == 0 && len(waiting) > 0 {
		if t.in.Chat != t.s.leadChat() { // there it is asked anew below
			t.say(wording.StopWaits, wording.Args{"Names": waiting})
		}
	} else if len(lines) == 0 {
		t.say(wording.ItemNobody, nil)
		t.sayStopLeft()
	} else {
		t.list(lines)
	}
	t.ask()
}

// openLines says who is asked what of the list.
func (t *turn) openLines() wording.Lines {
	var lines wording.Lines
	for _, a := range t.openItems() {
		k, args := wording.ItemWhoItem, wording.Args{"Name": cmp.Or(a.seat.Name, "?"), "Criterion": t.fits(a.check.claimed(a.first.Value))}
		if part := t.s.Parts[a.check.path()]; part.Value != "" {
			k, args["Text"] = wording.ItemWhoPart, part.Value
		}
		lines = append(lines, t.sayingWith(k, args))
	}
	return lines
}

// itemPress does what a button of an item says. It carries the item and which
// asking of it, so that an old one does nothing.
func (t *turn) itemPress(parts []string) bool {
	switch {
	case t.groupPress(parts):
		return true
	case len(parts) == 2 && parts[0] == "howitem":
		if c, ok := siteCheckOf(parts[1]); ok {
			t.aboutItem(c, true)
			return true
		}
	case len(parts) == 4 && (parts[0] == "item" || parts[0] == "eyes"):
		c, ok := siteCheckOf(parts[1])
		if !ok {
			return false
		}
		t.said = t.saying(wording.Key("choice." + parts[2]))
		a, open := t.asking(c)
		_, err := strconv.Atoi(parts[3])
		if err != nil || !t.itemsOn() || !open || a.second != (parts[0] == "eyes") || parts[3] != t.number2(c) {
			t.aside1(wording.ItemOver, nil)
			return true
		}
		if t.in.Press == nil && t.turnedItem(a, t.in.Text) { // its label was written
			return true
		}
		for _, o := range c.topic().offers {
			if o.choice == parts[2] {
				t.answerItem(a, o.sets[0].value)
				return true
			}
		}
	}
	return false
}

// aboutItem says how to look at an item, or why.
func (t *turn) aboutItem(c siteCheck, how bool) {
	if how {
		t.say(t.fitted(wording.Key("itemhow."+c.field)), nil)
		t.say(wording.HowCheck, nil)
	} else {
		t.whyItem(c)
	}
	t.ask()
}

// itemIn returns the item that stands to be answered in a chat: the one that is
// asked there already stays, and what has come up since waits behind it, so that an
// answer on its way is never one to another question. What was said to be so in part
// comes back after the rest.
func (t *turn) itemIn(chat string, open []asking) (asking, bool) {
	var here []asking
	for _, a := range open {
		if a.seat.Name != "" && t.seatChat(a.seat) == chat {
			here = append(here, a)
		}
	}
	for _, a := range here {
		part := t.s.Parts[a.check.path()]
		if t.itemID(a) == t.s.Wants[chat] && (part.Value == "" || part.At < t.s.Since[chat].At) {
			return a, true
		}
	}
	if len(here) == 0 {
		return asking{}, false
	}
	return here[0], true
}

// askedHere returns the item that stands to be answered in the chat that speaks.
func (t *turn) askedHere() (asking, bool) { return t.itemIn(t.in.Chat, t.openItems()) }

// answerItem takes an answer to an item, if it is for who speaks to give.
func (t *turn) answerItem(a asking, value string) {
	if !t.mayAnswer(a) {
		return
	}
	c := a.check
	value = t.knownTries(c, t.judgedSober(c, value))
	good := !failing(c, value)
	if good && t.putBack(placeList, t.itemChoice(a, value), Pressed, false) {
		return
	}
	if good && t.tooQuick(a) {
		return
	}
	if t.joinsWeak(c, value) {
		t.ask()
		return
	}
	t.keepItem(a, value)
	t.itemNoted(c, value)
	if good {
		t.onward2()
		return
	}
	for _, chat := range t.s.chats(AsLead, AsCrew, AsCoordinator) {
		if chat != t.in.Chat && chat != t.s.leadChat() {
			t.inChat(chat, func() {
				t.say(wording.ItemNotSo, wording.Args{"Name": a.seat.Name, "Criterion": t.fits(c.claim())})
			})
		}
	}
	t.inChat(t.s.leadChat(), func() {
		t.say(wording.ItemNotSo, wording.Args{"Name": a.seat.Name, "Criterion": t.fits(c.claim())})
		if t.s.State != Amend { // else it comes to it once what is changed has its answer
			t.failed(c)
		}
	})
	t.ask()
}

// itemChoice is the button of an item that says a value.
func (t *turn) itemChoice(a asking, value string) string {
	kind := "item."
	if a.second {
		kind = "eyes."
	}
	return kind + a.check.field + "." + cmp.Or(choiceOf(a.check.topic(), value), "yes") + "." + t.number2(a.check)
}

// mayAnswer reports whether an item is for who speaks to answer, and says whose it is
// where not.
func (t *turn) mayAnswer(a asking) bool {
	if m := t.me(); m == nil || m.afar() {
		t.aside1(wording.ItemAfar, nil)
		return false
	}
	if !t.speaksFor(a.seat) {
		t.notYours(a.seat)
		return false
	}
	return true
}

// keepItem keeps an answer to an item. What is so counts once both have said it, where
// it takes two; a no counts at once.
func (t *turn) keepItem(a asking, value string) {
	path, do := a.check.path(), DoCheck
	if a.second {
		do = DoSecond
	}
	t.act(Act{Do: do, Topic: path, Value: value, Names: []string{a.seat.Name}})
	t.undoubt(path)
	if !failing(a.check, value) && !t.seconded(a.check) {
		return
	}
	t.act(Act{Do: DoSet, Path: path, Value: value, How: Told})
	if t.s.Settled[path] == "" {
		t.settle(path, Told)
	}
}

// itemNoted says what was noted of which item: a yes that was meant for another is
// seen by whoever gave it.
func (t *turn) itemNoted(c siteCheck, value string) {
	for _, o := range c.topic().offers {
		if o.sets[0].value == value {
			t.say(wording.ItemNoted, wording.Args{"What": t.fits(c.short()), "Text": t.saying(wording.Key("choice." + o.choice))})
		}
	}
}

// onward2 has the list go on after an answer.
func (t *turn) onward2() {
	if t.s.State == Checks {
		t.inChat(t.s.leadChat(), t.walk)
	}
	t.ask()
}

// failing reports whether a value fails c.
func failing(c siteCheck, value string) bool {
	switch c.field {
	case "chocks":
		return value == "0" || value == "1"
	case "tries":
		return value != "0" && value != "1"
	}
	return value == c.bad
}

// whyItem says what an item changes, how bad its no is and where it is from.
func (t *turn) whyItem(c siteCheck) {
	t.say(wording.WhyCheck, wording.Args{
		"Text": t.fits(wording.Key("itemwhy." + c.field)), "Severity": wording.Key("severity." + word(string(t.severity(c)))), "Source": c.source(),
	})
}

// failed does what a no means: what blocks ends it there, what may be signed
// for is put to the lead, advice is kept.
func (t *turn) failed(c siteCheck) {
	switch t.severity(c) {
	case calc.Block:
		t.say(wording.ChecksFailed, wording.Args{"Criterion": t.fits(c.claim())})
		if !t.refers("") {
			t.endChecks(t.plan())
		}
	case calc.SignOff:
		if t.refers("") {
			return
		}
		t.say(wording.ChecksFailedSign, wording.Args{"Criterion": t.fits(c.claim())})
		if t.s.State != Signing { // else the walk comes to it after that signature
			t.needSign(c.id)
		}
	default:
		t.say(wording.ChecksFailedAdvice, wording.Args{"Criterion": t.fits(c.claim())})
		t.next()
	}
}

// unseen drops from what is told in passing that something of the list is as
// it should be: where several are in the job that counts only of those who are
// asked for it. That something is not so is taken from anybody.
func (t *turn) unseen(changes []change) []change {
	if t.s.alone() {
		return changes
	}
	m := t.me()
	return slices.DeleteFunc(slices.Clone(changes), func(c change) bool {
		if c.path == "crew" && m != nil && m.afar() {
			return true // who is there is counted there
		}
		check, ok := siteCheckOf(strings.TrimPrefix(c.path, "site."))
		return ok && strings.HasPrefix(c.path, "site.") && !failing(check, c.value)
	})
}
