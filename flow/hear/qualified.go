package hear

import (
	"strings"
	"unicode"
)

// No list has every way in which a shackle can be wrong: a word about a piece that
// stands in none leaves its condition not known, and the words become its name, so
// that it is asked about in them.

// qualified looks for such words beside each new piece.
func (m *message) qualified() {
	for _, c := range m.clauses {
		if c.ask {
			continue
		}
		for _, it := range c.items {
			if !m.odd(it) || m.broughtBy(it) || m.tellsMachine(it) {
				continue
			}
			if _, looked := LookedBy(m.text[m.tokens[c.from].from:m.tokens[c.to-1].to]); looked {
				break // who looked is said, and not how it is
			}
			if h, _ := m.owner(it, func(mt *mention) bool { return mt.head.class == "anchor" || mt.head.class == "gear" }); h != nil && h.class == "anchor" {
				if f := h.slots["alive"]; f != nil && f.Value == "true" && it.from < c.iffy {
					delete(h.slots, "alive") // whether it is sound is asked
					m.unuse(f.Said)
				}
				continue
			}
			h, _ := m.owner(it, func(mt *mention) bool { return mt.head.class == "gear" && mt.head.kind != "" })
			if h == nil || h.path != "" || it.from >= c.iffy {
				continue
			}
			if old := h.slots["condition"]; old != nil && old.Value == "damaged" {
				continue
			}
			h.slots["condition"] = &Fact{Value: "unknown", Said: m.said(it)}
			it.used = true
			if m.topic.lists() && h.more["name"] == "" {
				h.more["name"] = m.toldOf(h, it)
			}
		}
	}
}

// lists reports whether gear is laid out at t, not spoken of afterwards.
func (t Topic) lists() bool { return t == TopicNone || t == TopicPeople || t.things() }

// odd reports whether an item is a word in no list that describes: none that says
// whose a thing is, of what colour or where it lies.
func (m *message) odd(it *item) bool {
	t := m.tokens[it.from]
	first := []rune(m.text[t.from:])[0]
	switch {
	case it.means != nil || it.q != nil || it.used || it.to-it.from != 1, len(t.text) < 3, idle[t.text], known[t.text], harmless[t.text], addsOne[t.text]:
		return false
	case !unicode.IsLetter(first), unicode.IsUpper(first) && it.from > 0, strings.ContainsAny(m.text[t.from:t.to], "'’"):
		return false
	}
	return !m.placed(it)
}

// harmless are the words that tell nothing of how a piece is.
var harmless = wordSet("red green blue yellow orange black white grey gray brown pink purple silver galvanised galvanized painted braided plaited laid " +
	"stranded strand webbing woven static alloy forged screw omega round flat wide thick thin short longer shorter length lengths metre metres meter meters diameter " +
	"swivel side plates plate single double ended endless mine dads grandads spare straight vertical hanging lying laying total marked says boot cab toolbox " +
	"leads lead leading led points pointing handing hands handed passing passes passed tending tends taking takes taken holds holding bringing brings fetching fetched carrying carries")

// tellsMachine reports whether a word stands right before a machine that it describes: in
// "a rope and a kubota tractor" it is no word of the rope.
func (m *message) tellsMachine(it *item) bool {
	next := m.itemAt(it.to)
	return next != nil && next.clause == it.clause && m.tokens[it.to-1].mark == unbroken && (next.has("vehicle") || next.has("winch") || next.has("hauling"))
}

// broughtBy reports whether a word before a piece is of who has it or brought it, and not
// of how it is: "anna went and got her winch rope".
func (m *message) broughtBy(it *item) bool {
	for _, mt := range m.mentionsIn(it.clause) {
		if mt.head.class != "gear" || mt.it.from < it.to {
			continue
		}
		for i := it.to; i < mt.it.from; i++ {
			if lists.has(m.word(i), "brings") {
				return true
			}
		}
		return false
	}
	return false
}

// toldOf returns the words about a piece from its name to the word that is not known: a
// group of nouns and what goes with them. Where a verb or another sentence stands
// between, it is the kind and that word alone.
func (m *message) toldOf(h *head, odd *item) string {
	from := odd
	for _, mt := range m.mentions {
		if mt.head == h && mt.it.clause == odd.clause {
			from = mt.it
			break
		}
	}
	first, last := min(from.from, odd.from), max(from.to, odd.to)
	if from == odd || m.breaksName(first, last) < last {
		return h.kind + " " + m.said(odd)
	}
	to := odd
	if odd.from > from.from {
		for _, it := range odd.clause.items {
			if it.from > odd.from {
				if it.q != nil || it.has("rkind") || it.has("rated") || m.breaksName(it.from, it.to) < it.to {
					break
				}
				to = it
			}
		}
	}
	return m.said(from, to)
}

// breaksName returns the first of the words from a to b by which something goes on that
// is no name; b where none does.
func (m *message) breaksName(a, b int) int {
	for i := a; i < b; i++ {
		if lists.has(m.word(i), "breaksname") {
			return i
		}
	}
	return b
}

// servesAs returns the piece that is told to serve as another: a seat belt as a
// sling is one thing, and no sling.
func (m *message) servesAs(it *item) *head {
	at := it.from - 1
	if w := m.word(at); w == "a" || w == "an" || w == "the" {
		at--
	}
	if m.word(at) != "as" && !(m.word(at) == "for") {
		return nil
	}
	for i := len(m.mentions) - 1; i >= 0; i-- {
		if mt := m.mentions[i]; mt.it.clause == it.clause && mt.it.from < it.from && mt.head.class == "gear" && mt.head.more["improvised"] != "" {
			return mt.head
		}
	}
	return nil
}
