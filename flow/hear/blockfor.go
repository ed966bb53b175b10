package hear

import (
	"slices"
	"strings"
)

// A block is told with the rope that it is made for: "snatch block 8 t for 20 mm rope".
// That names no rope that lies there, and the thickness is not the block's own.

// madeFor reports whether a rope is named only as what a block takes, and takes the
// thickness that is told with it out of what is read.
func (m *message) madeFor(rope *item) bool {
	if !m.isRope(rope) {
		return false
	}
	var block *item
	for _, o := range rope.clause.items {
		if o.to <= rope.from && o.has("gear") && firstWord(o.means["gear"]) == "block" {
			block = o
		}
	}
	from := rope.clause.from
	switch {
	case block != nil:
		from = block.to
	case m.asked == nil || m.asked.kind != "block" || m.asked.path == "":
		if !m.behindBlock(rope) {
			return false
		}
	}
	says := m.asked != nil && m.asked.kind == "block" && m.asked.path != "" && block == nil
	says = says || lists.has(m.word(rope.to), "ropesize")
	for i := rope.from - 1; i >= max(from, rope.from-4) && !lists.has(m.word(i), "joins"); i-- {
		says = says || lists.has(m.word(i), "takesrope")
	}
	if !says {
		return false
	}
	rope.used = true
	for _, o := range rope.clause.items {
		if o.q != nil && o.q.is(length) && o.from >= from && (o.to >= rope.from-2 && o.to <= rope.from || o.from >= rope.to && o.from <= rope.to+3) {
			o.used = true
		}
	}
	return true
}

// isRope reports whether an item names a rope or what one is made of.
func (m *message) isRope(it *item) bool {
	return it.has("gear") && firstWord(it.means["gear"]) == "rope" || it.has("wire")
}

// behindBlock reports whether the clause before a rope's ends with a block, so that
// "3 t block, max rope 22 mm" goes on of it.
func (m *message) behindBlock(rope *item) bool {
	at := slices.Index(m.clauses, rope.clause)
	if at < 1 || m.clauses[at-1].sentence != rope.clause.sentence {
		return false
	}
	return slices.ContainsFunc(m.clauses[at-1].items, func(o *item) bool { return o.has("gear") && firstWord(o.means["gear"]) == "block" })
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}
