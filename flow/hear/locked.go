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
	if m.parked(it) || m.leftOn(it) {
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

// leftOn reports whether a gear or a brake is told to be on for now beside wheels that turn
// without, which was asked: what holds it until then locks nothing.
func (m *message) leftOn(it *item) bool {
	said := strings.ToLower(m.said(it))
	if m.topic != TopicWheels || it.means["locked"] == "0" || !slices.ContainsFunc([]string{"brake", "gear", "park"}, func(w string) bool { return strings.Contains(said, w) }) || m.anyIn(it.clause, "jammed") || slices.ContainsFunc(m.tokens, func(t token) bool { return lists.has(t.text, "turnsround") }) {
		return false
	}
	return slices.ContainsFunc(m.items, func(o *item) bool { return o.means["locked"] == "0" && !o.silent() && !m.denied(o) })
}

// gearOut reports whether an if is that of the question about the wheels, with gear and
// brakes off, and of nothing else: "if its out of gear they all turn".
func (m *message) gearOut(it *item) bool {
	if m.topic != TopicWheels || m.word(it.from) != "if" && m.word(it.from) != "when" && m.word(it.from) != "once" {
		return false
	}
	named := false
	for i := it.to; i < it.clause.to; i++ {
		if o := m.itemAt(i); o != nil && o.has("locked") {
			return named
		}
		if !lists.has(m.word(i), "gearout") {
			return false
		}
		named = named || lists.has(m.word(i), "whatholds")
	}
	return named
}
