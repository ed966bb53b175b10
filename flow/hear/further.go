package hear

import "slices"

// The words by which a message goes on to another of the pieces that it named.

// furtherOnes is where a message goes on to another piece: the words "an old blue one".
type furtherOnes struct {
	from, to int // tokens
	count    int
	among    bool // they are told as some of those that were counted
	of       bool // "one" or "two" or "the other", and nothing that makes it one more
	rest     bool // all that were counted and not told apart yet
	named    bool // it is named by a word of its own: "and one old shackle"
	state    bool // they are told by their state: "the dead one"
	bare     bool // all that is told of it is that it is not as they are: "and one not"
}

// besideAt reads such words at a token.
func (m *message) besideAt(i int) (b furtherOnes, ok bool) {
	c := m.itemAt(i).clause
	b = furtherOnes{from: i}
	before := m.itemAt(i - 1)
	joined := i == c.from || before != nil && (before.has("anchor") && m.treesBefore(i) || before.has("gear") && m.countedBefore(i)) || lists.has(m.word(i-1), "joins") || before != nil && before.q != nil && !before.q.bare() && before.clause == c
	at := i
	w, article := m.word(at), false
	switch {
	case (w == "the" || w == "that") && (lists.has(m.word(at+1), "nth")):
		b.count, b.of, at = 1, true, at+2
	case w == "the" && lists.has(m.word(at+1), "sized") && m.word(at+2) == "one" && at+2 < c.to:
		b.to, b.count, b.of, b.state = at+3, 1, true, m.lastPiece(i) == nil
		return b, true
	case w == "the" && m.stateBefore(at+1, c) > 0:
		b.to, b.count, b.of, b.state = m.stateBefore(at+1, c), 1, true, true
		return b, true
	case lists.has(w, "nth"):
		b.count, b.of, at = 1, w != "another" && w != "other", at+1
	case lists.has(w, "rest"), w == "the" && lists.has(m.word(at+1), "rest"):
		b.rest, at = true, at+1
		if w == "the" {
			at++
		}
	default:
		n, words := m.smallNumber(at)
		if n == 0 {
			return b, false
		}
		article = words == 1 && (w == "a" || w == "an")
		b.count, at = n, at+words
		if m.word(at) == "x" && at < c.to {
			at++ // "2 x 4.75 t"
		}
		if b.of = !article && w != "another" && w != "some"; m.word(at) == "more" || m.word(at) == "other" || m.word(at) == "others" {
			at, b.of = at+1, false
		}
	}
	// What it is like, and then "one": "an old rusty one".
	for k := at; k < c.to && k <= at+mostAdjectives; k++ {
		o := m.itemAt(k)
		if o == nil || o.q != nil && m.word(k) != "one" || m.tokens[k-1].mark != unbroken {
			break
		}
		if m.word(k) == "one" || m.word(k) == "ones" {
			b.to = k + 1
			b.among = m.amongAt(b.to) && !article
			return b, joined
		}
		if o.has("gear") || o.has("wire") {
			b.to, b.named = o.to, true
			return b, joined && k > at && !m.describedOnly(at, k)
		}
		if o.has("anchor") || o.has("vehicle") || o.has("end") || lists.has(m.word(k), "joins") {
			break
		}
	}
	if article || at >= c.to || m.tokens[at-1].mark != unbroken || m.namesOwn(at, c) || m.within(m.itemAt(i), "unequal") != nil || lists.has(m.word(m.itemAt(at).to-1), "flawcounted") {
		return b, false
	}
	b.to = at
	if m.noneOf(at) {
		b.bare, b.among = true, m.word(i-1) != "plus"
		return b, joined
	}
	if b.count > 1 && m.itemAt(at).q != nil && !m.itemAt(at).q.bare() && m.itemAt(at).q.is(length) {
		return b, false
	}
	b.among = m.amongAt(at)
	return b, joined && lists.has(m.word(at), "tells") || joined && m.itemAt(at).has("unmarked") || joined && b.count > 0 && (!m.single(m.itemAt(i)) || m.treesBefore(i)) && m.tellsAt(at)
}

