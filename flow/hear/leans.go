package hear

import "slices"

// An angle belongs to what its own clause speaks of: how far a tree leans is no slope
// of the stuck vehicle, and how that vehicle stands is no angle of a sling or a line.

// leansAnchor reports whether an angle is how far an anchor leans, of which the sheet
// takes only that it does: "the oak leans a bit, about 10 degrees".
func (m *message) leansAnchor(it *item) bool {
	c := it.clause
	if before := m.clauseBefore(c); before != nil && m.onlyFigure(c) {
		c = before
	}
	if !slices.ContainsFunc(c.items, func(o *item) bool { return o.means["tree"] == "lean=true" || lists.has(m.word(o.from), "leans") }) {
		return false
	}
	named := m.mentionsIn(c)
	if len(named) == 0 {
		return m.spokenOfAnchor(c)
	}
	return !slices.ContainsFunc(named, func(mt *mention) bool { return mt.head.class == "vehicle" || mt.head.kind == "vehicle" }) &&
		slices.ContainsFunc(named, func(mt *mention) bool { return mt.head.class == "anchor" })
}

// spokenOfAnchor reports whether a clause that names nothing goes on about an anchor: the
// one named last before it, else the one that was asked about.
func (m *message) spokenOfAnchor(c *clause) bool {
	h := m.asked
	for _, mt := range m.mentions {
		if mt.it.from < c.from && mt.it.clause.passage == c.passage {
			h = mt.head
		}
	}
	return h != nil && h.class == "anchor" && h.kind != "vehicle"
}

// standsOfAnchor reports whether a word of how something stands is said of the anchor that
// was named last, and of no vehicle: "oak 40 cm, upright".
func (m *message) standsOfAnchor(it *item) bool {
	named := m.mentionsIn(it.clause)
	if len(named) == 0 {
		return m.spokenOfAnchor(it.clause)
	}
	h, doubt := m.owner(it, func(*mention) bool { return true })
	return h != nil && h.class == "anchor" && !doubt && !slices.ContainsFunc(named, func(mt *mention) bool { return mt.head.class == "vehicle" })
}

// onlyFigure reports whether a clause holds a figure and nothing that names a thing.
func (m *message) onlyFigure(c *clause) bool {
	return !slices.ContainsFunc(c.items, func(o *item) bool { return o.q == nil && !o.has("filler") && !o.has("hedge") && !o.has("from") })
}

// ofGround reports whether an angle is told of how ground lies or how something stands on
// it, so that it is none of the line or of a piece of gear: "it leans 10 degrees to the
// right", asked for the angle of a sling's legs.
func (m *message) ofGround(it *item) bool {
	lies := false
	for i := it.clause.from; i < it.clause.to; i++ {
		switch w := m.word(i); {
		case lists.has(w, "ofline") && i < it.from:
			return false
		case lists.has(w, "leans"), lists.has(w, "slopes") && i <= it.to:
			lies = true
		case w == "side" && m.word(i+1) == "to" && m.word(i+2) == "side":
			lies = true
		}
	}
	return lies || slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool {
		return (mt.head == m.load || mt.head == m.puller) && mt.it.to <= it.from && !m.placedAt(mt.it)
	})
}

// sideways reports whether a clause says that an angle goes to the side of what it is of.
func (m *message) sideways(it *item) bool { return m.anyIn(it.clause, "sides") }

// shareOfWeight reports whether a figure in hundredths is how much of a weight an axle or
// wheels carry, which is no slope: "the rear axle carries about 65%".
func (m *message) shareOfWeight(it *item) bool {
	return it.q.unit == "%" && (m.anyIn(it.clause, "axles") || m.anyIn(it.clause, "borne"))
}
