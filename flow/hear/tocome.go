package hear

import (
	"regexp"
	"slices"
	"strings"
)

// A thing that somebody is getting is not there: whatever is told of it is told of
// nothing that could carry or pull, and never of what is there.

// fetched are words for a thing that is still to be had; had are those that say it is.
var (
	fetched = wordSet("get gets getting buy buying order ordering find hire hiring rent renting fetch fetching borrow borrowing bring bringing")
	had     = wordSet("got bought found hired rented fetched borrowed brought has have had")
	article = wordSet("a an another some new his her my our their the bigger better stronger longer other one")
)

// toCome finds a piece, an anchor or a vehicle that is still to be had, and has the
// rest of its sentence state nothing but dangers.
func (m *message) toCome() {
	for i, c := range m.clauses {
		for _, it := range c.items {
			if !it.has("gear") && !it.has("vehicle") && !it.has("winch") {
				continue
			}
			at := m.fetchedAt(it)
			if at < 0 {
				continue
			}
			c.iffy = min(c.iffy, at)
			for _, on := range m.clauses[i+1:] {
				if on.sentence != c.sentence || slices.ContainsFunc(on.items, func(o *item) bool { return o.has("hazard") }) {
					break
				}
				on.iffy = min(on.iffy, on.from)
			}
		}
	}
}

// fetchedAt returns the token that says that a thing is still to be had, or -1.
func (m *message) fetchedAt(it *item) int {
	at := it.from - 1
	for at >= it.clause.from && (article[m.word(at)] || m.describes(at)) {
		at--
	}
	if at < it.clause.from || at == it.from-1 || !fetched[m.word(at)] {
		return -1
	}
	for i := it.clause.from; i < at; i++ {
		if w := m.word(i); had[w] && w != "have" {
			return -1
		}
	}
	// "bring" and "fetch" by themselves tell what was brought along, in the words of
	// whoever lays it out; what will be brought, or is being, is not there.
	if w := m.word(at); w == "bring" || w == "fetch" || w == "borrow" || w == "find" || w == "hire" || w == "rent" {
		if !slices.ContainsFunc(m.tokens[it.clause.from:at], func(t token) bool { return coming[t.text] }) {
			return -1
		}
	}
	return at
}

var coming = wordSet("will would could can might may should ill well hell shell theyll gonna going must need to")

// describes reports whether a token is a word that only tells what kind of thing it is.
func (m *message) describes(i int) bool {
	for _, it := range m.items {
		if it.from <= i && i < it.to {
			return it.has("material") || it.q != nil || describes(m.word(i))
		}
	}
	return false
}

var stillToCome = regexp.MustCompile(`(?i)\b(?:get|gets|getting|buy|buying|order|ordering|hir(?:e|ing)|rent(?:ing)?|fetch(?:ing)?|borrow(?:ing)?|bring(?:ing)?|find)\s+(?:\pL+\s+){1,3}`)

// ToCome reports whether words that were not read tell of a thing that is still to
// be had.
func ToCome(rest string) bool {
	if !stillToCome.MatchString(rest) {
		return false
	}
	tokens := tokenize(rest)
	if len(tokens) == 0 {
		return false
	}
	m := &message{text: rest, tokens: tokens}
	m.divide()
	m.scan()
	return slices.ContainsFunc(m.items, func(it *item) bool {
		return (it.has("gear") || it.has("vehicle") || it.has("winch")) && m.fetchedAt(it) >= 0 && strings.TrimSpace(rest) != ""
	})
}
