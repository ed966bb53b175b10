package hear

import "slices"

// Animals that are in what is to be pulled shift, tip it and get hurt: they are unloaded
// before anything moves. Any such place is one of the load, whatever it is called: "3 cows
// in the trailer", "a lorry full of sheep". Animals in a field are none, and what is said
// to be empty or unloaded tells of none.

// livestock finds the clauses that tell of animals aboard and where in them.
func (m *message) livestock() map[*clause]*item {
	var out map[*clause]*item
	for i := range m.tokens {
		it := m.itemAt(i)
		if !lists.has(m.word(i), "stock") || lists.has(m.word(i+1), "stowage") || it == nil || it.silent() || m.anyIn(it.clause, "unloaded") || !m.stowed(i, it.clause) {
			continue
		}
		if out == nil {
			out = map[*clause]*item{}
		}
		if out[it.clause] == nil {
			out[it.clause] = it
		}
	}
	return out
}

// stowed reports whether an animal is told to be in a vehicle: behind it a word such as
// in and a vehicle, or before it a vehicle that is full of it.
func (m *message) stowed(at int, c *clause) bool {
	in := 0
	for k := at + 1; k < c.to && k <= at+mostBetween; k++ {
		switch w := m.word(k); {
		case lists.has(w, "stowedin"):
			in = k
		case in > 0 && (lists.has(w, "stowage") || m.vehicleAt(k)):
			return true
		case w == "aboard", w == "onboard", w == "on" && m.word(k+1) == "board":
			return true
		}
	}
	if in > 0 && (in == c.to-1 || in == at+1) && in+1 == c.to && m.countBefore(at) {
		return true // "with 20 sheep in"
	}
	with := false
	for k := at - 1; k >= c.from && k >= at-mostBetween; k-- {
		switch w := m.word(k); {
		case lists.has(w, "laden"):
			with = true
		case with && (lists.has(w, "stowage") || m.vehicleAt(k)):
			return true
		}
	}
	return false
}

// forStock reports whether a word for animals is only what a vehicle is built for: "livestock
// trailer".
func (m *message) forStock(it *item) bool {
	return it.to-it.from == 1 && lists.has(m.word(it.from), "stock") && (lists.has(m.word(it.to), "stowage") || m.vehicleAt(it.to)) && !slices.Contains([]string{"in", "on"}, m.word(it.to))
}

// emptied reports whether a message says that the vehicle is empty, or has no animals in it.
func (m *message) emptied() bool {
	for i := range m.tokens {
		w := m.word(i)
		if (w == "empty" || w == "unloaded" || w == "emptied") && m.word(i-1) != "not" && m.word(i-1) != "half" || w == "nothing" && m.word(i+1) == "in" {
			return true
		}
	}
	return len(m.noStock()) > 0
}

// noStock are the words for animals of whatever kind that a no stands before: "no animals",
// "there is no livestock in it". That there are none in a field says nothing of the load.
func (m *message) noStock() []*item {
	var out []*item
	for i := range m.tokens {
		if it := m.itemAt(i); it != nil && slices.Contains([]string{"animals", "animal", "livestock"}, m.word(i)) && (m.word(i-1) == "no" || m.word(i-1) == "without" || m.word(i-1) == "any" && m.word(i-2) == "without") &&
			!it.silent() && !slices.ContainsFunc(m.tokens[it.clause.from:it.clause.to], func(t token) bool { return notAboard[t.text] }) {
			out = append(out, it)
		}
	}
	return out
}

// notAboard are words with which animals are told to be elsewhere, or but for some.
var notAboard = wordSet("field paddock pasture meadow but except road about around near")

// whereNot are the words beside animals that are not there.
var whereNot = wordSet("there is are no any without in inside it the aboard now on board")

// mostBetween is how many words may stand between an animal and what it is in.
const mostBetween = 6

// vehicleAt reports whether a token names a vehicle.
func (m *message) vehicleAt(i int) bool {
	it := m.itemAt(i)
	return it != nil && it.has("vehicle")
}

// countBefore reports whether a number stands right before a token.
func (m *message) countBefore(i int) bool {
	it := m.itemAt(i - 1)
	return it != nil && it.q != nil && it.q.bare()
}

// onlyStock reports whether it is the animals of a clause that an item says to be inside,
// and nobody.
func (m *message) onlyStock(it *item, stock map[*clause]*item) bool {
	if stock[it.clause] == nil || m.someone(it) || m.anyIn(it.clause, "somebody") {
		return false
	}
	it.used = true
	return true
}
