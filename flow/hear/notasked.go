package hear

import "slices"

// A figure belongs to what the message names. Where that is no piece of the list, it
// never falls to the piece that was asked about: 6 t that the hitch may carry would
// make a rope of 3 t look twice as strong.

// notOfAsked reports whether a figure is said of something else than the piece
// that the question was about, to which it would go for want of another.
func (m *message) notOfAsked(h *head, field string, it *item) bool {
	if h != m.asked || h.class != "gear" && h.class != "anchor" || it == nil {
		return false
	}
	if slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head == h }) {
		return false
	}
	asks := m.topic.field() == field
	for _, o := range it.clause.items {
		switch {
		case o == it:
		case o.has("measure of"), o.has("end") && !slices.Contains(onThe, m.word(o.from-1)) && !m.leadsTo(o):
			return true
		case o.has("vehicle") && !m.asksMachine() && o.to <= it.from && !m.placedAt(o):
			return true
		case o.to <= it.from && m.unheardOf(o) && (!asks || talk.slipOf(m.word(o.from), "end")) && m.leadsStraight(o.to, it.from):
			return true
		}
	}
	return false
}

// placedAt reports whether a vehicle is only where a piece is, goes or comes from.
func (m *message) placedAt(it *item) bool {
	at := it.from - 1
	for slices.Contains([]string{"the", "my", "our", "his", "her", "their"}, m.word(at)) {
		at--
	}
	return slices.Contains([]string{"to", "on", "in", "behind", "from", "at", "by", "with"}, m.word(at))
}

// leadsStraight reports whether nothing but what a rating is told with stands between a
// word and a figure.
func (m *message) leadsStraight(from, to int) bool {
	for i := from; i < to; i++ {
		if o := m.itemAt(i); o == nil || !o.has("rated") && !o.has("rkind") && !o.has("filler") && !slices.Contains([]string{"is", "are"}, m.word(i)) {
			return false
		}
	}
	return true
}

// unheardOf reports whether an item is a word that is in no list, as what something
// may be called that the program does not know.
func (m *message) unheardOf(it *item) bool {
	w := m.word(it.from)
	return it.means == nil && it.q == nil && len(w) > 3 && !known[w] && !idle[w] && !describes(w)
}

// ofMachine files a length with the measure of the puller that stands right before it, or says
// right behind it what lies between.
// It reports whether one does, though it may not be a measure that is told so.
func (m *message) ofMachine(it *item) bool {
	of := m.beside(it, "measure of", 3)
	if of == nil {
		return false
	}
	name := of.means["measure of"]
	if of.from > it.from && (name != "wheelbase" || of.from != it.to) { // "2.6 m between the axles"
		return false
	}
	if name == "-" {
		return false
	}
	if !slices.ContainsFunc(m.mentionsIn(it.clause), func(mt *mention) bool { return mt.head.class == "vehicle" && mt.head != m.puller }) {
		m.put(m.puller, name, it.q.text, it.q, it, of)
	}
	return true
}

// ofHitch reports whether what a figure rates is the puller's hitch, by that name, and
// no other vehicle's.
func (m *message) ofHitch(it *item) bool {
	named := slices.ContainsFunc(it.clause.items, func(o *item) bool {
		return o.has("measure of") && m.speaks(o.from, o.to, hitchWords) && o.to <= it.from
	})
	return named && m.known.Hitch != "" && !m.othersPoint(it.clause)
}
