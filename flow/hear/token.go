package hear

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mark is what stands behind a token.
type mark int

const (
	unbroken mark = iota
	comma         // a comma, a bracket, a spaced dash, or the point of an abbreviation
	full          // the end of a sentence
	asked         // a question mark
)

// token is a word, a figure or a sign. Its text is in lower case, without
// apostrophes; from and to are its place in the message.
type token struct {
	text     string
	from, to int
	mark     mark
}

// figure reports whether t is written in digits or is a fraction sign.
func (t token) figure() bool {
	r, _ := utf8.DecodeRuneInString(t.text)
	return unicode.IsDigit(r) || r == '.' || r == ',' || strings.ContainsRune("½⅓⅔¼¾⅛⅜⅝⅞", r)
}

// Tokens with a shape of their own, tried in this order where a word or a
// figure may start. The fraction signs are written out because they stand
// right behind digits.
var shapes = []*regexp.Regexp{
	regexp.MustCompile(`^(?i:w/o|w/|&|\+/-|±)`),
	regexp.MustCompile(`^\d-\d-\d\b`),            // 3-2-1
	regexp.MustCompile(`^(?i:\d+x\d+|\dwd)\b`),   // 4x4, 4wd
	regexp.MustCompile(`^\d+(?i:st|nd|rd|th)\b`), // 2nd
	regexp.MustCompile(`^(?:\d+(?:[.,]\d+)*[½⅓⅔¼¾⅛⅜⅝⅞]?|[.,]\d+|[½⅓⅔¼¾⅛⅜⅝⅞])`),
	regexp.MustCompile(`^(?i:[a-z]\.){2,}`), // w.l.l.
	regexp.MustCompile(`^(?i:[a-z]\d+)\b`),  // m12
	regexp.MustCompile(`^[\pL\pM]+(?:['’´` + "`" + `][\pL\pM]+)*`),
	regexp.MustCompile(`^(?:''|["”“″'’′°º%=/])`),
}

// spoken are words that people shorten, and signs that stand for words.
var spoken = map[string]string{
	"w/o": "without", "w/": "with", "wo": "without", "&": "and", "+": "and", "@": "at", "n": "and", "nd": "and",
	"+/-": "±", "º": "°", "″": `"`, "”": `"`, "“": `"`, "''": `"`, "’": "'", "′": "'", "~": "about", "≈": "about",
	"u": "you", "ur": "your", "r": "are", "thru": "through", "tho": "though", "abit": "bit", "gona": "gonna",
	"yeh": "yeah", "yea": "yeah", "yh": "yeah", "yeahh": "yeah", "yess": "yes", "yus": "yes", "nop": "nope",
	"nae": "no", "naebody": "nobody", "naw": "nah", "tae": "to", "wi": "with", "oot": "out", "doon": "down", "yins": "ones", "yin": "one",
	"isnae": "isnt", "arenae": "arent", "wasnae": "wasnt", "dinnae": "dont", "doesnae": "doesnt", "cannae": "cant", "winnae": "wont", "willnae": "wont", "havenae": "havent",
	"axel": "axle", "axels": "axles", "theyr": "theyre", "aint": "isnt", "wiht": "with", "teh": "the", "nobodys": "nobodys",
	"nobdy": "nobody", "noboby": "nobody", "nobdoy": "nobody", "nobidy": "nobody", "nobudy": "nobody", "nobodie": "nobody", "nobod": "nobody", "nbody": "nobody", "nobdys": "nobodys",
	"non": "none", "noen": "none", "nothin": "nothing", "nuthin": "nothing", "nuthing": "nothing", "nuffin": "nothing", "noting": "nothing", "strait": "straight", "stright": "straight", "straigt": "straight",
}

// abbreviated are words whose point does not end a sentence.
var abbreviated = map[string]bool{
	"in": true, "ft": true, "lb": true, "lbs": true, "approx": true, "dia": true, "deg": true, "max": true,
	"min": true, "yd": true, "yds": true, "abt": true, "ca": true, "vs": true, "st": true, "no": true,
}

