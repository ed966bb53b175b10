package hear

import "strings"

// A block is told with the rope that it is made for: "snatch block 8 t for 20 mm rope".
// That names no rope that lies there, and the thickness is not the block's own.

// madeFor reports whether a rope is named only as what a block takes, and takes the
// thickness that is told with it out of what is read.
func (m *message) madeFor(rope *item) bool {
	from, ok := m.behindBlock(rope)
	before := m.word(rope.from - 1)
	implied := m.asksBlock() && from == rope.clause.from && !lists.has(before, "article") && !lists.has(before, "joins")
	if !ok || !m.isRope(rope) || !implied && !m.taken(from, rope) {
		return false
	}
	rope.used = true
	for _, o := range rope.clause.items {
		ahead, behind := o.to >= rope.from-2 && o.to <= rope.from, o.from >= rope.to && o.from <= rope.to+3
		if o.q != nil && o.q.is(length) && o.from >= from && (ahead || behind) {
			o.used = true
		}
	}
	return true
}

// behindBlock returns the token from which a block is spoken of up to a rope: behind the
// last block in the rope's clause, or from its beginning, where the clause before names
// one ("3 t block, max rope 22 mm") or a block is what is asked about.
func (m *message) behindBlock(rope *item) (from int, ok bool) {
	from, ok = rope.clause.from, m.asksBlock()
	for _, c := range m.clauses {
		for _, o := range c.items {
			block := o.has("gear") && firstWord(o.means["gear"]) == "block"
			switch {
			case !block:
			case c == rope.clause && o.to <= rope.from:
				from, ok = o.to, true
			case c.to == rope.clause.from && c.sentence == rope.clause.sentence:
				ok = true
			}
		}
	}
	return from, ok
}

// asksBlock reports whether what is asked is of a block that was told.
func (m *message) asksBlock() bool {
	return m.asked != nil && m.asked.kind == "block" && m.asked.path != ""
}

// taken reports whether the words beside a rope say that something takes it, from a token on.
func (m *message) taken(from int, rope *item) bool {
	for i := rope.from - 1; i >= max(from, rope.from-4) && !lists.has(m.word(i), "joins"); i-- {
		if lists.has(m.word(i), "takesrope") {
			return true
		}
	}
	return lists.has(m.word(rope.to), "ropesize")
}

// isRope reports whether an item names a rope or what one is made of.
func (m *message) isRope(it *item) bool {
	return it.has("gear") && firstWord(it.means["gear"]) == "rope" || it.has("wire")
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}
