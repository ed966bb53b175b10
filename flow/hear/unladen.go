package hear

import (
	"slices"
	"strings"
)

// What is off a vehicle, or left out of what somebody says that it weighs, is no part of that
// weight and no weight of its own.

// ofItsOwn reports whether a weight is told of "it", behind gear that has no rating yet,
// where it is asked what the load weighs, and whether it is told as about so much, as
// nobody reads a stamp.
func (m *message) ofItsOwn(it *item) (its, about bool) {
	if m.topic != TopicMass && m.topic != TopicMassFrom || !it.q.is(mass) || len(m.mentionsIn(it.clause)) > 0 {
		return false, false
	}
	for i := it.clause.from; i < it.from; i++ {
		its = its || lists.has(m.word(i), "itself")
	}
	gear := slices.ContainsFunc(m.mentions, func(mt *mention) bool {
		return mt.head.class == "gear" && mt.it.from < it.from && mt.it.clause.sentence == it.clause.sentence && mt.head.open("rating")
	})
	return its && gear, its && m.beside(it, "hedge", 1, "guess") != nil
}

// ofCargo reports whether a weight is of something that is no vehicle: 600 kg of feed.
func (m *message) ofCargo(it *item) bool {
	if m.word(it.to) != "of" || !it.q.is(mass) {
		return false
	}
	at := it.to + 1
	for m.word(at) == "the" || m.word(at) == "a" {
		at++
	}
	if slices.Contains([]string{"", "weight", "mass", "it", "load", "pull", "that", "them"}, m.word(at)) {
		return false
	}
	return !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.from >= it.to && o.has("vehicle") })
}

// cameOff reports whether a weight is what a vehicle lost: "640 kg came off", "took 640 kg
// off it", "640 kg lighter". Off a weighbridge or a plate it is what was read there.
func (m *message) cameOff(it *item) bool {
	if !it.q.is(mass) {
		return false
	}
	at, was := it.to, false
	for wasWords[m.word(at)] {
		at, was = at+1, true
	}
	switch w := m.word(at); {
	case w == "lighter", w == "less" && m.word(at+1) != "than" && m.word(it.to-1) != "or":
		return true
	case was && offWords[w], tookOff[w] && at > it.to:
		return true
	case w == "off":
		if m.word(at+1) == "the" || m.word(at+1) == "our" {
			at++
		}
		return m.word(at+1) == "" || offIt[m.word(at+1)] // off the track is where a vehicle of so much is
	}
	from := it.from - 1
	if slices.Contains([]string{"about", "some", "another", "the", "around"}, m.word(from)) {
		from--
	}
	before := m.word(from)
	if before == "off" && slices.Contains([]string{"took", "take", "taken", "got", "lifted", "threw"}, m.word(from-1)) {
		return true
	}
	return tookOff[before] || before == "less" || before == "minus" || before == "by" && (m.word(it.from-2) == "down" || m.word(it.from-2) == "lighter")
}

// lacks reports whether a weight leaves out a trailer or a load that the
// message names, or may do so.
func (m *message) lacks(it *item) bool {
	if it.q.total {
		return false
	}
	if m.word(it.to) == "dry" || m.leftOut(it) || m.cargoOnly(it) {
		return true
	}
	trailer, behind, whole, in, weights, cargo := false, false, false, false, 0, false
	for _, other := range m.items {
		if other.clause.passage != it.clause.passage || other.silent() {
			continue
		}
		switch {
		case other.has("without") && other.clause == it.clause && m.emptyNow(it):
			other.used = true // it is weighed as it stands
		case other.has("without") && other.clause == it.clause:
			return true
		case other.has("without") && other.clause.sentence == it.clause.sentence && m.word(it.from-1) == "load" && slices.ContainsFunc(other.clause.items, func(o *item) bool { return o.q != nil }):
			return true // "empty 2.1, load 900 kg" is told in parts
		case other.q != nil && other.q.bare() && other.from > it.to && (m.word(other.to) == "each" || m.word(other.to) == "apiece"):
			cargo = true // "1,900 kg + 4 bales 250 each"
		case other.q != nil && other.q.is(mass) && !same(other.q, it.q):
			weights++
			cargo = cargo || m.apiece(other)
		case other.has("whole"):
			whole = true
		case strings.HasPrefix(other.means["vehicle"], "part") && !m.denied(other):
			trailer = true
			in = in || other.to <= it.from
			behind = behind || (m.word(other.to) == "behind" || m.word(other.to-1) == "behind") && !slices.Contains([]string{m.word(other.to), m.word(other.to + 1)}, "it") || m.word(other.from-1) == "another"
		}
	}
	if cargo && !whole || behind && !in && !whole && m.topic.stage() == "load" {
		return true
	}
	return trailer && m.pulls() && (!in && !whole || weights > 0)
}

