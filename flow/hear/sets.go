package hear

import (
	"fmt"
	"strings"
)

// sets are lists of single words, of which only is asked whether one is among them.
type sets map[string]map[string]bool

// lists are the sets of this package and of package flow.
var lists = loadSets("sets")

// loadSets reads such lists from a file under words: the name of each in brackets, and
// its words below. A broken file is our own bug.
func loadSets(name string) sets {
	text, err := files.ReadFile("words/" + name + ".txt")
	if err != nil {
		panic("hear: " + err.Error())
	}
	out, list := sets{}, ""
	for n, row := range strings.Split(string(text), "\n") {
		switch {
		case row == "" || strings.HasPrefix(row, "#"):
		case strings.HasPrefix(row, "["):
			if list = strings.Trim(row, "[]"); out[list] != nil {
				panic(fmt.Sprintf("hear: words/%s.txt line %d: %s is there already", name, n+1, list))
			}
			out[list] = map[string]bool{}
		case list == "":
			panic(fmt.Sprintf("hear: words/%s.txt line %d stands in no list", name, n+1))
		default:
			for _, w := range strings.Fields(row) {
				out[list][w] = true
			}
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
