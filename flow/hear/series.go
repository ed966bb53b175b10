package hear

import (
	"slices"
	"strings"
)

// Several pieces of a kind whose figures stand in one row have one each: "two oaks, 40
// and 55 cm", "three shackles, 4.75, 3.25 and 2 t". What else is said of them is said of
// all. Where the row is longer or shorter than they are many, nobody knows which figure is whose,
// and none is taken.

// series is such figures: as they stand, each with its unit, and the words that they were.
type series struct {
	texts []string
	items []*item
	first *quantity // the one that is put, in whose place each piece gets its own
}

// inRows gives each head of several pieces the row of figures that follows it.
func (m *message) inRows() {
	for i, mt := range m.mentions {
		h := mt.head
		if h.count < 2 || h.path != "" || h.row != nil || h.class != "gear" && h.class != "anchor" || mt.it.silent() {
			continue
		}
		end := len(m.tokens)
		if i+1 < len(m.mentions) {
			end = m.mentions[i+1].it.from
		}
		for _, r := range m.rows(mt.it, end) {
			switch {
			case len(r.texts) == h.count && h.row == nil:
				m.takes(h, r)
			case len(r.items) > 1:
				m.leaveOut(r, end)
			}
		}
	}
}

// takes puts the first figure of a row where the one of all would go, and keeps the rest.
func (m *message) takes(h *head, r series) {
	q := readQuantity(r.texts[0])
	if q == nil {
		return
	}
	r.first, h.row = q, &r
	r.items[0].q = q
	for _, it := range r.items[1:] {
		it.q, it.used = nil, true
	}
}

// leaveOut leaves a row unread, and with it the figures of its unit up to a token.
func (m *message) leaveOut(r series, end int) {
	unit := r.items[len(r.items)-1].q.unit
	for _, it := range m.items {
		if slices.Contains(r.items, it) || it.from > r.items[0].from && it.from < end && it.q != nil && it.q.unit == unit {
			it.q, it.used = nil, false
		}
	}
}

// rows returns the rows of two or more figures of one unit behind an item, up to a token,
// in its passage.
func (m *message) rows(of *item, end int) []series {
	var out []series
	var run []*item
	last := func() {
		if r, ok := m.rowOf(run); ok {
			out = append(out, r)
		}
		run = nil
	}
	for _, it := range m.items {
		if it.from < of.to || it.from >= end || m.ofNext(it, end) || it.clause.passage != of.clause.passage || it.silent() {
			continue
		}
		switch {
		case it.q != nil && it.q.bare() && !m.tokens[it.from].figure():
			last() // "and one 2 t"
		case it.q != nil && (len(run) == 0 || m.rowGoesOn(run[len(run)-1], it)):
			run = append(run, it)
		case it.q != nil:
			last()
			run = []*item{it}
		case len(run) > 0 && it.from == run[len(run)-1].to && m.word(it.from) == "and" && it.to == it.from+1:
		default:
			last()
		}
	}
	last()
	return out
}

// ofNext reports whether a figure stands right before what is named at a token, whose it
// is: "and 25 m of chain".
func (m *message) ofNext(it *item, at int) bool {
	return at < len(m.tokens) && (it.to == at || it.to == at-1 && m.word(it.to) == "of")
}

// rowGoesOn reports whether a figure follows another with nothing but a comma or an and
// between them.
func (m *message) rowGoesOn(before, it *item) bool {
	switch it.from - before.to {
	case 0:
		return m.tokens[before.to-1].mark == comma || m.tokens[before.to-1].mark == unbroken && !before.q.bare() && before.q.unit == it.q.unit
	case 1:
		return m.word(before.to) == "and" && m.tokens[before.to-1].mark <= comma
	}
	return false
}

// rowOf reads figures that stand side by side as a row: one unit, which the last of them
// has and those before it may leave out.
func (m *message) rowOf(items []*item) (series, bool) {
	r := series{items: items}
	if len(items) == 0 {
		return r, false
	}
	end := items[len(items)-1]
	if end.q.bare() || m.word(items[0].from-1) == "between" || m.word(items[0].from) == "between" || end.to-end.from < 2 && !unitInside(m.word(end.from)) {
		return r, false
	}
	unit := m.text[m.tokens[end.to-1].from:m.tokens[end.to-1].to]
	for _, it := range items {
		for _, text := range m.figuresOf(it) {
			q := readQuantity(text)
			if q == nil {
				q, text = readQuantity(text+" "+unit), text+" "+unit
			}
			if q == nil || q.unit != end.q.unit || q.ranged {
				return series{}, false
			}
			r.texts = append(r.texts, text)
		}
	}
	return r, len(r.texts) > 1
}

// unitInside reports whether a figure and its unit are one word: "40cm".
func unitInside(word string) bool {
	return strings.IndexFunc(word, func(r rune) bool { return 'a' <= r && r <= 'z' }) > 0
}

// figuresOf returns the figures of an item: two where another is told with it, "40 and 55 cm".
func (m *message) figuresOf(it *item) []string {
	if it.q.other != nil && m.word(it.from-1) == "and" {
		return []string{it.q.other.text, m.said(it)}
	}
	return []string{m.said(it)}
}

// readQuantity reads a text that is one figure with its unit; nil where it is not.
func readQuantity(text string) *quantity {
	m := &message{text: text, tokens: tokenize(text)}
	if len(m.tokens) == 0 {
		return nil
	}
	q, n := m.quantityAt(0)
	if n != len(m.tokens) {
		return nil
	}
	return q
}

// rowField returns the field in which the first figure of a head's row was put; where
// there is none, the row is left over and told of nothing.
func (h *head) rowField() string {
	if h.row == nil {
		return ""
	}
	for field, q := range h.from {
		if q == h.row.first && h.slots[field] != nil {
			return field
		}
	}
	for _, it := range h.row.items {
		it.used = false
	}
	return ""
}
