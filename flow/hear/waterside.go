package hear

import "slices"

// besideWater tells what the name of a pond, a river or the like says of water over the
// hubs: that it is there (1); nothing (0), where it is only told to be near, which is
// asked about; that it is not (-1), where that is said to be all.
func (m *message) besideWater(it *item) int {
	near, only := false, false
	for i := it.from - 1; i >= it.clause.from && i >= it.from-mostBetween; i-- {
		near = near || lists.has(m.word(i), "waterside")
		only = only || m.word(i) == "only" || m.word(i) == "just"
	}
	near = near || it.to < it.clause.to && lists.has(m.word(it.to), "watersidebehind")
	for _, o := range it.clause.items {
		near = near || o.q != nil && o.q.is(length) && !m.inOrOver(it)
	}
	switch {
	case !near || m.inOrOver(it):
		return 1
	case only:
		return -1
	}
	m.waterNear = true
	return 0
}

// inOrOver reports whether a clause holds a word by which a vehicle is in the water or the
// water over something.
func (m *message) inOrOver(it *item) bool { return m.anyIn(it.clause, "inwater") }

// notOverHubs reports whether water is said not to be over the hubs, which is all that is
// asked of it: "no water over the hubs", "the water is not over the hubs".
func (m *message) notOverHubs(it *item) bool {
	if m.word(it.to-1) != "water" || it.silent() || it.clause.unsure || m.waterMayCome(it) {
		return false
	}
	no, at := m.word(it.from-1) == "no", it.to
	for ; at < it.clause.to && lists.has(m.word(at), "waterstands"); at++ {
		no = no || lists.has(m.word(at), "waterisnot")
	}
	if !no || m.word(at) != "over" && m.word(at) != "above" {
		return false
	}
	for at++; m.word(at) == "the" || m.word(at) == "its"; at++ {
	}
	if at >= it.clause.to || !hubs[m.word(at)] {
		return false
	}
	for i := it.from - 1; i <= at; i++ {
		if o := m.itemAt(i); o != nil && i >= it.clause.from && o != it {
			o.used = true
			if o.has("depth") {
				o.means = map[string]string{"filler": "-"} // how high water stands is no depth of the wheels
			}
		}
	}
	m.underHubs = true
	return true
}

// waterMayCome reports whether a denial of water is none: it is said to rise, or the no
// stands apart and may answer the question, "no, water over the hubs".
func (m *message) waterMayCome(it *item) bool {
	for i := range m.tokens {
		if lists.has(m.word(i), "waterrises") && m.word(i-1) != "no" && !lists.has(m.word(i-1), "waterisnot") {
			return true
		}
	}
	return it.from > 0 && m.word(it.from-1) == "no" && m.tokens[it.from-1].mark != unbroken && lists.has(m.word(it.to), "inwater")
}

// pondsDenied takes a pond or the like that is only near as read where water over the hubs
// was denied by these words: nothing is left to ask of it.
func (m *message) pondsDenied(found []string) {
	if !m.underHubs || slices.Contains(found, "water") {
		return
	}
	m.waterNear = false
	for _, it := range m.items {
		if it.means["hazard"] == "water asked" && !it.used && !m.inOrOver(it) && !it.silent() {
			for _, o := range it.clause.items {
				o.used = o.used || o == it || lists.has(m.word(o.from), "waterside")
			}
		}
	}
}
