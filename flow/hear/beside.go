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
	m.onOneOf()
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
	m.ofAll()
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
	if of.left != nil && (b.rest || m.otherAt(b.from)) {
		m.headBeside(of.left, of, b)
		return
	}
	whole := m.wholeOf(of)
	listed := m.listsAll(whole, b)
	n, among := m.howMany(whole, b)
	h := m.toldOnlyBy(of, b)
	first := whole == m.asked && whole.path == "" && !m.toldBefore(b.from)
	if first || among && (whole.path != "" || m.otherAt(b.from)) && n == whole.count && n > 0 {
		h = whole // those that were named keep what is left
	}
	h.takesAfter(of, whole, n, among)
	switch {
	case first:
		whole.whole, whole.fresh = nil, false
	case among && h == whole:
		whole.parted, whole.whole, whole.fresh, whole.adds = true, nil, false, false
	case among:
		whole.count -= n
		whole.parted = true
		whole.none = whole.count == 0
	case listed:
		whole.none = true
	}
	m.headBeside(h, of, b)
}

// wholeOf returns the pieces that those of a head were counted with: of "two ropes, one 40 m
// polyester, the other 25 m" the two.
func (m *message) wholeOf(of *head) *head {
	if of.whole != nil {
		return of.whole
	}
	whole := of
	if !m.namedByWord(of) {
		for _, h := range m.heads {
			if h != of && h.class == "gear" && h.kind == of.kind && h.count > 1 && h.path == "" {
				whole = h
			}
		}
	}
	return whole
}

// howMany returns how many pieces are told beside or of a whole, and whether they are some
// of it.
func (m *message) howMany(whole *head, b furtherOnes) (n int, among bool) {
	if whole == m.asked && whole.count == 0 {
		whole.count = m.known.at(strings.TrimSuffix(whole.path, ".")).Count
	}
	left := whole.count
	switch {
	case b.rest && left > 0:
		return left, true
	case b.rest:
		return 1, false
	}
	joined := lists.has(m.word(b.from-1), "joins")
	apart := b.among || !m.figured(whole, m.itemAt(b.from)) || !joined && b.of
	return b.count, apart && left >= b.count && left > 1 || whole.parted && left >= max(b.count, 1)
}

// otherAt reports whether "the rest" or "the other" stands at a token.
func (m *message) otherAt(i int) bool {
	return lists.has(m.word(i), "rest") || m.word(i) == "other" || m.word(i+1) == "other"
}

// takesAfter makes of a head n pieces beside, or among, those of a whole.
func (h *head) takesAfter(of, whole *head, n int, among bool) {
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
}

// headBeside puts a head behind the one that it was told beside, and takes its words as read.
func (m *message) headBeside(h, of *head, b furtherOnes) {
	for _, it := range m.items {
		if it.from >= b.from && it.to <= b.to && it.q != nil {
			it.q = nil
		}
	}
	if !slices.Contains(m.heads, of) {
		m.heads = append(m.heads, of)
	}
	if !slices.Contains(m.heads, h) {
		m.heads = slices.Insert(m.heads, slices.Index(m.heads, of)+1, h)
	}
	m.mark(h, m.itemAt(b.to-1))
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

// onlyOne takes that a piece of the list, which is named with it, is there only once.
func (m *message) onlyOne() {
	for i := range m.tokens {
		it := m.itemAt(i)
		if m.word(i) != "one" || m.word(i-1) != "only" && m.word(i-1) != "just" || it.silent() || m.marked(it) {
			continue
		}
		named := m.mentionsIn(it.clause)
		if len(named) != 1 || named[0].head.class != "gear" || named[0].head.kind == "" || named[0].head.count > 0 || named[0].it.to > i || named[0].head.path != "" && m.known.at(strings.TrimSuffix(named[0].head.path, ".")).Count < 2 {
			continue
		}
		h := named[0].head
		it.q, it.used = nil, true
		h.count, h.parted, h.only = 1, h.path != "", true
	}
}

// onOneOf parts several pieces that are named where a figure is told of one of them only:
// of "2 blocks, 5 t on one" one bears 5 t, and what the other bears is not told.
func (m *message) onOneOf() {
	for i := range m.tokens {
		it := m.itemAt(i)
		if m.word(i) != "one" || !lists.has(m.word(i-1), "onlyone") || it.silent() || m.marked(it) || m.word(i+1) == "of" && !lists.has(m.word(i+2), "those") {
			continue
		}
		of := m.lastPiece(i)
		told := slices.ContainsFunc(it.clause.items, func(o *item) bool {
			return o.to < i && o.q != nil && !o.q.bare()
		})
		if of == nil || of.class != "gear" || of.path != "" || of.count < 2 || of.left != nil || !told {
			continue
		}
		it.q, it.used = nil, true
		if next := m.itemAt(i + 1); next != nil && next.clause == it.clause {
			m.cut(next) // what is said of it stays apart from what is said of the others
		}
		left := m.piece(of.kind, "")
		left.count, left.fresh, left.adds = of.count-1, true, of.adds
		for k, v := range of.more {
			left.more[k] = v
		}
		of.count, of.parted, of.left = 1, true, left
		m.heads = slices.Insert(m.heads, slices.Index(m.heads, of)+1, left)
		for k := i + 1; k < len(m.tokens); k++ { // "3 t on the others"
			if rest := m.itemAt(k); (m.word(k) == "other" || m.word(k) == "others" || m.word(k) == "rest") && m.word(k-1) == "the" && m.word(k-2) == "on" && rest.clause.sentence == it.clause.sentence {
				m.mark(left, rest)
				break
			}
		}
	}
	slices.SortStableFunc(m.mentions, func(a, b *mention) int { return a.it.from - b.it.from })
}

// onOne parts the pieces that are asked about where something is told of one of them
// only: "4.75 t on one".
func (m *message) onOne() {
	m.onlyOne()
	if m.asked == nil || m.asked.class != "gear" || m.asked.path == "" || m.asked.parted {
		return
	}
	left := m.known.at(strings.TrimSuffix(m.asked.path, ".")).Count
	for i := range m.tokens {
		if left < 2 || m.word(i) != "one" || !lists.has(m.word(i-1), "onlyone") && !lists.has(m.word(i+1), "onlyone") || m.word(i-1) == "every" || m.marked(m.itemAt(i)) {
			continue
		}
		if slices.ContainsFunc(m.mentionsIn(m.itemAt(i).clause), func(mt *mention) bool { return mt.head.class == "gear" && mt.head != m.asked }) {
			continue // "rope 5 is only one"
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
