package hear

import (
	"slices"
	"strings"
)

// counted returns the number that stands before an item, with nothing but
// what describes it between.
func (m *message) counted(it *item) *item {
	unknown := 0
	for i := len(it.clause.items) - 1; i >= 0; i-- {
		prev := it.clause.items[i]
		switch {
		case prev.from >= it.from:
		case prev.q != nil && prev.q.bare():
			if m.word(prev.to) == "or" {
				return nil // "60 or 50 m": no number of pieces
			}
			if _, ok := prev.q.count(); ok && prev.q.number > 0 {
				return m.fewer(prev)
			}
			return nil
		case prev.q != nil, prev.has("material"), prev.has("cond"), describes(m.word(prev.from)):
		case prev.means == nil && unknown == 0 && m.tokens[prev.from].mark == unbroken:
			unknown++ // an adjective that is in no list: "4 bow shackles"
		default:
			return nil
		}
	}
	return nil
}

// fewer returns the lesser of two numbers between which somebody is not sure: of "2 or 3
// shackles" there are two. The other one is told with it.
func (m *message) fewer(n *item) *item {
	for _, o := range m.items {
		if m.word(n.from-1) == "or" && o.to == n.from-1 && o.q != nil && o.q.bare() && 0 < o.q.number && o.q.number < n.q.number {
			n.used = true
			return o
		}
	}
	return n
}

// countAfter returns the number that stands behind a name of several, by itself:
// "blocks 2, WLL 3 t each", "slings two off".
func (m *message) countAfter(it *item) *item {
	if !strings.HasSuffix(it.name, "s") {
		return nil
	}
	for _, next := range it.clause.items {
		if next.from != it.to || next.q == nil || !next.q.bare() {
			continue
		}
		if n, ok := next.q.count(); ok && n != "0" && (next.to == it.clause.to && m.hasWord("each") || m.word(next.to) == "off") {
			return next
		}
	}
	return nil
}

// timesAfter returns the number of pieces that stands behind all that is told of one, with
// an x before it: "block 8 t x2".
func (m *message) timesAfter(it *item) *item {
	last := it.clause.items[len(it.clause.items)-1]
	times := m.word(last.from)
	if number, ok := strings.CutPrefix(times, "x"); ok && len(number) == 1 && '1' < number[0] && number[0] <= '9' && last.to-last.from == 1 && last.q == nil {
		last.q = &quantity{text: number, number: float64(number[0] - '0')}
	} else if m.word(last.from-1) != "x" || last.q == nil || !last.q.bare() {
		return nil
	}
	if _, ok := last.q.count(); !ok || slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from > it.from && o.has("gear") }) {
		return nil
	}
	return last
}

// describes reports whether a word between a figure and its noun is an adjective.
func describes(word string) bool {
	return slices.Contains([]string{"big", "giant", "huge", "massive", "enormous", "hefty", "small", "little", "old", "new", "good", "spare", "x", "of", "rated", "electric",
		"dry", "long", "heavy", "steel", "our", "the", "live", "dead"}, word)
}

// another reports whether the words say that a thing was not named before.
func (m *message) another(it *item) bool {
	return slices.Contains([]string{"a", "an", "another", "second", "and", "other"}, m.word(it.from-1))
}

// otherOne reports whether the words about a piece say that it is another than the
// one that was spoken of: a new rope, the other one.
func (m *message) otherOne(it *item) bool {
	for i := it.from - 1; i >= max(it.clause.from, it.from-3); i-- {
		if m.tokens[i].mark != unbroken {
			return false // "new gear: rope 60 m"
		}
		if slices.Contains([]string{"new", "other", "different", "replacement", "fresh"}, m.word(i)) {
			return true
		}
	}
	return false
}

// everyOne reports whether a piece is named as all of its kind: "the ropes", "every
// shackle", "each of the oaks".
func (m *message) everyOne(it *item) bool {
	return strings.HasSuffix(it.name, "s") && !m.someOf(it) && !m.otherOne(it) || slices.Contains([]string{"each", "every"}, m.word(it.from-1))
}

// onlySo reports whether a count says that there are no more: only one.
func (m *message) onlySo(count *item) bool {
	return slices.Contains([]string{"only", "just"}, m.word(count.from-1))
}

// onlyThat reports whether a thing is said to be the only one of its kind: "only one oak",
// "is only the oak".
func (m *message) onlyThat(it *item) bool {
	at := it.from - 1
	if slices.Contains([]string{"one", "1", "the", "a", "an"}, m.word(at)) {
		at--
	}
	return m.word(at) == "only" || m.word(at) == "just"
}

