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

// mended are the classes in which a word with one wrong letter is understood.
// Words of denial and doubt are not among them.
var mended = []string{"ground", "vehicle", "gear", "material", "anchor", "hazard", "knot", "winch"}

// nearly returns the only phrase of one word that is one slip of the finger
// from word, if word is long enough to tell.
func (v vocabulary) nearly(word string) *phrase {
	if len(word) < 6 {
		return nil
	}
	var found *phrase
	for first, list := range v {
		if first[0] != word[0] || first == word || len(first) < 5 || !oneSlip(first, word) {
			continue
		}
		for _, p := range list {
			if len(p.words) != 1 || !slices.ContainsFunc(mended, func(c string) bool { return p.means[c] != "" }) {
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

// oneSlip reports whether one letter dropped, added, changed or swapped with
// its neighbour turns a into b.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 1:
		return a[i:] == b[i+1:]
	case 0:
		return i < len(a) && (a[i+1:] == b[i+1:] ||
			i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:])
	}
	return false
}
