package hear

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
func (m *message) inOrOver(it *item) bool {
	for i := it.clause.from; i < it.clause.to; i++ {
		if lists.has(m.word(i), "inwater") {
			return true
		}
	}
	return false
}
