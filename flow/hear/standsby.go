package hear

import "slices"

// standsBy takes out an anchor that is named only for the place where the one before it
// stands: of "a second oak right behind the poplar, sound", sound is the oak. What a which
// is put to, or a figure, is spoken of itself.
func (m *message) standsBy() {
	drop := func(mt *mention) bool {
		if mt.head.class != "anchor" || mt.it.silent() || lists.has(m.word(mt.it.to), "relative") {
			return false
		}
		at := mt.it.from - 1
		for lists.has(m.word(at), "treeword") && !lists.has(m.word(at), "article") {
			at--
		}
		if !lists.has(m.word(at), "article") {
			return false
		}
		if at--; m.word(at) == "to" && m.word(at-1) == "next" {
			at--
		}
		if !lists.has(m.word(at), "placedby") {
			return false
		}
		return slices.ContainsFunc(m.mentions, func(o *mention) bool {
			return o.head.class == "anchor" && o.head != mt.head && o.it.clause == mt.it.clause && o.it.to <= at
		}) && !slices.ContainsFunc(mt.it.clause.items, func(o *item) bool { return o.from >= mt.it.to && o.q != nil })
	}
	var out []*mention
	for _, mt := range m.mentions {
		if !drop(mt) {
			out = append(out, mt)
			continue
		}
		mt.it.used = true
		for i := mt.it.from - 4; i < mt.it.from; i++ {
			if o := m.itemAt(i); o != nil && (lists.has(m.word(i), "placedby") || lists.has(m.word(i), "article") || m.word(i) == "right" || m.word(i) == "next" || m.word(i) == "to") {
				o.used = true
			}
		}
		if !slices.ContainsFunc(m.mentions, func(o *mention) bool { return o != mt && o.head == mt.head }) {
			m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h == mt.head })
		}
	}
	m.mentions = out
}
