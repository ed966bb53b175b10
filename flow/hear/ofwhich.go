package hear

import "slices"

// A figure that stands by itself behind several pieces, "rope 30 m, and an old one 20 m.
// 4 t wll", is the last one's only where it can't be another's as well: a rating is never
// given to a piece that nobody said it of.

// ofWhich reports whether a rating that is told behind the pieces may be of another than
// the last one of them: one of its kind has none yet either, or the last was told as old
// or without a stamp, which a figure of its own would gainsay.
func (m *message) ofWhich(last *head, it *item) bool {
	if last.path != "" || len(m.mentionsIn(it.clause)) > 0 {
		return false
	}
	bare := m.toldUnstamped(last, it)
	for _, mt := range m.mentions {
		o := mt.head
		if o == last || o.class != "gear" || o.kind == "" || m.calledToo(mt, last) || mt.it.from > it.from || mt.it.clause.passage != it.clause.passage {
			continue
		}
		if o.open("rating") && (bare || o.kind == last.kind) {
			return true
		}
	}
	return false
}

// calledToo reports whether a piece is the same as another, right beside it, called by what
// it is for: "another rope, holding line: 22 mm".
func (m *message) calledToo(mt *mention, h *head) bool {
	return mt.head.kind == h.kind && (mt.head.more["use"] == "") != (h.more["use"] == "") && slices.ContainsFunc(m.mentions, func(o *mention) bool {
		return o.head == h && (o.it.to == mt.it.from || mt.it.to == o.it.from)
	})
}

// toldUnstamped reports whether a piece was told before an item as one that bears no
// stamp, or in a word that makes one unlikely.
func (m *message) toldUnstamped(h *head, it *item) bool {
	for _, mt := range m.mentions {
		if mt.head != h || mt.it.from > it.from {
			continue
		}
		for _, o := range mt.it.clause.items {
			if o.has("unmarked") || lists.has(m.word(o.from), "unstamped") {
				return true
			}
		}
	}
	return false
}
