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
			if !m.odd(it) {
				continue
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
	"swivel side plates plate single double ended endless mine dads grandads spare straight vertical hanging lying laying total marked says boot cab toolbox")

// toldOf returns the words about a piece from its name to the word that is not known.
func (m *message) toldOf(h *head, odd *item) string {
	from := odd
	for _, mt := range m.mentions {
		if mt.head == h && mt.it.clause == odd.clause {
			from = mt.it
			break
		}
	}
	if from == odd {
		return h.kind + " " + m.said(odd)
	}
	to := odd
	if odd.from > from.from {
		for _, it := range odd.clause.items {
			if it.from > odd.from {
				if it.q != nil || it.has("rkind") || it.has("rated") {
					break
				}
				to = it
			}
		}
	}
	return m.said(from, to)
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
