package hear

import (
	"slices"
	"strings"
)

// Where the stuck vehicle is asked about, people tell of the puller by a name that
// nobody knows here: "the old massey, 1.5 t, rear drive only, on the gravel track". Its
// weight and ground must not become the stuck vehicle's, which they would make lighter
// and easier to roll. Which wheels drive is told of what pulls, and of what is stuck now
// and then; a drawbar is the puller's.

// driven gives what is said beside the wheels that drive to nobody, where no vehicle is
// named to which it could belong, or to the puller, where its drawbar is named too.
func (m *message) driven() {
	if m.topic.stage() != "load" || m.topic.towPoint() || m.topic == TopicWheels {
		return
	}
	told := map[int]bool{} // passages
	for _, it := range m.items {
		if told[it.clause.passage] || !it.has("drive") || it.has("vehicle") || strings.HasSuffix(it.means["drive"], "asked") || it.silent() || m.vehicleUpTo(it) {
			continue
		}
		told[it.clause.passage] = true
		h := newHead("vehicle", "")
		if slices.ContainsFunc(m.items, func(o *item) bool { return m.pullersEnd(o) && !m.vehicleBetween(it, o) }) {
			h = m.puller
		}
		for _, c := range m.clauses {
			if c.sentence == it.clause.sentence {
				m.mentions = append(m.mentions, &mention{h, &item{from: c.from, to: c.from, means: map[string]string{}, clause: c}})
			}
		}
		if !slices.Contains(m.heads, h) {
			m.heads = append(m.heads, h)
		}
	}
}

// vehicleUpTo reports whether a vehicle is named in an item's passage, before it or in
// its sentence.
func (m *message) vehicleUpTo(it *item) bool {
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool {
		return mt.head.class == "vehicle" && mt.it.clause.passage == it.clause.passage && (mt.it.from <= it.from || mt.it.clause.sentence == it.clause.sentence)
	})
}

// vehicleBetween reports whether a vehicle is named from the sentence of one item to that
// of another.
func (m *message) vehicleBetween(a, b *item) bool {
	from, to := min(a.clause.sentence, b.clause.sentence), max(a.clause.sentence, b.clause.sentence)
	return slices.ContainsFunc(m.mentions, func(mt *mention) bool {
		return mt.head.class == "vehicle" && from <= mt.it.clause.sentence && mt.it.clause.sentence <= to
	})
}

// pullersEnd reports whether an item is a place for a line that only a puller has.
func (m *message) pullersEnd(it *item) bool {
	return strings.HasPrefix(it.means["end"], "- ") && !it.silent() && !m.denied(it)
}
