package flow

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// While it is rigged, what one person is to look at again comes in one question: all
// of these. It was read one by one before. A yes is one to each, and each still needs
// a second person where it blocks; a no is to the one it names, and to name none
// answers nothing.

// mostAtOnce is how long the claims of one question may be together, in signs: a
// person is to have read the last before they look.
const mostAtOnce = 240

// mayJoin reports whether an item can be one of several asked at once: it was looked
// at before, and a plain yes is all that can be agreed to.
func (t *turn) mayJoin(a asking) bool {
	path := a.check.path()
	return t.s.Stage.Lies() && t.s.Rounds[path] > 0 && t.s.Parts[path].Value == "" && t.s.Held[heldNo+path] == "" && a.check.field != "tries" && a.check.field != "sober" &&
		a.check.claimed(a.first.Value) == a.check.claim()
}

// groupIn returns the items that stand to be answered in a chat at once; nil where
// it is one, or none. What is asked there already stays as it is, whatever has come
// up since.
func (t *turn) groupIn(chat string, open []asking) []asking {
	here := slices.DeleteFunc(slices.Clone(open), func(a asking) bool { return a.seat.Name == "" || t.seatChat(a.seat) != chat || !t.mayJoin(a) })
	if asked, rest, ok := strings.Cut(strings.TrimPrefix(t.s.Wants[chat], groupID), "-of-"); ok && strings.HasPrefix(t.s.Wants[chat], groupID) {
		if group := t.groupOf(asked, here); len(group) > 0 && rest == itemWho(group[0]) {
			return group
		}
	}
	first, ok := t.itemIn(chat, open)
	if !ok || t.itemID(first) == t.s.Wants[chat] || !t.mayJoin(first) {
		return nil
	}
	var group []asking
	size := 0
	for _, a := range here {
		if a.seat.Name != first.seat.Name || a.second != first.second {
			continue
		}
		if size += utf8.RuneCountInString(t.fits(a.check.claim())); size > mostAtOnce && len(group) > 1 {
			break
		}
		group = append(group, a)
	}
	if len(group) < 2 {
		return nil
	}
	return group
}

