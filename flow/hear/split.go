package hear

import "slices"

// Several pieces named in one go are told apart by "one ... other ...": each
// has what is said of it, and none the figure of another.

// split makes heads of the ones of several that a message tells apart.
func (m *message) split() {
	for _, it := range m.items {
		first := m.single(it)
		if it.silent() || !first && !m.other(it) || m.marked(it) {
			continue
		}
		of := m.several(it)
		if of == nil || !m.tellsOf(it) && !(of.only && !first) {
			continue
		}
		strange := first && m.unknownBefore(it)
		m.cut(it)
		it.clause.one = false
		h := of
		switch {
		case strange: // "green one 2 t": which of all their things that is can't be known
			m.mentions = append(m.mentions, &mention{newHead("gear", ""), it})
			continue
		case first:
			h = m.toldOnlyBy(of, furtherOnes{from: it.from, to: it.to})
			h.count, h.fresh, h.adds, h.whole = 1, true, of.adds, of
			for k, v := range of.more {
				h.more[k] = v
			}
			it.q = nil
			if w := of.whole; w != nil && w.parted && w.count > 0 {
				w.count-- // the last of those that were counted
				w.none = w.count == 0
			} else if !m.figured(of, it) || m.flawed(it) {
				of.count--
				of.none = of.count == 0
			}
			if !slices.Contains(m.heads, h) {
				m.heads = slices.Insert(m.heads, slices.Index(m.heads, of)+1, h)
			}
		case of.only: // it is not used
			it.used = true
			h = newHead("gear", "")
			m.mentions = append(m.mentions, &mention{h, it})
			continue
		}
		m.mark(h, it)
	}
	m.heads = slices.DeleteFunc(m.heads, func(h *head) bool { return h.none })
}

// single and other report whether an item is "one", and "the other" or "others".
func (m *message) single(it *item) bool {
	return it.to-it.from == 1 && (m.word(it.from) == "one" || m.word(it.from) == "1")
}

func (m *message) other(it *item) bool {
	w := m.word(it.from)
	if w == "the" {
		w = m.word(it.from + 1)
	}
	return (w == "other" || w == "others") && !it.has("gear") && !it.has("anchor") && !it.has("vehicle")
}

// cut begins a clause of its own at an item, so that what is said of one piece
// stays apart from what is said of the next.
func (m *message) cut(it *item) {
	c := it.clause
	at := slices.Index(c.items, it)
	if at <= 0 {
		return
	}
	tail := *c
	tail.from, tail.items = it.from, slices.Clone(c.items[at:])
	c.to, c.items = it.from, c.items[:at:at]
	for _, o := range tail.items {
		o.clause = &tail
	}
	m.clauses = slices.Insert(m.clauses, slices.Index(m.clauses, c)+1, &tail)
}

// answeredFirst begins a clause of its own with what is told behind the length that was
// asked for: in "10 m and the rope is on the oak" the 10 m are not the rope's.
func (m *message) answeredFirst() {
	if !m.topic.spans() || len(m.clauses) == 0 {
		return
	}
	c, long := m.clauses[0], false
	for i, it := range c.items {
		switch w := m.word(it.from); {
		case it.q != nil && it.q.is(length) && !it.q.small():
			long = true
		case long && (w == "and" || w == "plus" || w == "with"):
			if slices.ContainsFunc(c.items[i:], func(o *item) bool { return o.has("gear") || o.has("anchor") }) {
				m.cut(it)
			}
			return
		case long || !it.has("hedge") && !it.has("filler"):
			return
		}
	}
}

// several returns the pieces, told as more than one, that "one" or "the other"
// is one of: those named last before it.
func (m *message) several(it *item) *head {
	var last *mention
	for _, mt := range m.mentions {
		if mt.it.from < it.from && (mt.it.clause.sentence == it.clause.sentence || mt.it.clause.passage == it.clause.passage) && !m.single(mt.it) && !m.other(mt.it) && (last == nil || mt.it.from > last.it.from) {
			last = mt
		}
	}
	if last == nil || last.head.class != "gear" || last.head.path != "" || last.head.kind == "" || last.head.count == 0 && !last.head.none {
		return nil
	}
	return last.head
}

// tellsOf reports whether a figure, a stamp or a state follows right behind.
func (m *message) tellsOf(it *item) bool {
	for _, o := range it.clause.items {
		if o.from < it.to {
			continue
		}
		switch w := m.word(o.from); {
		case o.q != nil && !o.q.bare(), o.has("rkind"), o.has("rated"), o.has("unmarked"), o.has("cond"), o.has("plain"):
			return true
		case slices.Contains([]string{"is", "has", "says", "was", "s", "stamped", "marked", "of", "them", "one", "with", "stamp", "tag"}, w):
		default:
			return false
		}
	}
	return false
}

// unknownBefore reports whether a word in no list stands right before "one".
func (m *message) unknownBefore(it *item) bool {
	return slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.to == it.from && o.means == nil && o.q == nil })
}

// flawed reports whether something is said against "one" and no figure of its own
// with it: of two slings of 3 t one has a cut in it, and then one is whole.
func (m *message) flawed(it *item) bool {
	bad := slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.from >= it.to && (o.has("cond") && o.means["cond"] != "good" || o.means["made"] == "true" || o.has("unmarked"))
	})
	return bad && !slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.from >= it.to && o.q != nil && (o.q.is(mass) || o.q.is(force))
	})
}

// figured reports whether a figure of the pieces stands before it already, so
// that what follows is one beside them.
func (m *message) figured(h *head, it *item) bool {
	from := -1
	for _, mt := range m.mentions {
		if mt.head == h && from < 0 {
			from = mt.it.to
		}
	}
	return slices.ContainsFunc(m.items, func(o *item) bool {
		return o.from >= from && o.to <= it.from && o.q != nil && (o.q.is(mass) || o.q.is(force))
	}) && m.word(it.to) != "of"
}
