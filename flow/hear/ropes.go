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
