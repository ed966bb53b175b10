package hear

import "slices"

// Ratings that are read out in a row behind the pieces, "rope, block, shackle: 2 t, 3 t,
// 3.25 t", are theirs in the order in which they were named. Where there are more of the
// one than of the other nobody knows which is whose.

// ratingRow returns the piece that a rating in such a row is of, and whether it stands in
// one; nil for a row in which it can't be told.
func (m *message) ratingRow(it *item) (of *head, row bool) {
	var pieces []*head
	last := -1
	for _, mt := range m.mentions {
		if mt.it.clause.sentence != it.clause.sentence {
			continue
		}
		if mt.head.class != "gear" || mt.head.kind == "" {
			return nil, false
		}
		if !slices.Contains(pieces, mt.head) {
			pieces = append(pieces, mt.head)
		}
		last = max(last, mt.it.to)
	}
	var figures []*item
	for _, o := range m.items {
		if o.clause.sentence != it.clause.sentence || o.q == nil {
			continue
		}
		switch weight := o.q.is(mass) || o.q.is(force); {
		case !weight && o.from >= last, weight && o.from < last, weight && o.silent():
			return nil, false
		case weight && m.beside(o, "rkind", 3) != nil && len(figures) > 0:
			return nil, false // what one piece breaks at, beside what it may carry
		case weight:
			figures = append(figures, o)
		}
	}
	if len(pieces) < 2 || len(figures) < 2 || !m.bareRow(figures) {
		return nil, false
	}
	if at := slices.Index(figures, it); at >= 0 && len(figures) == len(pieces) {
		return pieces[at], true
	}
	return nil, true
}

// bareRow reports whether nothing but words that join them stands between figures.
func (m *message) bareRow(figures []*item) bool {
	for i, o := range figures[1:] {
		for k := figures[i].to; k < o.from; k++ {
			if !lists.has(m.word(k), "joins") {
				return false
			}
		}
	}
	return true
}
