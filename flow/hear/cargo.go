package hear

import (
	"slices"
	"strings"
)

// What lies in a vehicle and is nobody: "600 kilos of potatoes in the back". A person who is
// named beside the goods counts as inside with them, unless it is only said whose vehicle it
// is or who loaded it.

// cargo reports whether it is goods that an item says to be inside, and nobody.
func (m *message) cargo(it *item) bool {
	found := m.soMuch(it)
	for i := it.clause.from; i < it.clause.to; i++ {
		if i >= it.from && i < it.to {
			continue
		}
		w := m.word(i)
		if isGoods(w) {
			if i >= it.to && m.word(i-1) == "with" || i >= it.to && m.word(i-2) == "with" || i < it.from && m.nameBeside(it.clause, i) {
				return false
			}
			found = true
			continue
		}
		person := talk.is(w, "someone") && !slices.Contains([]string{"we", "i", "us", "our"}, w) || lists.has(w, "somebody")
		if !person || m.loads(i, it.from) {
			continue
		}
		if v := m.whoseVehicle(i, it.from); v > i {
			i = v
			continue
		}
		return false
	}
	return found
}

// onlyCargo takes a clause as read that says nothing but what goods lie where: with nobody
// inside it answers that part of the question. A figure beside them is told as not read.
func (m *message) onlyCargo(it *item) {
	for _, o := range it.clause.items {
		if o != it && !o.has("filler") && !o.has("harmless") && !o.has("someone") && !isGoods(m.word(o.from)) && !lists.has(m.word(o.from), "loads") && !lists.has(m.word(o.from), "thingbefore") {
			return
		}
	}
	for _, o := range it.clause.items {
		o.used = true
	}
}

// nameBeside reports whether a word that may be a name is told together with the goods at
// the token i: "Anna and the hay". A thing has an article or a count before it.
func (m *message) nameBeside(c *clause, i int) bool {
	j := i - 1
	for j > c.from && lists.has(m.word(j), "thingbefore") {
		j--
	}
	if j < 1 || m.tokens[j-1].mark != unbroken || !lists.has(m.word(j), "joins") {
		return false
	}
	w := m.word(j - 1)
	if isGoods(w) || known[w] || lists.has(w, "loads") || m.means(j-1) {
		return false
	}
	return j-1 <= c.from || !lists.has(m.word(j-2), "thingbefore") && !m.means(j-2)
}

// means reports whether the token i belongs to something that was read.
func (m *message) means(i int) bool {
	it := m.itemAt(i)
	return it != nil && (it.q != nil || len(it.means) > 0)
}

// isGoods reports whether a word names goods, be it with a letter too few, doubled or swapped.
func isGoods(w string) bool {
	if lists.has(w, "goods") {
		return true
	}
	if known[w] || lists.has(w, "somebody") || len(w) < 5 {
		return false
	}
	for g := range lists["goods"] {
		if len(g) >= 5 && g[0] == w[0] && oneSlip(g, w) && (len(w) <= len(g) || doubled(w)) {
			return true
		}
	}
	return false
}

// doubled reports whether a letter stands twice in a row.
func doubled(w string) bool {
	for i := 1; i < len(w); i++ {
		if w[i] == w[i-1] {
			return true
		}
	}
	return false
}

// soMuch reports whether a weight is told to be in a place, by itself or of something:
// "another 400 kilos in the back", "half a ton of swedes on board".
func (m *message) soMuch(it *item) bool {
	for _, o := range it.clause.items {
		if o.q == nil || o.to > it.from || !o.q.is(mass) {
			continue
		}
		if o.to == it.from || m.word(o.to) == "of" && it.from-o.to <= 4 {
			return true
		}
	}
	return false
}

// loads reports whether whoever the token i names has loaded the goods that come next, before
// the token end: "dad put hay in the back".
func (m *message) loads(i, end int) bool {
	i++
	if !lists.has(m.word(i), "loads") && !lists.has(m.word(i-1), "loads") {
		return false
	}
	for ; i < end; i++ {
		switch w := m.word(i); {
		case isGoods(w):
			return true
		case lists.has(w, "wherewith"), talk.is(w, "someone"), lists.has(w, "somebody"):
			return false
		}
	}
	return false
}

// whoseVehicle returns the token of the vehicle of which the token i says whose it is, before
// the token end: "my brothers 3.5 t van"; i itself where it says no such thing.
func (m *message) whoseVehicle(i, end int) int {
	if w := m.word(i); !strings.HasSuffix(w, "s") && !lists.has(w, "whose") {
		return i
	}
	for j := i + 1; j < min(end, i+6); j++ {
		w := m.word(j)
		if o := m.itemAt(j); o != nil && o.has("vehicle") {
			return j
		}
		if lists.has(w, "wherewith") || (lists.has(w, "somebody") || talk.is(w, "someone")) && !strings.HasSuffix(w, "s") {
			return i
		}
	}
	return i
}
