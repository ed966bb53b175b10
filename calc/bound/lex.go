package bound

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is the greatest length of a text that is read, in bytes. A quantity is
// a few words; anything longer is a message, and the person should be asked
// again rather than have a figure picked from it.
const longest = 200

type kind int

const (
	numeral  kind = iota // figures: 2.4, 5,200, 12 000
	fraction             // a single character such as ½
	word                 // letters, in lower case
	sign                 // anything else, one character
)

// token is one piece of a text. glued tells that no space stood before it.
type token struct {
	kind  kind
	text  string
	value float64
	glued bool
	form  form
}

// is reports whether t is the word or sign s.
func (t token) is(s string) bool { return (t.kind == word || t.kind == sign) && t.text == s }

// Characters people type, paste or get from a phone's keyboard for the plain ones.
var plain = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\u2007", " ", "\u2008", " ", "\u200a", " ",
	"\u200b", " ", "\u200e", " ", "\u200f", " ", "\u2060", " ", "\ufeff", " ", "\t", " ", "\n", " ", "\r", " ",
	"−", "-", "–", "-", "—", "-", "‐", "-", "‑", "-",
	"′′", `"`, "’’", `"`, "′", "'", "’", "'", "‘", "'", "´", "'", "`", "'",
	"″", `"`, "“", `"`, "”", `"`, "''", `"`,
	"º", "°", "˚", "°", "⁄", "/", "％", "%", "≈", "~", "…", "...",
	"+/-", "±", "+-", "±", "+ / -", "±", "-/+", "±", "∓", "±",
)

var fractions = map[rune]float64{
	'½': 1. / 2, '⅓': 1. / 3, '⅔': 2. / 3, '¼': 1. / 4, '¾': 3. / 4,
	'⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8,
}

// lex splits text into tokens. It fails on figures that can not be told.
func lex(text string) ([]token, *fault) {
	if !utf8.ValidString(text) {
		return nil, &fault{rank: rankValue, problem: "is not readable text"}
	}
	s := []rune(strings.ToLower(plain.Replace(text)))
	out := make([]token, 0, 1+len(s)/2) // most figures and words have a space behind them
	glued := false
	for i := 0; i < len(s); {
		r := s[i]
		start := i
		switch {
		case r == ' ':
			i++
			glued = false
			continue
		case digit(s, i) || (r == '.' || r == ',') && digit(s, i+1) && !digit(s, i-1):
			i = figures(s, i)
			value, form, ok := parseNumeral(string(s[start:i]))
			if !ok {
				return nil, &fault{rank: rankValue,
					problem: "has a figure that can not be told: " + string(s[start:i]),
					wants:   "it with at most one decimal mark", example: "2400.5 or 2,400.5"}
			}
			out = append(out, token{numeral, string(s[start:i]), value, glued, form})
		case fractions[r] != 0:
			i++
			out = append(out, token{fraction, string(r), fractions[r], glued, formWhole})
		case unicode.IsLetter(r):
			for i < len(s) && unicode.IsLetter(s[i]) {
				i++
			}
			out = append(out, token{word, string(s[start:i]), 0, glued, 0})
			if i < len(s) && s[i] == '.' && !digit(s, i+1) {
				i++ // the point of an abbreviation, or of a sentence
			}
		default:
			i++
			out = append(out, token{sign, string(r), 0, glued, 0})
		}
		glued = true
	}
	return join(out), nil
}

// figures returns where the figures that start at i end: digits with marks
// between them, and groups of three set off by single spaces.
func figures(s []rune, i int) int {
	start := i
	for digit(s, i) || i < len(s) && (s[i] == '.' || s[i] == ',') && digit(s, i+1) {
		i++
	}
	if n := i - start; n > 3 || s[start] == '0' || strings.ContainsAny(string(s[start:i]), ".,") {
		return i
	}
	grouped := false
	for i < len(s) && s[i] == ' ' && digit(s, i+1) && digit(s, i+2) && digit(s, i+3) &&
		!digit(s, i+4) && !(i+4 < len(s) && s[i+4] == '/') {
		i += 4
		grouped = true
	}
	if grouped && i < len(s) && (s[i] == '.' || s[i] == ',') && digit(s, i+1) {
		for i++; digit(s, i); i++ {
		}
	}
	return i
}

func digit(s []rune, i int) bool { return i >= 0 && i < len(s) && '0' <= s[i] && s[i] <= '9' }

// idioms are words that say together what one sign says.
var idioms = []struct {
	words []string
	sign  string
}{
	{[]string{"plus", "or", "minus"}, "±"}, {[]string{"plus", "/", "minus"}, "±"}, {[]string{"plus", "minus"}, "±"},
	{[]string{"give", "or", "take"}, "±"},
	{[]string{"more", "or", "less"}, "~"}, {[]string{"or", "so"}, "~"}, {[]string{"ish"}, "~"},
	{[]string{"up", "to"}, "≤"}, {[]string{"at", "least"}, "≥"},
}

// join makes one sign of every idiom, in place.
func join(in []token) []token {
	out := in[:0]
next:
	for i := 0; i < len(in); i++ {
		for _, way := range idioms {
			if starts(in[i:], way.words) {
				out = append(out, token{kind: sign, text: way.sign})
				i += len(way.words) - 1
				continue next
			}
		}
		out = append(out, in[i])
	}
	return out
}

func starts(tokens []token, words []string) bool {
	if len(tokens) < len(words) {
		return false
	}
	for i, w := range words {
		if !tokens[i].is(w) {
			return false
		}
	}
	return true
}
