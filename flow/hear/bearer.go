package hear

import "slices"

// A winch and what bears it are told in one breath, and a figure beside them is of the one or
// of the other.

// hauls are words before a weight that a vehicle is said to pull.
var hauls = wordSet("pulls pull tow tows towing hauls haul")

// hitchBehind reports whether a hitch is what a figure is said to be of: the 5 t is the
// tractor's hitch.
func (m *message) hitchBehind(it *item) bool {
	if !slices.Contains([]string{"is", "was", "on", "for", "of"}, m.word(it.to)) {
		return false
	}
	for _, o := range it.clause.items {
		switch {
		case o.from <= it.to:
		case o.has("measure of") && m.speaks(o.from, o.to, hitchWords):
			return o.to == it.clause.to || o.q == nil
		case !o.has("vehicle") && !slices.Contains([]string{"the", "my", "our", "his", "her", "their", "s"}, m.word(o.from)):
			return false
		}
	}
	return false
}

// winchOrBearer reports whether a figure stands apart from both a winch and the
// vehicle that bears it, and may be of either: "winch on the truck, its 12000 lb".
func (m *message) winchOrBearer(it *item) bool {
	winch, bearer := false, false
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head != m.puller || mt.it.to > it.from {
			continue
		}
		winch, bearer = winch || mt.it.has("winch"), bearer || mt.it.has("vehicle") && m.bearsWinch(mt.it)
	}
	return winch && bearer && slices.Contains([]string{"its", "is", "it"}, m.word(it.from-1))
}

// bearerOf reports whether a weight is told behind a vehicle and the winch that it bears,
// and whether it is said to be what that weighs: "the truck with the winch is 2.2 t" is no
// winch of 2.2 t. What a winch pulls stands right behind it.
func (m *message) bearerOf(it *item) (bears, is bool) {
	if !it.q.is(mass) {
		return false, false
	}
	c := it.clause
	if before := m.clauseBefore(c); before != nil && len(m.mentionsIn(c)) == 0 {
		c = before
	}
	for _, w := range c.items {
		if !w.has("winch") || w.to > it.from || w.to == it.from && c == it.clause {
			continue
		}
		for _, v := range c.items {
			if v.has("vehicle") && !v.has("winch") && v.to < w.from && m.only(v.to, w.from, "bearing") {
				between := m.word(w.to)
				return true, c == it.clause && (between == "is" || between == "weighs" || between == "s" || between == "was")
			}
		}
	}
	return false, false
}

// only reports whether nothing but words of a list stands between two tokens.
func (m *message) only(from, to int, list string) bool {
	for i := from; i < to; i++ {
		if !lists.has(m.word(i), list) {
			return false
		}
	}
	return to > from
}

// beforeWinch reports whether a figure stands before a winch and may be what bears it
// weighs: something that is in no list or the winch's own figure is between, the winch is named by a vehicle, or
// another figure comes behind it. "6 t truck winch 9500 lb" is no winch of 6 t.
func (m *message) beforeWinch(it *item) bool {
	if slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("vehicle") && !o.has("winch") && (o.to == it.from || o.from == it.to) }) {
		return false // it is that vehicle's
	}
	for _, w := range it.clause.items {
		if !w.has("winch") || w.from < it.to {
			continue
		}
		if slices.ContainsFunc(it.clause.items, func(o *item) bool {
			return o.from >= w.to && o.q != nil && (o.q.is(mass) || o.q.is(force)) && !same(o.q, it.q)
		}) {
			return true
		}
		return talk.is(m.word(w.from), "vehicle") || slices.ContainsFunc(it.clause.items, func(o *item) bool {
			nearer := o.q != nil && o.to == w.from && (o.q.is(mass) || o.q.is(force)) && !same(o.q, it.q) // "2.1 t, has a 4 t winch"
			return o.from >= it.to && o.to <= w.from && (nearer || m.unheardOf(o) || m.word(o.from) == "with")
		})
	}
	return false
}

// winchNear reports whether the vehicle spoken of at it is a winch.
func (m *message) winchNear(it *item) bool {
	found := false
	m.owner(it, func(mt *mention) bool {
		if mt.head == m.puller && mt.it.has("winch") && (mt.it.clause == it.clause || mt.it.clause.passage == it.clause.passage) {
			found = true
		}
		return false
	})
	if !found {
		return false
	}
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head != m.puller || mt.it.has("winch") {
			continue
		}
		if m.follows(mt.it.to, it.from) && mt.it.from < it.from || mt.it.from >= it.to && m.joined(it.to, mt.it.from) {
			return false
		}
	}
	return true
}
