package hear

import (
	"slices"
	"strings"
)

// wheels reads which wheels turn. A bare "free" counts only by itself.
func (m *message) wheels(it *item) {
	if m.said(it) == "free" && len(it.clause.items) > 1 && m.topic != TopicWheels {
		return
	}
	for _, c := range m.clauses {
		// "All turn but one" is not all of them.
		if c.sentence != it.clause.sentence || it.means["locked"] != "0" {
			continue
		}
		for i := c.from; i < c.to; i++ {
			if w := m.word(i); slices.Contains([]string{"except", "apart", "bar", "barring", "cept"}, w) || w == "but" && slices.Contains([]string{"one", "two", "1", "2", "the"}, m.word(i+1)) {
				return
			}
		}
	}
	if h, _ := m.owner(it, vehicles); h != nil && h != m.load || m.topic.anchoring() && !m.ownWheels(it) || m.saysOf(it, "anchor") {
		return // a parked vehicle is meant to hold
	}
	if m.parked(it) {
		it.used = true
		return
	}
	if it.means["locked"] == "some" {
		it.used = m.load.slots["locked"] != nil
		return // and the others?
	}
	if m.put(m.load, "locked", it.means["locked"], nil, it) {
		for _, other := range m.items {
			other.used = other.used || other.means["locked"] == "some" || other.means["locked"] == "0" && it.means["locked"] != "0" && other.clause.sentence == it.clause.sentence
		}
	}
	if f := m.load.slots["locked"]; f != nil && f.Value != "0" && strings.Contains(strings.ToLower(f.Said), "brake") {
		f.Guess = true // which wheels it holds differs between vehicles
	}
}

// ownWheels reports whether wheels that do not all turn, told where anchors are asked
// for, can only be the stuck vehicle's: no vehicle is an anchor, and none is named.
func (m *message) ownWheels(it *item) bool {
	return m.topic == TopicAnchor && it.means["locked"] != "0" && !strings.Contains(strings.ToLower(m.said(it)), "brake") &&
		!slices.ContainsFunc(m.known.Pieces, func(p Piece) bool { return p.Kind == "vehicle" }) &&
		!slices.ContainsFunc(m.heads, func(h *head) bool { return h.class == "vehicle" && h != m.load || h.kind == "vehicle" })
}

// parked reports whether a brake is said to be on where what is asked is of the puller, and
// the stuck vehicle is not named: it stands so to hold. A brake that is stuck is no such.
func (m *message) parked(it *item) bool {
	said := strings.ToLower(m.said(it))
	return m.topic.stage() == "puller" && strings.Contains(said, "brake") && strings.HasSuffix(said, " on") &&
		!slices.ContainsFunc([]string{"stuck", "locked", "seized", "frozen"}, func(w string) bool { return strings.Contains(said, w) }) &&
		!slices.ContainsFunc(m.mentions, func(mt *mention) bool { return mt.head == m.load && mt.it.clause.sentence == it.clause.sentence })
}
