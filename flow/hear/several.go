package hear

// severalRatings gives pieces that were named together with a figure for each the
// lowest of them: which piece has which can't be told, and the weakest decides.
func (m *message) severalRatings() {
	for _, h := range m.heads {
		rating := h.slots["rating"]
		if h.class != "gear" || h.count < 2 || rating == nil {
			continue
		}
		at, best, said := h.where["rating"], h.from["rating"], rating.Said
		for _, it := range m.items {
			q := it.q
			if q == nil || it.used || best == nil || it.clause.sentence != at.sentence || it.from < at.from || it.silent() || !(q.is(mass) || q.is(force)) {
				continue
			}
			if named := m.mentionsIn(it.clause); it.clause != at && !m.figuresOnly(it.clause) || len(named) > 0 && it.clause != at || len(named) > 1 {
				continue
			}
			it.used = true
			if said += ", " + m.said(it); q.si < best.si {
				best = q
			}
		}
		rating.Value, rating.Said = best.text, said
	}
}

// figuresOnly reports whether a clause holds figures and what joins them.
func (m *message) figuresOnly(c *clause) bool {
	for _, it := range c.items {
		if it.q == nil && !it.has("rkind") && !it.has("filler") && !it.has("glue") && m.word(it.from) != "and" {
			return false
		}
	}
	return true
}