// addsOne are the words that say of a piece that it is one more.
var addsOne = wordSet("another second 2nd third 3rd fourth 4th 5th extra spare additional also plus add adds added bring brings bringing brought fetch fetched " +
	"borrow borrowed lent lends")

// adds reports whether the words about a piece say that it is one more.
func (m *message) adds(it *item) bool {
	if m.sameOne(it) || m.fastToThat(it) {
		return false
	}
	for i := m.goesTo(it); i < it.from; i++ {
		if addsOne[m.word(i)] || m.word(i) == "more" && m.word(i+1) != "like" && m.word(i+1) != "than" {
			return true
		}
	}
	if m.gotOne(it) {
		return true
	}
	last, before := m.word(it.clause.to-1), m.word(it.clause.to-2)
	return last == "too" || last == "also" || last == "well" && before == "as"
}

// sameOne reports whether the words about a piece say that it is the one that was told
// already.
func (m *message) sameOne(it *item) bool {
	for i := it.from - 1; i >= it.clause.from; i-- {
		if m.word(i) == "same" {
			return true
		}
		if o := m.itemAt(i); o == nil || o.q != nil || !o.has("material") && !describes(m.word(i)) {
			return false
		}
	}
	return false
}

// goesTo returns where the words about a piece begin: those about a rope that goes to
// an anchor are none about the anchor, "a second rope to the oak" is no second oak.
func (m *message) goesTo(it *item) int {
	from := it.clause.from
	if !it.has("anchor") {
		return from
	}
	for _, o := range it.clause.items {
		if !o.has("gear") || o.to > it.from {
			continue
		}
		for i := o.to; i < it.from; i++ {
			if slices.Contains([]string{"to", "round", "around", "at", "on", "onto", "off"}, m.word(i)) {
				from = i
			}
		}
	}
	return from
}

// fastToThat reports whether an anchor is named only as the one that something is made
// fast to: "also tied to the beech" is no beech more.
func (m *message) fastToThat(it *item) bool {
	return it.has("anchor") && m.word(it.from-1) == "the" && lists.has(m.word(it.from-2), "fastto")
}

// gotOne reports whether somebody is said to have got a piece, in words that
// only describe it: "he's got a 5 t block" is not the one on the list.
func (m *message) gotOne(it *item) bool {
	for i := it.from - 1; i > it.clause.from; i-- {
		if w := m.word(i); w == "a" || w == "an" {
			return slices.Contains([]string{"got", "has", "hes", "shes", "have", "found", "theres"}, m.word(i-1))
		}
		if o := m.itemAt(i); o == nil || o.q == nil && !o.has("material") && !describes(m.word(i)) && !o.has("rkind") {
			return false
		}
	}
	return false
}

// hadThere reports whether the words about a piece of gear say that it is there to be
// used, and not where it lies: "we have two blocks", "found another shackle in the van".
func (m *message) hadThere(it *item, adds bool) bool {
	for i, c := it.clause.from, it.clause; i < c.to; i++ {
		if o := m.itemAt(i); o != nil && !o.has("gear") && (fastened[m.word(i)] || o.has("end") || o.has("anchor")) {
			return false // it is rigged there, or to be
		}
	}
	if adds {
		return true
	}
	if m.liesIn(it) != nil || m.word(it.to) == "with" && m.word(it.to+1) == "us" {
		return true
	}
	for c := it.clause; c != nil; c = m.clauseBefore(c) {
		for i := c.from; i < min(c.to, it.from); i++ {
			if lists.has(m.word(i), "having") && m.word(i+1) != "to" || m.word(i) == "there" && m.word(i+1) == "are" {
				return true
			}
		}
		first := c.items[0]
		if w := m.word(c.from); !lists.has(w, "joins") && !lists.has(w, "article") && !first.has("gear") && (first.q == nil || !first.q.bare()) {
			break // it is no further one of a list
		}
	}
	return false
}

// liesIn returns the word for what a piece is told to lie in, to be brought: "a strop in
// the van"; nil where there is none.
func (m *message) liesIn(it *item) *item {
	if m.word(it.to) != "in" || !lists.has(m.word(it.to+1), "article") && !whoseOwn[m.word(it.to+1)] || !lists.has(m.word(it.to+2), "stowage") {
		return nil
	}
	return m.itemAt(it.to + 2)
}

// itemAt returns the item that a token is part of.
func (m *message) itemAt(i int) *item {
	for _, it := range m.items {
		if it.from <= i && i < it.to {
			return it
		}
	}
	return nil
}
