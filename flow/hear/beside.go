package hear

import (
	"slices"
	"strings"
)

// A piece that a message tells beside those of its kind is one by itself, whatever
// it is called: "3 shackles stamped 4.75 t and one with no stamp", "a rope of 60 m
// and an old blue one". What is said of it is never said of the others, nor is a
// stamp of theirs its own.

// besides begins a clause of its own, and where none of its own is named a piece, at
// each place where a message goes on to another of the pieces that it named.
func (m *message) besides() {
	for i := 0; i < len(m.tokens); i++ {
		it := m.itemAt(i)
		if it == nil || it.from != i || it.silent() {
			continue
		}
		b, ok := m.besideAt(i)
		if !ok {
			continue
		}
		of := m.lastPiece(i)
		switch {
		case b.state && m.saysWhich(b.to):
			continue // "the dead one is the elm"
		case b.state && (of == nil || of == m.asked && m.lastMention(i) == nil || m.word(i-1) == "not"), of != nil && of.class == "anchor" && m.onlyState(of, b):
			m.unnamed(b) // which that is was not told
			continue
		case of == nil || of.only || of.class == "anchor" && b.named, !b.state && m.sentenceOf(of) != it.clause.sentence:
			continue
		}
		start := m.itemAt(b.from)
		m.cut(start)
		start.clause.one = false
		if !b.named {
			m.oneBeside(of, b)
		}
		i = b.to - 1
	}
	m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h.none })
	m.onOne()
}

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
	joined := i == c.from || lists.has(m.word(i-1), "joins") || before != nil && before.q != nil && !before.q.bare() && before.clause == c
	at := i
	w, article := m.word(at), false
	switch {
	case (w == "the" || w == "that") && (lists.has(m.word(at+1), "nth")):
		b.count, b.of, at = 1, true, at+2
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
	if article || at >= c.to || m.tokens[at-1].mark != unbroken || m.namesOwn(at, c) || m.within(m.itemAt(i), "unequal") != nil {
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
	return b, joined && lists.has(m.word(at), "tells") || joined && m.itemAt(at).has("unmarked") || joined && b.count > 0 && !m.single(m.itemAt(i)) && m.tellsAt(at)
}

// namesOwn reports whether what stands behind a number goes on to the name of a thing:
// "two 3 t blocks", "4 of us".
func (m *message) namesOwn(at int, c *clause) bool {
	if m.word(at) == "of" && m.word(at+1) == "us" {
		return true
	}
	for k := at; k < c.to; k++ {
		o := m.itemAt(k)
		switch {
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

// lastMention returns what was named last before a token; nil where nothing was.
func (m *message) lastMention(at int) *head {
	var last *mention
	for _, mt := range m.mentions {
		if mt.it.from < at && (last == nil || mt.it.from >= last.it.from) {
			last = mt
		}
	}
	if last == nil {
		return nil
	}
	return last.head
}

// saysWhich reports whether words go on to name which one was meant: "the dead one is the
// elm".
func (m *message) saysWhich(at int) bool {
	if m.word(at) != "is" && m.word(at) != "was" && m.word(at) != "s" {
		return false
	}
	for k := at + 1; k <= at+mostAdjectives; k++ {
		if o := m.itemAt(k); o != nil && (o.has("anchor") || o.has("gear")) {
			return true
		}
	}
	return false
}

// onlyState reports whether no more is told of a further tree than how it is, where the
// list has one already that it would be taken for.
func (m *message) onlyState(of *head, b furtherOnes) bool {
	listed := slices.ContainsFunc(m.known.Pieces, func(p Piece) bool { return strings.HasPrefix(p.At, "anchors") && p.Kind == of.kind })
	return listed && of.count < 2 && !slices.ContainsFunc(m.itemAt(b.from).clause.items, func(o *item) bool { return o.from >= b.from && o.q != nil && !o.q.bare() })
}

// unnamed keeps what is told of a thing that nobody named from every other thing.
func (m *message) unnamed(b furtherOnes) {
	start := m.itemAt(b.from)
	m.cut(start)
	m.mentions = append(m.mentions, &mention{newHead("anchor", ""), m.itemAt(b.to - 1)}, &mention{newHead("gear", ""), m.itemAt(b.to - 1)})
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

// lastPiece returns the new piece that was named last before a token, in the same
// passage, where nothing else was named since.
func (m *message) lastPiece(i int) *head {
	var last *mention
	for _, mt := range m.mentions {
		if mt.it.from < i && (last == nil || mt.it.from >= last.it.from) {
			last = mt
		}
	}
	if last == nil && m.asked != nil && m.asked.class == "gear" && m.asked.kind != "" && (m.asked.path == "" || m.topic.field() == "rating" || m.topic.field() == "rating_kind") {
		return m.asked
	}
	if last == nil || last.head.class != "gear" && !(last.head.class == "anchor" && slices.Contains([]string{"tree", "stump"}, last.head.kind)) || last.head.kind == "" || last.head.path != "" || last.it.clause.passage != m.itemAt(i).clause.passage {
		return nil
	}
	return last.head
}

// sentenceOf returns the sentence in which a piece was named last.
func (m *message) sentenceOf(h *head) int {
	at := 0
	for _, mt := range m.mentions {
		if mt.head == h {
			at = mt.it.clause.sentence
		}
	}
	return at
}

// oneBeside makes a head of pieces that are told beside, or as some of, those of a head.
func (m *message) oneBeside(of *head, b furtherOnes) {
	whole := of
	if of.whole != nil {
		whole = of.whole
	}
	if of.whole == nil && !m.namedByWord(of) {
		for _, h := range m.heads {
			if h != of && h.class == "gear" && h.kind == of.kind && h.count > 1 && h.path == "" {
				whole = h // "two ropes, one 40 m polyester, the other 25 m"
			}
		}
	}
	joined := lists.has(m.word(b.from-1), "joins")
	listed := m.listsAll(whole, b)
	if whole == m.asked && whole.count == 0 {
		whole.count = m.known.at(strings.TrimSuffix(whole.path, ".")).Count
	}
	left := whole.count
	among := (b.among || !m.figured(whole, m.itemAt(b.from)) || !joined && b.of) && left >= b.count && left > 1 || whole.parted && left >= max(b.count, 1)
	n := b.count
	if b.rest {
		if among = left > 0 && whole.count > 0; among {
			n = left
		} else {
			n = 1
		}
	}
	h := m.toldOnlyBy(of, b)
	first := whole == m.asked && whole.path == "" && !m.toldBefore(b.from)
	other := lists.has(m.word(b.from), "rest") || m.word(b.from) == "other" || m.word(b.from+1) == "other"
	if first || among && (whole.path != "" || other) && n == left && left > 0 {
		h = whole // those that were named keep what is left
	}
	if h.count, h.fresh, h.adds, h.whole = n, true, of.adds, whole; h.class == "anchor" && n == 1 {
		h.count = 0
	}
	for k, v := range of.more {
		if k != "name" || of.class == "anchor" && among {
			h.more[k] = v
		}
	}
	if h != whole && whole.path != "" {
		h.adds = true
	}
	if first {
		whole.whole, whole.fresh = nil, false
	} else if among && h == whole {
		whole.parted, whole.whole, whole.fresh, whole.adds = true, nil, false, false
	} else if among {
		whole.count -= n
		whole.parted = true
		whole.none = whole.count == 0
	} else if listed {
		whole.none = true
	}
	for _, it := range m.items {
		if it.from >= b.from && it.to <= b.to && it.q != nil {
			it.q = nil
		}
	}
	last := m.itemAt(b.to - 1)
	if !slices.Contains(m.heads, of) {
		m.heads = append(m.heads, of)
	}
	if !slices.Contains(m.heads, h) {
		m.heads = slices.Insert(m.heads, slices.Index(m.heads, of)+1, h)
	}
	m.mark(h, last)
	if first := m.itemAt(b.from); first.means == nil || first.has("filler") || first.has("number") {
		first.used = true
	}
	if b.bare {
		m.put(h, "rating_kind", "unmarked", nil, m.itemAt(b.to))
	}
}

// listsAll reports whether pieces are named only as the heading of a list of them:
// "shackles: three 4.75 t, one no stamp".
func (m *message) listsAll(whole *head, b furtherOnes) bool {
	if whole.parted || whole.count > 0 || len(whole.slots) > 0 || m.asked == whole || m.itemAt(b.from).from != m.itemAt(b.from).clause.from {
		return false
	}
	for _, mt := range m.mentions {
		if mt.head == whole {
			return strings.HasSuffix(mt.it.name, "s") && mt.it.to == b.from
		}
	}
	return false
}

// toldBefore reports whether anything of a piece is told before a token.
func (m *message) toldBefore(i int) bool {
	return slices.ContainsFunc(m.items, func(o *item) bool {
		return o.from < i && (o.q != nil || o.has("unmarked") || o.has("rkind") || o.has("cond") || o.has("material"))
	})
}

// onOne parts the pieces that are asked about where something is told of one of them
// only: "4.75 t on one".
func (m *message) onOne() {
	if m.asked == nil || m.asked.class != "gear" || m.asked.path == "" || m.asked.parted {
		return
	}
	left := m.known.at(strings.TrimSuffix(m.asked.path, ".")).Count
	for i := range m.tokens {
		if left < 2 || m.word(i) != "one" || !lists.has(m.word(i-1), "onlyone") && !lists.has(m.word(i+1), "onlyone") || m.word(i-1) == "every" || m.marked(m.itemAt(i)) {
			continue
		}
		m.itemAt(i).q, m.itemAt(i).used = nil, true
		m.asked.count, m.asked.parted = 1, true
		h := m.piece(m.asked.kind, "")
		h.count, h.fresh, h.adds = left-1, true, true
		m.heads = append(m.heads, m.asked, h)
		return
	}
}

// toldOnlyBy returns the piece that was made of what it is of, in the words behind the
// place where another begins: "the other 25 m nylon".
func (m *message) toldOnlyBy(of *head, b furtherOnes) *head {
	c := m.itemAt(b.from).clause
	for _, mt := range m.mentions {
		if mt.it.clause == c && mt.it.from >= b.to && mt.head.class == "gear" && mt.head.kind == of.kind && !mt.it.has("gear") {
			return mt.head
		}
	}
	h := m.piece(of.kind, "")
	h.class = of.class
	return h
}
