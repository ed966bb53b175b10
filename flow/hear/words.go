package hear

import (
	"embed"
	"fmt"
	"slices"
	"strings"
)

//go:embed words/*.txt
var files embed.FS

// A phrase is some words that mean something: under each class one value.
type phrase struct {
	words []string
	means map[string]string
}

func (p *phrase) name() string { return strings.Join(p.words, " ") }

// vocabulary finds phrases by the word that they start with, longest first.
type vocabulary map[string][]*phrase

// What the program reads facts with, and what whole messages may be.
var (
	talk = load("ground", "machine", "gear", "hazard", "talk")
	acts = load("acts")
)

// load reads word lists. A broken row is our own bug.
func load(names ...string) vocabulary {
	v := vocabulary{}
	for _, name := range names {
		text, err := files.ReadFile("words/" + name + ".txt")
		if err != nil {
			panic("hear: " + err.Error())
		}
		class := ""
		for n, row := range strings.Split(string(text), "\n") {
			switch {
			case row == "" || strings.HasPrefix(row, "#"):
			case strings.HasPrefix(row, "["):
				class = strings.Trim(row, "[]")
			default:
				words, value, ok := strings.Cut(row, " = ")
				if !ok || class == "" || value == "" {
					panic(fmt.Sprintf("hear: words/%s.txt line %d is no phrase = value", name, n+1))
				}
				v.add(words, class, value)
			}
		}
	}
	for _, list := range v {
		slices.SortStableFunc(list, func(a, b *phrase) int { return len(b.words) - len(a.words) })
	}
	return v
}

func (v vocabulary) add(text, class, value string) {
	var words []string
	for _, t := range tokenize(text) {
		words = append(words, t.text)
	}
	if len(words) == 0 {
		panic(fmt.Sprintf("hear: %q is no phrase", text))
	}
	for _, p := range v[words[0]] {
		if slices.Equal(p.words, words) {
			p.means[class] = value
			return
		}
	}
	v[words[0]] = append(v[words[0]], &phrase{words, map[string]string{class: value}})
}

// longest returns the longest phrase at tokens[i]. A phrase does not reach
// over a comma or the end of a sentence.
func (v vocabulary) longest(tokens []token, i int) *phrase {
	for _, p := range v[tokens[i].text] {
		if i+len(p.words) <= len(tokens) && p.fits(tokens[i:]) {
			return p
		}
	}
	return nil
}

func (p *phrase) fits(tokens []token) bool {
	for j, w := range p.words {
		if tokens[j].text != w || j < len(p.words)-1 && tokens[j].mark != unbroken {
			return false
		}
	}
	return true
}

// is reports whether word is listed by itself in class.
func (v vocabulary) is(word, class string) bool {
	_, ok := v.value(word, class)
	return ok
}

func (v vocabulary) value(word, class string) (string, bool) {
	for _, p := range v[word] {
		if len(p.words) == 1 {
			value, ok := p.means[class]
			return value, ok
		}
	}
	return "", false
}

// mended are the classes in which a word with one wrong letter is understood:
// what things are called and what is stamped on them. Words of denial, of doubt,
// of number and of unit are not among them, nor what speaks for a piece.
var mended = []string{"ground", "vehicle", "gear", "material", "anchor", "hazard", "knot", "winch", "rkind", "rated", "depth", "measure of"}

// known are all words that stand in a phrase: none of them is a slip of another,
// if it is more than that word's plural.
var known = func() map[string]bool {
	out := map[string]bool{}
	for _, v := range []vocabulary{talk, acts} {
		for _, list := range v {
			for _, p := range list {
				for _, w := range p.words {
					out[w] = true
				}
			}
		}
	}
	return out
}()

// nearly returns the only phrase of one word that is one slip of the finger
// from word, if both are long enough to tell.
func (v vocabulary) nearly(word string) *phrase {
	if len(word) < 4 {
		return nil
	}
	var found *phrase
	for first, list := range v {
		if first[0] != word[0] || len(first) < 5 || !oneSlip(first, word) {
			continue
		}
		for _, p := range list {
			if len(p.words) != 1 || known[word] && word != first+"s" || p.means["cond"] != "damaged" && !slices.ContainsFunc(mended, func(c string) bool { return p.means[c] != "" }) {
				continue
			}
			if found != nil {
				return nil
			}
			found = p
		}
	}
	return found
}

// slipOf reports whether a word is one slip of the finger from a word of a class.
func (v vocabulary) slipOf(word, class string) bool {
	for first, list := range v {
		if len(first) < 5 || first[0] != word[0] || !oneSlip(first, word) {
			continue
		}
		if slices.ContainsFunc(list, func(p *phrase) bool { return len(p.words) == 1 && p.means[class] != "" }) {
			return true
		}
	}
	return false
}

// oneSlip reports whether one slip turns meant into typed: a letter left out or
// typed twice, two neighbours swapped and, in words of six letters and more,
// another letter put in, or taken for one that lies beside it or sounds like it.
func oneSlip(meant, typed string) bool {
	long, short := meant, typed
	if len(long) < len(short) {
		long, short = short, long
	}
	i := 0
	for i < len(short) && long[i] == short[i] {
		i++
	}
	switch len(long) - len(short) {
	case 1:
		twice := i > 0 && long[i] == long[i-1]
		return long[i+1:] == short[i:] && (long == meant || twice || len(meant) >= 6)
	case 0:
		if i == len(long) {
			return false
		}
		swapped := i+1 < len(long) && long[i] == short[i+1] && long[i+1] == short[i] && long[i+2:] == short[i+2:]
		return swapped || len(meant) >= 6 && long[i+1:] == short[i+1:] && mistaken(long[i], short[i])
	}
	return false
}

// keys are the letters of a keyboard, row by row.
var keys = []string{"qwertyuiop", "asdfghjkl", "zxcvbnm"}

// mistaken reports whether two letters lie side by side on a keyboard or are
// sound alike, which people mix up in spelling.
func mistaken(a, b byte) bool {
	for _, alike := range []string{"aeiouy", "ck", "sz", "sc"} {
		if strings.IndexByte(alike, a) >= 0 && strings.IndexByte(alike, b) >= 0 {
			return true
		}
	}
	at := func(c byte) (row, col int) {
		for r, k := range keys {
			if i := strings.IndexByte(k, c); i >= 0 {
				return r, i
			}
		}
		return -9, -9
	}
	ra, ca := at(a)
	rb, cb := at(b)
	// A lower row stands half a key to the right of the one above it.
	switch rb - ra {
	case 0:
		return max(ca-cb, cb-ca) == 1
	case 1:
		return cb == ca || cb == ca-1
	case -1:
		return cb == ca || cb == ca+1
	}
	return false
}
