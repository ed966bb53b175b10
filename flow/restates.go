package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
)

// A yes or a no in the words of the question is one: "yes it runs through", "no its not
// tied back".

// restated are the fields whose question is answered so, and the word that must be among
// those that say it again. good is whether a yes counts: of a tie it is asked what it is
// tied to.
var restated = []struct {
	field, word string
	good        bool
}{{"capstan", "through", true}, {"tied_back", "tied", false}, {"tied_back", "back", false}}

// restates returns the yes or the no that the message is in words of the question alone;
// empty where it says anything else, or a yes and what is against it.
func (t *turn) restates(tp topic) string {
	field := tp.fills0()[strings.LastIndexByte(tp.fills0(), '.')+1:]
	words := strings.Fields(bareLabel(t.in.Text))
	if strings.Contains(t.in.Text, "?") || len(words) == 0 {
		return ""
	}
	yes, no := hear.Listed(words[0], "yeses"), hear.Listed(words[0], "noes")
	if yes || no {
		words = words[1:]
	}
	not := slices.ContainsFunc(words, func(w string) bool { return hear.Listed(w, "nots") })
	for _, r := range restated {
		if r.field != field || !slices.Contains(words, r.word) ||
			slices.ContainsFunc(words, func(w string) bool { return !hear.Listed(w, "nots") && !hear.Listed(w, "says_"+field) }) {
			continue
		}
		switch {
		case not && !yes:
			return "no"
		case !not && !no && r.good:
			return "yes"
		}
	}
	return ""
}
