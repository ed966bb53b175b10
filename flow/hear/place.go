package hear

import "slices"

// owner returns the head that an item belongs to: what its own clause names
// and, if that names nothing fit, what was named last before it in the same
// passage. doubt tells that two heads claim it alike.
func (m *message) owner(it *item, takes func(*mention) bool) (h *head, doubt bool) {
	var before, after *mention
	for _, mt := range m.mentions {
		switch {
		case mt.it.clause != it.clause || !takes(mt):
		case mt.it.from <= it.from:
			before = mt
		case after == nil:
			after = mt
		}
	}
	switch {
	case before != nil && after != nil && before.head == after.head:
		return before.head, false // "one 40 m polyester": both words are of one piece
	case before != nil && after != nil && it.q == nil:
		if m.word(it.to) == "under" {
			return after.head, false // gravel under the tractor
		}
		return before.head, false
	case before != nil && after != nil:
		pre, post := m.joined(it.to, after.it.from), m.follows(before.it.to, it.from)
		switch {
		case pre && post && !m.figureAfter(after, it):
			return nil, true
		case pre && !post:
			return after.head, false
		}
		return before.head, false
	case before != nil:
		return before.head, false
	case after != nil:
		return after.head, false
	}
	for i := len(m.mentions) - 1; i >= 0; i-- {
		mt := m.mentions[i]
		if mt.it.from < it.from && mt.it.clause != it.clause && mt.it.clause.passage == it.clause.passage {
			if takes(mt) {
				return mt.head, false
			}
		}
	}
	return nil, false
}

// joined reports whether tokens from a to b only describe what comes after.
func (m *message) joined(a, b int) bool {
	for i := a; i < b; i++ {
		if w := m.word(i); slices.Contains(apart, w) || slices.Contains([]string{"is", "by", "round", "around"}, w) {
			return false
		}
	}
	return true
}

// follows reports whether tokens from a to b lead from a thing to its figure.
func (m *message) follows(a, b int) bool {
	for i := a; i < b; i++ {
		if slices.Contains(apart, m.word(i)) {
			return false
		}
	}
	return true
}

// apart are words that part one thing from the next.
var apart = []string{"and", "got", "have", "has", "using", "on", "to", "from", "with", "behind", "pulls", "pulling", "for", "towing", "holding", "onto", "off", "against"}

// figureAfter reports whether another figure of the kind of it stands behind
// a mention in its clause, so that figures follow their things there.
func (m *message) figureAfter(mt *mention, it *item) bool {
	for _, other := range it.clause.items {
		if other.from >= mt.it.to && other.q != nil && it.q != nil && other.q.dims&it.q.dims != 0 {
			return true
		}
	}
	return false
}

// beside returns the value of the nearest item of a class within reach tokens
// on either side of it in its clause, with no other figure between.
func (m *message) beside(it *item, class string, reach int, values ...string) *item {
	var best *item
	for _, other := range it.clause.items {
		if !other.has(class) || other == it || len(values) > 0 && !slices.Contains(values, other.means[class]) {
			continue
		}
		if other.to <= it.from && m.trails(other, class) || class == "rkind" && other.from >= it.to && m.leadsOn(other) {
			continue
		}
		gap := max(other.from-it.to, it.from-other.to)
		if gap <= reach && !m.figureBetween(other, it) && (best == nil || gap < max(best.from-it.to, it.from-best.to)) {
			best = other
		}
	}
	return best
}

// trails reports whether a word belongs to the figure right before it: in
// "30 cm thick 1 m deep" the words come second, in "dia 30 cm, length 1 m" first.
func (m *message) trails(word *item, class string) bool {
	figure := false
	for _, it := range word.clause.items {
		switch {
		case it.has(class) && !figure:
			return false
		case it.q != nil && !it.q.bare() && (class != "rkind" && class != "rated" || it.q.is(mass) || it.q.is(force)): // no length is a working limit
			if it.to == word.from {
				return true
			}
			figure = true
		}
	}
	return false
}

// leadsOn reports whether a word on a stamp is of the figure right behind it, and of none
// before: "3 t, breaks at 12".
func (m *message) leadsOn(stamp *item) bool {
	if m.word(stamp.to-1) != "at" && m.word(stamp.to) != "at" && m.word(stamp.to) != "of" {
		return false
	}
	return slices.ContainsFunc(stamp.clause.items, func(o *item) bool { return o.q != nil && 0 <= o.from-stamp.to && o.from-stamp.to <= 1 })
}

// within returns the item of a class and value in the clause that is nearest.
func (m *message) within(it *item, class string, values ...string) *item {
	return m.beside(it, class, len(m.tokens), values...)
}

// figureOf returns the figure that a word such as "reach" belongs to: the one
// right before or right behind it, or else the next one in its clause, or the
// last before.
func (m *message) figureOf(word *item, d dim) *item {
	var before, after *item
	for _, it := range word.clause.items {
		switch {
		case it.q == nil || !it.q.is(d) && !it.q.bare():
		case it.to <= word.from:
			before = it
		case after == nil:
			after = it
		}
	}
	touches := before != nil && before.to == word.from
	if touches && after != nil && after.q.bare() && !before.q.bare() {
		return before // 17 degrees sideways 5 forward
	}
	switch {
	case after == nil:
		return before
	case touches && after.from > word.to:
		return before
	case touches && m.trails(word, "attr"):
		return nil // 40 m reach 20 m: either
	}
	return after
}

// toldAs returns the word of a clause that makes the figure it what one of
// values says.
func (m *message) toldAs(it *item, d dim, values ...string) *item {
	for _, word := range it.clause.items {
		if word.has("attr") && slices.Contains(values, word.means["attr"]) && m.figureOf(word, d) == it {
			return word
		}
	}
	return nil
}

// vehicles are the heads that weigh something and stand on something.
func vehicles(mt *mention) bool { return mt.head.class == "vehicle" && !mt.it.has("winch") }

// standing returns the vehicle that a remark on ground, slope or depth is
// about: the one spoken of, or else the one that the question was about.
func (m *message) standing(it *item) *head {
	if h, doubt := m.owner(it, vehicles); h != nil || doubt {
		return h
	}
	for _, mt := range m.mentions {
		if mt.it.clause == it.clause && (mt.head.class == "anchor" || mt.head.class == "gear") {
			return nil
		}
	}
	switch m.topic.stage() {
	case "puller":
		return m.puller
	case "load":
		return m.load
	}
	if m.topic == TopicNone || m.topic == TopicPeople || m.topic.ton() {
		return m.load
	}
	return nil
}
