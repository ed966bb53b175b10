package hear

import (
	"slices"
	"strings"
)

// sets are lists of single words, of which only is asked whether one is among them.
type sets map[string]map[string]bool

// lists are the sets of this package and of package flow.
var lists = loadSets("sets")

// loadSets reads such lists from a file under words, in which a row has many words.
func loadSets(name string) sets {
	rows := map[string][]string{}
	readLists(name, rows)
	out := sets{}
	for list := range rows {
		out[list] = map[string]bool{}
		for _, w := range strings.Fields(strings.Join(rows[list], " ")) {
			out[list][w] = true
		}
	}
	return out
}

// has reports whether a word stands in a list.
func (s sets) has(word, list string) bool {
	words, ok := s[list]
	if !ok {
		panic("hear: there is no list " + list)
	}
	return words[word]
}

// Listed reports whether a word stands in a list of words/sets.txt. A list that is not
// there is our own bug.
func Listed(word, list string) bool { return lists.has(strings.ToLower(word), list) }

// OnlyMeasured reports whether the words that stand with lengths are all such as a step, a
// wheel, a hitch or what is buried is measured with. Any other may name the thing that was
// measured: "the ash is 55 cm".
func OnlyMeasured(text string) bool {
	return !slices.ContainsFunc(tokenize(text), func(t token) bool { return !lists.has(t.text, "measured") && !t.figure() })
}
