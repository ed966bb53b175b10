package hear

import "strings"

// pullerItself makes the vehicle that pulls of the bare word puller, where a sentence
// begins with it and says how that stands or what it weighs: "the puller weighs 6 t" is
// of no other, whatever was asked. A machine that pulls and is named besides is the same.
func (m *message) pullerItself() {
	name, means := "puller", map[string]string{"vehicle": "puller", "called": "puller"}
	for _, it := range m.items {
		if !it.has("winch") && !it.has("hauling") && !strings.HasPrefix(it.means["vehicle"], "puller") {
			continue
		}
		if name != "puller" && name != it.name {
			return // which of them it is, is not told
		}
		name, means = it.name, it.means
	}
	for _, it := range m.items {
		if (it.name == "puller" || it.name == "puller is") && it.has("cue") && m.beginsOf(it) && !m.namesOther(it) {
			it.means, it.name = means, name
		}
	}
}

// beginsOf reports whether a clause begins with a thing and goes on to tell of it.
func (m *message) beginsOf(it *item) bool {
	at := it.from
	for at > it.clause.from && lists.has(m.word(at-1), "ownarticle") {
		at--
	}
	o := m.itemAt(it.to)
	return at == it.clause.from && (lists.has(m.word(it.to-1), "tellsof") || lists.has(m.word(it.to), "tellsof") || o != nil && o.clause == it.clause && o.q != nil && !o.q.bare())
}

// namesOther reports whether the clause of a thing names a vehicle.
func (m *message) namesOther(it *item) bool {
	for _, o := range it.clause.items {
		if o.has("vehicle") || o.has("winch") || o.has("hauling") {
			return true
		}
	}
	return false
}

// besideWinch reports whether the other of two things that pull is told beside the winch
// and does not bear it: "a hand winch and a quad".
func (m *message) besideWinch(winch *actor, both []*actor) bool {
	for _, a := range both {
		if a == winch {
			continue
		}
		first, second := winch.items[0], a.items[0]
		if first.from > second.from {
			first, second = second, first
		}
		at := second.from - 1
		for at >= first.to && lists.has(m.word(at), "ownarticle") && !lists.has(m.word(at), "joins") {
			at--
		}
		if at < first.to || !lists.has(m.word(at), "besides") || m.bearsWinch(a.items[0]) || m.bearsWinch(winch.items[0]) {
			return false
		}
		return lists.has(m.word(second.from-1), "ownarticle") && !lists.has(m.word(second.from-1), "joins")
	}
	return false
}
