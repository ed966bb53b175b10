package hear

import (
	"slices"
	"strings"
)

// Words that are a hazard where they can be one, and are none where their own clause says
// of what they speak: a pin that holds a drawbar, the wires that a rope is laid of, a sling
// that lies in a cab. Where a person is spoken of as well, they are what they could be.

// pinnedThing reports whether it is a drawbar, or what else takes a pin, that is pinned:
// "swinging one pinned straight".
func (m *message) pinnedThing(it *item) bool {
	if m.word(it.from) != "pinned" || m.someone(it) || m.anyIn(it.clause, "somebody") || m.anyIn(it.clause, "crushes") {
		return false
	}
	if lists.has(m.word(it.to), "pinnedhow") {
		return true
	}
	for i := it.clause.from; i < it.from; i++ {
		if lists.has(m.word(i), "takespin") {
			return true
		}
	}
	return false
}

// strands reports whether broken wires are those that a rope is laid of: a rope is named
// before them, or a piece is what was asked, and nothing that hangs or stands: "the steel
// wire has broke wires".
func (m *message) strands(it *item) bool {
	if !it.has("cond") || m.anyIn(it.clause, "overhead") {
		return false
	}
	return m.topic.things() || slices.ContainsFunc(m.items, func(o *item) bool {
		return o.to <= it.from && o.clause.sentence == it.clause.sentence && (o.has("gear") || o.has("material"))
	})
}

// havesThere reports whether it is a piece of gear that somebody tells to have in a place,
// which is where the piece is and not they: "we got a flat sling in the cab". Nobody else
// is named between.
func (m *message) havesThere(it *item) bool {
	c := it.clause
	if m.topic == TopicPeople || m.topic == TopicNone {
		return false
	}
	had := -1
	for i := c.from; i < it.from; i++ {
		if lists.has(m.word(i), "haswith") {
			had = i
		}
	}
	if had < 0 {
		return false
	}
	for i := had; i < it.from; i++ {
		if lists.has(m.word(i), "somebody") || talk.is(m.word(i), "someone") {
			return false
		}
	}
	return slices.ContainsFunc(c.items, func(o *item) bool { return o.has("gear") && o.from > had && o.to <= it.from })
}

// mereEdge reports whether an edge is only supposed, or is the ditch's that the vehicle
// lies in: whether it could go over anything is then asked.
func (m *message) mereEdge(it *item) bool {
	c := it.clause
	if m.anyIn(c, "goesover") {
		return false
	}
	hedged := slices.ContainsFunc(c.items, func(o *item) bool { return o.has("hedge") }) || lists.has(m.word(c.to-1), "supposing")
	ditch := slices.ContainsFunc(m.tokens[c.from:it.from], func(t token) bool { return strings.HasPrefix(t.text, "ditch") })
	return hedged && ditch
}
