package hear

import (
	"slices"
	"strings"
)

// Two ropes told by what they are made of, and by no name: "60 m 20 mm nylon and
// 40 m of 16 mm wire" are two, each with its own figures.

// ropesApart begins a clause of its own with the second of two such.
func (m *message) ropesApart() {
	for _, it := range m.items {
		c := it.clause
		if w := m.word(it.from); w != "and" && w != "plus" || it.q != nil {
			continue
		}
		at := slices.Index(c.items, it)
		if at > 0 && m.tellsRope(c.items[:at]) && m.tellsRope(c.items[at+1:]) {
			m.cut(it)
		}
	}
}

// tellsRope reports whether items tell how long or thick a rope is and of what, and
// name nothing else.
func (m *message) tellsRope(items []*item) bool {
	figure, of := false, false
	for _, it := range items {
		gear := it.means["gear"]
		switch {
		case it.has("vehicle"), it.has("winch"), it.has("anchor"), gear != "" && !strings.HasPrefix(gear, "rope"):
			return false
		case it.has("material"), it.has("wire"):
			of = true
		}
		figure = figure || it.q != nil && it.q.is(length)
	}
	return figure && of
}

// addsToRope returns the rope that a clause goes on about which tells what a rope is made
// of: the one named last before it in the same sentence, where nothing of the kind was
// told of that yet. "A winch rope, 25 m, 24 mm polyester" is one.
func (m *message) addsToRope(c *clause) *head {
	var of *mention
	for _, mt := range m.mentions {
		if mt.it.from < c.from && (of == nil || mt.it.from > of.it.from) {
			of = mt
		}
	}
	if of == nil || of.head.kind != "rope" || of.head.count > 1 || of.head.more["improvised"] != "" || of.it.clause.sentence != c.sentence || lists.has(m.word(c.from), "joins") || lists.has(m.word(c.from), "nth") {
		return nil
	}
	tells := func(it *item) (long, thick, made bool) {
		return m.ropeLong(it), it.q != nil && it.q.is(length) && it.q.small(), it.has("material")
	}
	var told [3]bool
	for _, it := range m.items {
		long, thick, made := tells(it)
		switch {
		case it.from < of.it.clause.from || it.from >= c.to:
		case it.clause == c && (long && told[0] || thick && told[1] || made && told[2]):
			return nil
		case it.clause != c:
			told[0], told[1], told[2] = told[0] || long, told[1] || thick, told[2] || made
		}
	}
	return of.head
}

// ofRope returns the rope of whose wire is spoken, which is that rope and none more:
// "rope 40 m wire 16 mm".
func (m *message) ofRope(wire *item) *head {
	var rope *mention
	for _, mt := range m.mentions {
		if mt.it.clause == wire.clause && mt.it.to <= wire.from && mt.head.class == "gear" && (rope == nil || mt.it.from > rope.it.from) {
			rope = mt
		}
	}
	if rope == nil || rope.head.kind != "rope" || rope.head.more["material"] != "" || !m.follows(rope.it.to, wire.from) {
		return nil
	}
	for _, o := range wire.clause.items {
		if o != wire && o.has("material") {
			return nil
		}
	}
	return rope.head
}

// ropesBeside makes a rope of each further length that is told behind one: "rope 30 m
// 16 mm, and 20 m of old stuff". Which of two lengths is meant nobody knows else.
func (m *message) ropesBeside() {
	for _, it := range slices.Clone(m.items) {
		if !m.ropeLong(it) || it.silent() || !m.lengthJoined(it) {
			continue
		}
		of := m.lastPiece(it.from)
		if of == nil || of.kind != "rope" || of.row != nil || of.more["improvised"] != "" || m.mentionAt(it.clause, it) {
			continue
		}
		if !m.longBefore(of, it) && of.count < 2 || of.count > 1 && m.apartBy(it) {
			continue
		}
		m.cut(it)
		h := m.piece("rope", "")
		h.count, h.fresh, h.adds = 0, true, of.adds
		m.heads = append(m.heads, h)
		m.mentions = append(m.mentions, &mention{h, it})
	}
}