// toldFirst are those who said first that several items are so.
func toldFirst(group []asking) wording.Names {
	var out wording.Names
	for _, a := range group {
		if n := cmp.Or(a.first.Name, a.first.By.Name); !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// groupID is how what is wanted begins where it is several items.
const groupID = "item-all-"

// listOf names the items of a group with their askings, as a button carries them.
func (t *turn) listOf(group []asking) string {
	var out []string
	for _, a := range group {
		at := slices.IndexFunc(siteChecks, func(c siteCheck) bool { return c.field == a.check.field })
		out = append(out, itoa(at)+"_"+t.number2(a.check))
	}
	return strings.Join(out, "+")
}

// groupOf returns the askings that a list names, nil where one of them is asked no
// more as it was.
func (t *turn) groupOf(list string, open []asking) []asking {
	var out []asking
	for _, item := range strings.Split(list, "+") {
		at, number, _ := strings.Cut(item, "_")
		n, err := strconv.Atoi(at)
		if err != nil || n < 0 || n >= len(siteChecks) {
			return nil
		}
		i := slices.IndexFunc(open, func(a asking) bool { return a.check.field == siteChecks[n].field })
		if i < 0 || t.number2(open[i].check) != number || len(out) > 0 && (open[i].seat.Name != out[0].seat.Name || open[i].second != out[0].second) {
			return nil
		}
		out = append(out, open[i])
	}
	return out
}

// itemWho is whom an item is asked of, and as which of the two.
func itemWho(a asking) string {
	if a.second {
		return "eyes-" + a.seat.Name
	}
	return "first-" + a.seat.Name
}

func (t *turn) groupWant(group []asking) want {
	return want{id: groupID + t.listOf(group) + "-of-" + itemWho(group[0]), say: func() { t.askGroup(group) }}
}

// askGroup puts several items to whoever is asked for them.
func (t *turn) askGroup(group []asking) {
	t.sayTight()
	a := group[0]
	args := wording.Args{"Name": a.seat.Name}
	phone := t.s.phone(a.seat) != nil
	switch {
	case a.second && phone:
		args["Names"] = toldFirst(group)
		t.say(wording.ItemSecondAll, args)
	case a.second:
		args["Names"] = toldFirst(group)
		t.say(wording.ItemSecondAllThrough, args)
	case phone || a.seat.Post.Does == "":
		t.say(wording.ItemAskAll, args)
	default:
		args["Role"] = t.role(a.seat)
		t.say(wording.ItemAskAllThrough, args)
	}
	var lines wording.Lines
	for _, a := range group {
		lines = append(lines, t.claimHere(a.check, a.first.Value))
	}
	t.list(lines)
	list := t.listOf(group)
	kind, one := "items.yes.", "item."
	if a.second {
		kind, one = "alleyes.yes.", "eyes."
	}
	t.offers = append(t.offers, offer{choice: kind + list, label: t.saying(wording.ItemYesAll)})
	for _, a := range group {
		t.offers = append(t.offers, offer{choice: one + a.check.field + ".no." + t.number2(a.check), label: t.sayingWith(wording.ItemNotOne, wording.Args{"What": t.fits(a.check.short())})})
	}
	t.offers = append(t.offers, offer{choice: "howitems." + list, label: t.saying(wording.Key("choice.how"))})
}

// groupPress does what a button of several items says; one for an earlier asking of
// any of them does nothing.
func (t *turn) groupPress(parts []string) bool {
	how := len(parts) == 2 && parts[0] == "howitems"
	if !how && !(len(parts) == 3 && (parts[0] == "items" || parts[0] == "alleyes")) {
		return false
	}
	group := t.groupOf(parts[len(parts)-1], t.openItems())
	if how && len(group) > 0 {
		t.howGroup(group)
		return true
	}
	t.said = t.saying(wording.ItemYesAll)
	if !t.itemsOn() || len(group) == 0 || how || group[0].second != (parts[0] == "alleyes") {
		t.aside1(wording.ItemOver, nil)
		return true
	}
	t.answerAll(group)
	return true
}

func (t *turn) howGroup(group []asking) {
	for _, a := range group {
		t.say(t.fitted(wording.Key("itemhow."+a.check.field)), nil)
	}
	t.say(wording.HowCheck, nil)
	t.ask()
}

// answerAll takes a yes to each of several items.
func (t *turn) answerAll(group []asking) {
	if !t.mayAnswer(group[0]) {
		return
	}
	kind := "items.yes."
	if group[0].second {
		kind = "alleyes.yes."
	}
	if t.putBack(placeList, kind+t.listOf(group), Pressed, false) {
		return
	}
	chat := t.seatChat(group[0].seat)
	since, err := time.Parse(time.RFC3339, t.s.Since[chat].At)
	blocks := slices.ContainsFunc(group, func(a asking) bool { return a.check.two })
	if blocks && err == nil && t.s.Wants[chat] == t.groupWant(group).id && t.hastyBy(group[0].check.path(), since, quickest*time.Duration(len(group))) {
		return
	}
	var names wording.Names
	for _, a := range group {
		yes := a.check.topic().offers[0].sets[0].value
		if t.joinsWeak(a.check, yes) {
			continue
		}
		t.keepItem(a, yes)
		names = append(names, t.fits(a.check.short()))
	}
	if len(names) > 0 {
		t.say(wording.ItemNotedAll, wording.Args{"Names": names})
	}
	t.onward2()
}

// groupWords takes words as the answer to several items, and reports whether they are
// one: a yes to all, or a no or a not yet to the one that they name.
func (t *turn) groupWords(group []asking, text string, h hear.Heard) bool {
	for _, a := range group {
		for _, f := range h.Facts {
			if f.Field == a.check.path() && failing(a.check, f.Value) && !inPart(text, false) {
				t.answerItem(a, f.Value)
				return true
			}
		}
	}
	all, part, unseen := true, false, false
	for _, a := range group {
		said := readItem(a.check, text, h)
		all = all && said.value != "" && !failing(a.check, said.value)
		part, unseen = part || said.part, unseen || said.unseen
	}
	if all {
		if t.tellsBeside(h, checksOf(group)...) {
			return false // that comes first; they are asked again
		}
		if !t.groupElsewhere(group, text) && !t.turnedItem(group[0], text) {
			t.keepBeside(text, checksOf(group)...)
			t.answerAll(group)
		}
		return true
	}
	switch {
	case part, h.Act == hear.No:
		i := slices.IndexFunc(group, func(a asking) bool { return t.alludes(a.check, text) })
		switch {
		case i < 0:
			t.whichNot(group)
		case part:
			t.partOf(group[i].check, group[i].seat, text)
		default:
			t.answerItem(group[i], group[i].check.bad)
		}
	case unseen:
		t.remark(wording.ChecksUnseen, nil)
	case h.Act == hear.Help:
		t.howGroup(group)
	case h.Act == hear.Why:
		for _, a := range group {
			t.whyItem(a.check)
		}
		t.ask()
	default:
		return false
	}
	return true
}