// leavesOut are words that what comes behind them is not in a weight.
var leavesOut = wordSet("less minus without excluding sans")

// emptyNow reports whether it is said apart from a weight that nothing is on the
// vehicle now: "weighed empty, its empty".
func (m *message) emptyNow(it *item) bool {
	for _, o := range m.items {
		c := o.clause
		if !o.has("without") || m.word(o.from) != "empty" || c == it.clause || o.silent() || c.unsure || c.undone || m.denied(o) ||
			!slices.Contains([]string{"its", "is", "still", "now"}, m.word(o.from-1)) || slices.ContainsFunc(c.items, func(o *item) bool { return o.q != nil }) {
			continue
		}
		o.used = true
		return true
	}
	return false
}

// leftOut reports whether what is said behind a weight leaves something out of
// it: "3 t, thats without the bales", "2.6 t but the trailer is hitched on too",
// "the trailer alone is 1.2 t".
func (m *message) leftOut(it *item) bool {
	whole := slices.ContainsFunc(m.items, func(o *item) bool { return o.has("whole") && o.clause.sentence == it.clause.sentence })
	for _, o := range it.clause.items {
		if strings.HasPrefix(o.means["vehicle"], "part") && slices.Contains([]string{"alone", "itself", "only"}, m.word(o.to)) {
			return true
		}
	}
	for i := it.to; i < it.clause.to && i <= it.to+2; i++ {
		o := m.itemAt(i)
		switch w := m.word(i); {
		case slices.Contains([]string{"minus", "less", "without", "excluding", "sans"}, w):
			return !slices.ContainsFunc(it.clause.items, func(f *item) bool { return f.from > i && f.q != nil && !m.cameOff(f) })
		case o != nil && strings.HasPrefix(o.means["vehicle"], "part"):
			return !whole && m.counted(o) == nil && !slices.ContainsFunc(it.clause.items, func(f *item) bool { return f.from >= o.to && f.q != nil })
		case !slices.Contains([]string{"and", "plus", "the", "a"}, w):
			i = it.clause.to
		}
	}
	for i, c := range m.clauses {
		if i == 0 || m.clauses[i-1] != it.clause || c.sentence != it.clause.sentence || slices.ContainsFunc(c.items, func(o *item) bool { return o.q != nil }) {
			continue
		}
		for _, o := range c.items {
			switch {
			case m.word(o.from) == "without" || o.has("without") && strings.HasPrefix(m.word(c.from), "that"):
				return true
			case strings.HasPrefix(o.means["vehicle"], "part") && turning(m.word(c.from)) && !m.denied(o) && !whole:
				return true
			}
		}
	}
	return false
}

// cargoOnly reports whether a weight is told of what is loaded and not of the vehicle with
// it: "load of fence posts about 2.5 t", "the 2.5 t is only the load". The load alone is
// what this program calls the stuck vehicle as well, so "the load is 2.5 t" says nothing.
func (m *message) cargoOnly(it *item) bool {
	for i := it.clause.from; i < it.clause.to; i++ {
		if m.word(i) != "load" {
			continue
		}
		of := m.word(i+1) == "of" && i < it.from
		only := slices.Contains([]string{"only", "just", "alone"}, m.word(i+1)) || slices.Contains([]string{"only", "just"}, m.word(i-1)) ||
			(m.word(i-1) == "the" || m.word(i-1) == "its") && slices.Contains([]string{"only", "just"}, m.word(i-2))
		if (of || only) && !slices.ContainsFunc(it.clause.items, func(o *item) bool { return o.has("whole") }) {
			return true
		}
	}
	return false
}