// tokenize splits text. It takes any bytes.
func tokenize(text string) []token {
	var out []token
	behind := func(m mark) {
		if n := len(out); n > 0 {
			out[n-1].mark = max(out[n-1].mark, m)
		}
	}
next:
	for i := 0; i < len(text); {
		if text[i] == ' ' {
			i++
			continue
		}
		if n := max(letters(text[i:]), digits(text[i:])); n > 0 {
			out = append(out, token{text: plain(text[i : i+n]), from: i, to: i + n})
			i += n
			continue
		}
		for _, shape := range shapes {
			if n := len(shape.FindString(text[i:])); n > 0 {
				out = append(out, token{text: plain(text[i : i+n]), from: i, to: i + n})
				i += n
				continue next
			}
		}
		r, n := utf8.DecodeRuneInString(text[i:])
		switch r {
		case '+', '@', '~', '≈':
			out = append(out, token{text: spoken[string(r)], from: i, to: i + n})
		case '?':
			behind(asked)
		case '.':
			if k := len(out); k > 0 && abbreviated[out[k-1].text] && out[k-1].to == i && goesOn(text[i+n:]) {
				behind(comma)
			} else {
				behind(full)
			}
		case '!', ';', '\n', '\r', '•', '…', '。':
			behind(full)
		case '(', ')', '[', ']':
			// What stands in brackets behind a figure is the same in another unit.
			if k := len(out); !(k > 0 && (digitAt(text, i+n) || r == ')' && i > 0 && out[k-1].to == i)) {
				behind(comma)
			}
		case ',', '—', '–':
			behind(comma)
		case '-':
			// A hyphen joins; a dash between spaces divides.
			if i > 0 && text[i-1] == ' ' && strings.HasPrefix(text[i+n:], " ") {
				behind(comma)
			}
		case ':':
			// A ratio keeps its colon together; elsewhere it introduces.
			if k := len(out); k > 0 && out[k-1].figure() && digitAt(text, i+n) {
				out = append(out, token{text: ":", from: i, to: i + n})
			}
		}
		i += n
	}
	for i := 0; i+2 < len(out); i++ {
		if out[i].text == "an" && out[i+1].text == "a" && (out[i+2].text == "half" || out[i+2].text == "quarter") {
			out[i].text = "and" // two an a half
		}
		if out[i].text == "hundred" && out[i+1].text == "an" {
			out[i+1].text = "and" // hundred an fifty
		}
	}
	return out
}

// letters is how long the word of plain letters is that text begins with, if a
// space, a comma, a hyphen or nothing comes behind it: only the shape of words fits
// it then. Most words are such, and need no shape tried.
func letters(text string) int {
	n := 0
	for n < len(text) && 'a' <= text[n]|0x20 && text[n]|0x20 <= 'z' {
		n++
	}
	if n == len(text) || strings.IndexByte(" ,-", text[n]) >= 0 {
		return n
	}
	return 0
}

// digits is the same of a figure of plain digits, if a space or nothing comes behind it.
func digits(text string) int {
	n := 0
	for digitAt(text, n) {
		n++
	}
	if n == len(text) || text[n] == ' ' {
		return n
	}
	return 0
}

func digitAt(text string, i int) bool { return i < len(text) && '0' <= text[i] && text[i] <= '9' }

// goesOn reports whether the sentence continues: a small letter or a figure.
func goesOn(rest string) bool {
	r, _ := utf8.DecodeRuneInString(strings.TrimLeft(rest, " "))
	return unicode.IsLower(r) || unicode.IsDigit(r)
}

// joins takes out the signs within a word.
var joins = strings.NewReplacer("'", "", "’", "", "´", "", "`", "", ".", "")

func plain(s string) string {
	s = strings.ToLower(s)
	if full, ok := spoken[s]; ok {
		return full
	}
	if strings.ContainsAny(s, "'’´`.") && strings.IndexFunc(s, unicode.IsLetter) >= 0 {
		s = joins.Replace(s)
		if full, ok := spoken[s]; ok {
			return full
		}
	}
	return s
}
