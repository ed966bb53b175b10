package hear

import (
	"strings"

	"linetender/calc/bound"
)

// number files a figure without a unit, where one unit alone is possible.
func (m *message) number(it *item) {
	n, whole := it.q.count()
	if at := m.beside(it, "attr", 1, "layer"); at != nil && whole {
		m.put(m.puller, "winch_layer", n, it.q, it, at)
		return
	}
	if at := m.beside(it, "attr", 1, "parts"); at != nil && whole && at.from >= it.to {
		m.tackle(n, it, at)
		return
	}
	if q := m.likeBeside(it); q != nil {
		m.likeFigure(it, q)
		return
	}
	if h := m.remain(it); h != nil && whole && n != "0" {
		m.put(h, "count", n, it.q, it)
		return
	}
	if !whole || len(m.mentionsIn(it.clause)) > 0 {
		return
	}
	alone := len(it.clause.items) == 1
	switch {
	case m.topic == TopicWinchLayer && n != "0":
		m.put(m.puller, "winch_layer", n, it.q, it)
	case m.topic == TopicParts && n != "0":
		m.tackle(n, it)
	case m.topic == TopicPullerPeople && n != "0":
		m.put(m.puller, "people", n, it.q, it)
	default:
		if m.asked != nil && m.asked.class == "gear" && m.asked.path == "" && n != "0" && (alone || m.each(it)) {
			m.asked.count, it.used = int(it.q.number), true
			return
		}
		_, name, ok := m.topic.piece()
		if ok && alone && (name == "count" || name == "sheaves") && n != "0" {
			m.put(m.asked, name, n, it.q, it)
		}
	}
}

// remain returns the piece of which a number is said to be left: "checked the
// shackles, 3 left". What is left is no side.
func (m *message) remain(it *item) *head {
	if m.word(it.to) != "left" || it.to+1 < it.clause.to {
		return nil
	}
	h, doubt := m.owner(it, func(mt *mention) bool { return mt.head.class == "gear" && strings.HasSuffix(mt.it.name, "s") })
	if doubt || h == nil || h.count > 0 {
		return nil
	}
	return h
}

// each reports whether a bare number stands before the message's only figure:
// "2 x 3.25 t", "two 3.25 t".
func (m *message) each(it *item) bool {
	var next *item
	for _, other := range m.items {
		if other == it || other.q == nil {
			continue
		}
		if next != nil || other.q.bare() || other.clause != it.clause {
			return false
		}
		next = other
	}
	return next != nil && next.from >= it.to && m.joined(it.to, next.from)
}

func (m *message) tackle(n string, its ...*item) {
	m.put(m.job, "tackle.parts", n, its[0].q, its...)
}

// likeBeside returns a figure whose unit a bare one shares beyond doubt: all
// the figures of that kind in the passage have the same unit. "Block 3 t, two
// shackles 3.25" are tonnes; a whole number could be a size, so it is not taken.
func (m *message) likeBeside(it *item) *quantity {
	want := dim(0)
	switch h, _ := m.owner(it, func(mt *mention) bool { return mt.head.class == "gear" || mt.head.class == "end" }); {
	case m.toldAs(it, length, "lead", "reach", "distance", "run") != nil:
		want = length
	case m.toldAs(it, slope, "side") != nil, m.across(it), m.topic.stage() == "load" && m.toldAs(it, slope, "along") != nil:
		want = angle
	case h != nil && h.open("rating") && h.kind != "rope" && strings.ContainsAny(it.q.text, ".,"):
		want = force
	default:
		return nil
	}
	var like *quantity
	for _, other := range m.items {
		if other.q == nil || !other.q.is(want) || want != angle && other.clause.passage != it.clause.passage || want == angle && other.q.unit != "deg" ||
			want == length && other.q.small() {
			continue
		}
		if like != nil && like.unit != other.q.unit || other.q.vague {
			return nil
		}
		like = other.q
	}
	if like == nil {
		return nil
	}
	return &quantity{text: it.q.text + " " + like.unit, dims: like.dims, unit: like.unit, rough: true, number: it.q.number}
}

// likeFigure files a bare figure with the unit of its neighbours.
func (m *message) likeFigure(it *item, q *quantity) {
	bare := it.q
	it.q = q
	switch {
	case q.is(angle):
		_, err := bound.ReadSlope(q.text)
		q.dims |= slope
		if err == nil {
			m.steep(it)
		}
	case q.is(length):
		if _, err := bound.ReadLength(q.text); err == nil {
			m.long(it)
		}
	default:
		if r, err := bound.ReadForce(q.text); err == nil && r.Value.Best > 0 {
			q.si = r.Value.Best.KilogramsForce()
			q.rough = false
			m.heavy(it)
		}
	}
	if !it.used {
		it.q = bare
	}
}
