package hear

import (
	"cmp"
	"slices"
	"strings"

	"linetender/calc/job"
)

// A Meant is an answer that a misspelt name may be meant for, and what the words behind
// it say that it becomes.
type Meant struct {
	Object string
	Said   string // the words for it
	Value  string
}

// Nearest returns the answers whose names are spelt most like the words that a text
// begins with, where those name none. called are names of things by what they stand
// for, such as "oak" for the place of an anchor. It is for asking which is meant, never
// for taking it.
func Nearest(text string, called map[string]string) []Meant {
	tokens := tokenize(text)
	var out []Meant
	best, most := 0, 0
	try := func(name []string, object string, at int) {
		far := 0
		for j, w := range name {
			if at+j >= len(tokens) {
				return
			}
			slips, ok := likely(w, tokens[at+j].text)
			if !ok {
				return
			}
			far += slips
		}
		if len(name) < most || len(name) == most && far > best {
			return
		}
		if len(name) > most || far < best {
			out, best, most = nil, far, len(name)
		}
		n := Meant{Object: object, Said: words(text, tokens[at:at+len(name)])}
		if after := become(tokens[at+len(name):]); len(after) > 0 {
			n.Value = words(text, after)
		}
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for at := range min(len(tokens), 3) {
		for _, list := range acts {
			for _, p := range list {
				if object, ok := p.means["object"]; ok {
					try(p.words, object, at)
				}
			}
		}
		for name, object := range called {
			var is []string
			for _, t := range tokenize(name) {
				is = append(is, t.text)
			}
			if len(is) > 0 {
				try(is, object, at)
			}
		}
	}
	slices.SortFunc(out, func(a, b Meant) int { return cmp.Compare(a.Object, b.Object) })
	return out
}

// likely returns how many slips lie between a word and what was typed for it: a letter
// left out, put in, taken for another or swapped with its neighbour; and whether they
// are few enough for the length of the word.
func likely(word, typed string) (slips int, ok bool) {
	if word == typed {
		return 0, true
	}
	if slips, ok = slipped(word, typed); !ok {
		slips, ok = slipped(soundsLike.Replace(word), soundsLike.Replace(typed))
	}
	return slips, ok
}

// soundsLike writes in one way what is spelt in several.
var soundsLike = strings.NewReplacer("ch", "k", "ck", "k", "ph", "f")

func slipped(word, typed string) (slips int, ok bool) {
	if len(word) < 4 || len(typed) < 3 || word[0] != typed[0] {
		return 0, false
	}
	slips = job.Edits(word, typed)
	return slips, slips <= 2 && 3*slips <= len(word)
}