// ropeLong reports whether an item is a length that a rope may have.
func (m *message) ropeLong(it *item) bool {
	return it.q != nil && it.q.is(length) && !it.q.small() && it.q.si >= shortestRope
}

// shortestRope is from where on a length that is told of ropes is taken for one's own.
//
// Source: judgment.
const shortestRope = 3.0

// lengthJoined reports whether the words before a length join it to another.
func (m *message) lengthJoined(it *item) bool {
	if lists.has(m.word(it.to), "measuredfrom") && !m.fetchedLike(it) {
		return false
	}
	if it.from == it.clause.from && it.from > 0 {
		return true
	}
	for k := it.from - 1; k >= it.clause.from; k-- {
		switch w := m.word(k); {
		case lists.has(w, "joins"), lists.has(w, "nth"), lists.has(w, "rest"), w == "another":
			return true
		case w == "one", w == "is", w == "about", w == "a", describes(w), harmless[w]:
		default:
			return false
		}
	}
	return false
}

// apartBy reports whether a length is told of the one or the other of several that were
// counted, which split tells apart.
func (m *message) apartBy(it *item) bool {
	at := it.from - 1
	for slices.Contains([]string{"is", "has", "about", "s"}, m.word(at)) {
		at--
	}
	return at >= 0 && slices.Contains([]string{"one", "1", "other", "others"}, m.word(at))
}

// longToo reports whether another length that a rope may have is told in its sentence.
func (m *message) longToo(it *item) bool {
	return slices.ContainsFunc(m.items, func(o *item) bool { return o != it && m.ropeLong(o) && o.clause.sentence == it.clause.sentence })
}

// fetchedLike reports whether a length is told of a rope by where that is from as one
// before it was: "80 m rope from the barn and 20 m from the farm".
func (m *message) fetchedLike(it *item) bool {
	return m.word(it.to) == "from" && slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.to < it.from && (o.has("gear") || m.ropeLong(o)) && m.word(o.to) == "from"
	})
}

// mentionAt reports whether a piece is named in a clause behind the joining word that a
// length stands after, so that the length is its own.
func (m *message) mentionAt(c *clause, it *item) bool {
	return slices.ContainsFunc(m.mentionsIn(c), func(mt *mention) bool {
		return mt.head.class == "gear" && mt.it.from > it.from && m.joined(it.to, mt.it.from)
	})
}

// longBefore reports whether a rope has a length before an item already.
func (m *message) longBefore(of *head, it *item) bool {
	first := -1
	for _, mt := range m.mentions {
		if mt.head == of && (first < 0 || mt.it.clause.from < first) {
			first = mt.it.clause.from
		}
	}
	return first >= 0 && slices.ContainsFunc(m.items, func(o *item) bool { return o.from >= first && o.to <= it.from && m.ropeLong(o) })
}

// tellApart takes out of the number of some ropes those that are told apart by what they
// are: "two ropes, 40 m polyester and 25 m of old stuff" are one and one.
func (m *message) tellApart() {
	for i, h := range m.heads {
		if h.class != "gear" || h.kind != "rope" || h.count < 2 {
			continue
		}
		apart := 0
		for _, o := range m.heads[i+1:] {
			if o.class == "gear" && o.kind == "rope" && o.path == "" && !m.namedByWord(o) {
				apart++
			}
		}
		h.count -= apart
		if h.none = h.count <= 0 && len(h.slots) == 0; h.count < 1 {
			h.count = 1
		}
	}
	m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h.none })
}

// namedByWord reports whether a piece is named by a word for its kind, and not only by
// what is told of it.
func (m *message) namedByWord(h *head) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.head == h && mt.it.has("gear") })
}
