package hear

import "slices"

// What is said of "both" or of "all", behind pieces that a message told apart, is said of
// each of them: "one 40 m, the other 25 m, both 12 mm polyester".

// ofAll makes a clause that begins so one about all that were told apart before it.
func (m *message) ofAll() {
	for _, c := range m.clauses {
		if !lists.has(m.word(c.from), "all") {
			continue
		}
		of := m.lastMention(c.from)
		if of == nil || of.path != "" || of.class != "gear" && of.class != "anchor" || !m.toldApart(of) && of.row == nil {
			continue
		}
		named := m.mentionsIn(c)
		if slices.ContainsFunc(named, func(mt *mention) bool {
			return mt.head.class != of.class || mt.head.kind != of.kind || !mt.it.has("material")
		}) {
			continue
		}
		h := of
		if of.row == nil {
			h = newHead(of.class, "")
			h.kind, h.fresh, h.all = of.kind, true, of
			m.heads = append(m.heads, h)
		}
		first := m.itemAt(c.from)
		first.used = true
		for _, mt := range named {
			m.heads = slices.DeleteFunc(m.heads, func(o *head) bool { return o == mt.head && o != h })
			mt.head = h
		}
		m.mentions = append(m.mentions, &mention{h, first})
	}
}

// toldApart reports whether a head is one of several that were counted together.
func (m *message) toldApart(h *head) bool {
	return h.whole != nil || slices.ContainsFunc(m.heads, func(o *head) bool { return o.whole == h })
}

// shareOut gives what was said of all to each of them that was not told otherwise.
func (m *message) shareOut() {
	for _, h := range m.heads {
		if h.all == nil {
			continue
		}
		whole := h.all
		if whole.whole != nil {
			whole = whole.whole
		}
		for _, o := range m.heads {
			if o != whole && o.whole != whole {
				continue
			}
			for field := range h.slots {
				o.likeOf(h, field)
			}
			for k, v := range h.more {
				if o.more[k] == "" {
					o.more[k] = v
				}
			}
		}
	}
	m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h.all != nil })
}