// namesOwn reports whether what stands behind a number goes on to the name of a thing:
// "two 3 t blocks", "4 of us".
func (m *message) namesOwn(at int, c *clause) bool {
	if m.word(at) == "of" && m.word(at+1) == "us" {
		return true
	}
	for k := at; k < c.to && !lists.has(m.word(k), "joins"); k++ {
		o := m.itemAt(k)
		switch {
		case k == at && lists.has(m.word(k), "among"): // "3 are 4.75 t"
		case o.has("gear"), o.has("wire"), o.has("anchor"), o.has("vehicle"), o.has("winch"), o.has("end"):
			return true
		case o.q == nil && !o.has("material") && !describes(m.word(k)) && !harmless[m.word(k)]:
			return false
		}
	}
	return false
}

// stateBefore returns where the words "dead one" end that tell a thing by its state, 0
// where none begin at a token.
func (m *message) stateBefore(at int, c *clause) int {
	o := m.itemAt(at)
	if lists.has(m.word(at), "colour") && (m.word(at+1) == "one" || m.word(at+1) == "ones") && at+1 < c.to && m.asked != nil && m.asked.path == "" && m.lastMention(at) == nil &&
		slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.it.clause != c && mt.head.class == "gear" && mt.it.from > at }) {
		return at + 2 // it was told some other time, and the one that is asked for comes behind it
	}
	if at >= c.to || o == nil || !o.has("tree") && !o.has("cond") && !o.has("unmarked") || o.to >= c.to || m.word(o.to) != "one" && m.word(o.to) != "ones" {
		return 0
	}
	return o.to + 1
}

// mostAdjectives is how many words may stand before "one".
const mostAdjectives = 4

// describedOnly reports whether the words from a to b are such as the name of a piece
// is always told with, which need no clause: "and 2 bow shackles".
func (m *message) describedOnly(a, b int) bool {
	for k := a; k < b; k++ {
		if o := m.itemAt(k); o.means == nil && o.q == nil && !describes(m.word(k)) && !harmless[m.word(k)] {
			return false
		}
	}
	return true
}

// smallNumber reads a number of pieces, or the article that is one, and how many words
// it takes.
func (m *message) smallNumber(at int) (n, words int) {
	o := m.itemAt(at)
	switch w := m.word(at); {
	case o != nil && o.q != nil && !o.q.bare():
		return 0, 0
	case w == "a" && m.word(at+1) == "couple":
		return 2, 2
	case w == "a", w == "an", w == "another", w == "one", w == "1", w == "some":
		return 1, 1
	}
	if o == nil || o.from != at || o.q == nil || !o.q.bare() {
		return 0, 0
	}
	if count, ok := o.q.count(); !ok || count == "0" || o.q.number > 20 {
		return 0, 0
	}
	return int(o.q.number), o.to - o.from
}

// treesBefore reports whether several trees or stumps were named last before a token, none
// of which is one of the list: "two oaks, one 40 cm".
func (m *message) treesBefore(i int) bool {
	of := m.lastPiece(i)
	return of != nil && of.class == "anchor" && (of.count > 1 || of.whole != nil)
}

// countedBefore reports whether several pieces of gear were named last before a token by
// their number: "3 shackles: two 4.75 t".
func (m *message) countedBefore(i int) bool {
	of := m.lastPiece(i)
	return of != nil && of.class == "gear" && of.count > 1
}

// amongAt reports whether words tell of some as of those that were counted: "one is
// bent", "one of them".
func (m *message) amongAt(at int) bool {
	return lists.has(m.word(at), "among") || m.word(at) == "of" && lists.has(m.word(at+1), "those")
}

// noneOf reports whether a clause ends in a bare no: "and one not".
func (m *message) noneOf(at int) bool {
	return lists.has(m.word(at), "isnot") && m.tokens[at].mark != unbroken || lists.has(m.word(at), "isnot") && at+1 == len(m.tokens)
}

// tellsAt reports whether a stamp, a state or a figure begins at a token.
func (m *message) tellsAt(at int) bool {
	o := m.itemAt(at)
	if lists.has(m.word(at), "among") && at+1 < len(m.tokens) {
		o = m.itemAt(at + 1)
	}
	return o != nil && (o.has("rated") || o.has("rkind") || o.has("cond") || o.has("tree") || o.has("unmarked") || o.q != nil && !o.q.bare())
}
