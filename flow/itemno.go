package flow

import (
	"slices"
	"strings"
	"time"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A plain no is one to something. Where several were asked at once and it names none, or
// where the question was turned away while it was written, each that it could be to is asked
// by itself until it has an answer of its own, and no yes to all of them settles it.

// heldNo stands before the path of an item that a plain no could have been to, and keeps who
// said it. It outlasts a list that is begun anew.
const heldNo = "no-of-"

// doubtsItems keeps that a plain no could have been to each of some items.
func (t *turn) doubtsItems(items []siteCheck) {
	for _, c := range items {
		if t.s.Held[heldNo+c.path()] == "" {
			t.act(Act{Do: DoHold, Path: heldNo + c.path(), Value: t.whoName()})
		}
	}
}

// undoubt ends that, once an item has an answer of its own.
func (t *turn) undoubt(path string) {
	if t.s.Held[heldNo+path] != "" {
		t.act(Act{Do: DoHold, Path: heldNo + path})
	}
}

// whichNot takes a no to several items that names none of them.
func (t *turn) whichNot(group []asking) {
	t.doubtsItems(checksOf(group))
	t.say(wording.ItemWhichNot, nil)
	t.ask()
	t.toLead(func() {
		t.say(wording.ItemNoOfThese, wording.Args{"Name": t.whoName(), "Names": t.shortNames(checksOf(group))})
	})
}

func (t *turn) shortNames(items []siteCheck) wording.Names {
	var out wording.Names
	for _, c := range items {
		out = append(out, t.fits(c.short()))
	}
	return out
}

// noToNamed returns the item that a no names, where it is another than the one that is asked
// and stands in doubt in the same chat.
func (t *turn) noToNamed(asked asking, text string, open []asking) (asking, bool) {
	if t.alludes(asked.check, text) {
		return asking{}, false
	}
	var of []asking
	for _, a := range open {
		if t.s.Held[heldNo+a.check.path()] != "" && a.seat.Name != "" && t.seatChat(a.seat) == t.in.Chat && t.alludes(a.check, text) {
			of = append(of, a)
		}
	}
	if len(of) != 1 {
		return asking{}, false
	}
	return of[0], true
}

// lateNo takes a plain no that comes when the items it was asked about have just been turned
// away by others: they are not so, until they are asked anew and answered.
func (t *turn) lateNo(text string) bool {
	m := t.me()
	since := t.s.Since[t.in.Chat]
	if m == nil || m.afar() || t.s.alone() || !strings.HasPrefix(since.Was, "item-") || strings.HasPrefix(t.s.Wants[t.in.Chat], "item-") || since.By == t.in.Person.ID {
		return false
	}
	if h := hear.Listen(text, hear.TopicCheck); h.Act != hear.No || len(h.Facts) > 0 {
		return false
	}
	at, err := time.Parse(time.RFC3339, since.At)
	if t.s.Wants[t.in.Chat] != "" && (err != nil || t.in.At.Sub(at) >= turnedFor) {
		return false // something else was asked since
	}
	was := t.itemsOf(since.Was)
	if len(was) == 0 {
		return false
	}
	t.doubtsItems(was)
	reopened := false
	for _, c := range was {
		if t.s.Marks[c.path()].Value != "" || t.s.Settled[c.path()] != "" {
			t.unsign(c.id)
			t.reopenItem(c.path())
			reopened = true
		}
	}
	names := t.shortNames(was)
	t.say(wording.ItemNoKept, wording.Args{"Names": names})
	t.toLead(func() { t.say(wording.ItemNoOfThese, wording.Args{"Name": t.whoName(), "Names": names}) })
	switch {
	case t.itemsOn():
		t.onward2()
	case t.s.State == Pulling && reopened:
		t.inChat(t.s.leadChat(), t.replan)
		t.ask()
	default:
		t.ask()
	}
	return true
}

// itemsOf returns the items of the list that were wanted in a chat.
func (t *turn) itemsOf(id string) []siteCheck {
	list, ok := strings.CutPrefix(id, groupID)
	if !ok {
		c, one := t.wantedItem(id)
		if !one {
			return nil
		}
		return []siteCheck{c}
	}
	list, _, _ = strings.Cut(list, "-of-")
	return slices.DeleteFunc(t.listed(), func(c siteCheck) bool {
		at := slices.IndexFunc(siteChecks, func(o siteCheck) bool { return o.field == c.field })
		return !slices.ContainsFunc(strings.Split(list, "+"), func(item string) bool { return strings.HasPrefix(item, itoa(at)+"_") })
	})
}
