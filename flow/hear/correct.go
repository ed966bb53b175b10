package hear

import (
	"regexp"
	"slices"
	"strings"
)

// Words by which people take back what they said. They stand before what is
// right, after it, or in the middle of it. The mild ones may as well begin an
// answer: "sorry for the wait, 2.4 t".
const (
	mildly = `(?:so )?sorry|actually|in fact|oops|whoops|rather`
	surely = `correction|wrong(?: figure| number)?|no wait|wait,? no|scratch that|strike that|i mean|i meant|i meant to say|make that|make it|` +
		`my mistake|my bad|i was wrong|that was wrong|that'?s wrong|that is wrong|that'?s not right|typo|mistake|i made a mistake|i got that wrong|let me correct that`
	leadIn = `^\W*(?:(?:oh|ooh|er+m*|um+|ah|argh|hm+|well|hang on|wait|no|nope|ok|and|but)\b[\s,.!:;…-]*)*?`
	leadOn = `)\b[\s,.!:;…-]*(?:(?:but|and|that)\b\s*)?`
)

var (
	takesBackMildly = regexp.MustCompile(`(?i)` + leadIn + `(?:` + mildly + leadOn)
	takesBackSurely = regexp.MustCompile(`(?i)` + leadIn + `(?:` + surely + leadOn)
	afterwards      = regexp.MustCompile(`(?i)[\s,.;…-]+(?:sorry|i meant|i mean|actually|my mistake|my bad|correction|in fact)[\s.!]*$`)
	putsRight       = regexp.MustCompile(`(?i)\b(?:should be|should have been|should read|is really|is actually|(?:is|its|it's|it’s) (?:more like|(?:a bit |a lot |much |quite )?(?:heavier|steeper|wetter|softer))|turns out(?: to be)?|was meant to be|(?:is|was) wrong)\b`)
	noFirst         = regexp.MustCompile(`(?i)^(?:no|nope|nah)\b[\s,.:;-]+`)
	moreLike        = regexp.MustCompile(`(?i)\bmore like\b`)
)

// A Taking is how plainly a message takes something back.
type Taking int

// The ways.
const (
	NoCorrection Taking = iota
	MaybeCorrection
	SureCorrection
)

// Correction returns what a message puts in the place of something said
// before, without the words that take that back, and how plain these are.
func Correction(text string) (said string, as Taking) {
	said = strings.TrimSpace(text)
	for {
		at, how := takesBackSurely.FindStringIndex(said), SureCorrection
		if at == nil {
			at, how = takesBackMildly.FindStringIndex(said), MaybeCorrection
		}
		if at == nil {
			break
		}
		said, as = strings.TrimSpace(said[at[1]:]), max(as, how)
	}
	if as != NoCorrection { // "actually no, the ground is mud"
		said = noFirst.ReplaceAllString(said, "")
	}
	if at := afterwards.FindStringIndex(said); at != nil {
		said, as = strings.TrimSpace(said[:at[0]]), max(as, MaybeCorrection)
	}
	if putsRight.MatchString(said) {
		as = max(as, MaybeCorrection)
	}
	return moreLike.ReplaceAllString(said, "about"), as
}

// TakesBack reports whether a message begins by taking back what was said last.
func TakesBack(text string) bool {
	_, as := Correction(text)
	return as != NoCorrection || noFirst.MatchString(strings.TrimSpace(text))
}

// OnlyTakesBack reports whether a message takes back what was said last and says nothing
// in its place: "that was a mistake", "oops wrong button".
func OnlyTakesBack(text string) bool {
	said, as := Correction(text)
	said = strings.Trim(said, " .!,")
	return as == SureCorrection && (said == "" || slices.Contains([]string{"button", "one", "key", "thumb"}, strings.ToLower(said)))
}

// Named returns which answer a text begins by naming, and what it says of it:
// "the weight is wrong, it's 3 t" names the weight and says 3 t. object is
// empty where it begins with anything else.
func Named(text string) (object, value string) {
	tokens := tokenize(text)
	for len(tokens) > 0 && slices.Contains([]string{"the", "my", "our", "that", "its", "for"}, tokens[0].text) {
		tokens = tokens[1:]
	}
	if len(tokens) == 0 {
		return "", ""
	}
	for _, p := range acts[tokens[0].text] {
		name, ok := p.means["object"]
		if !ok || len(p.words) > len(tokens) || !p.fits(tokens) {
			continue
		}
		if after := become(tokens[len(p.words):]); len(after) > 0 {
			value = words(text, after)
		}
		return name, value
	}
	return "", ""
}

// subject is what a sentence says that something stands on or weighs.
var subject = regexp.MustCompile(`(?i)^\W*(?:(?:that|it is|it's|its)\s+)?(?:the|my|our|his|her|their|this|that)\s+([\p{L}][\p{L}\d-]*(?:\s+[\p{L}\d-]+){0,2}?)(?:'s|’s)?\s+(?:is\s+|was\s+|are\s+)?(?:on|at|in|stands?|standing|sits?|sitting|weighs?|parked)\b`)

// Subject returns the name of what a sentence says stands somewhere or weighs
// something, in small letters.
func Subject(text string) string {
	m := subject.FindStringSubmatch(text)
	if m == nil {
		return ""
	}
	var name []string
	for _, w := range strings.Fields(strings.ToLower(m[1])) {
		if w == "is" || w == "was" || w == "are" || digitAt(w, 0) {
			return "" // "the slope is 1 in 5" says nothing of a thing in 5
		}
		name = append(name, w)
	}
	return strings.Join(name, " ")
}

// Vehicle reports whether a name is that of a kind of vehicle or winch.
func Vehicle(name string) bool {
	tokens := tokenize(name)
	for i := range tokens {
		if p := talk.longest(tokens, i); p != nil && (p.means["vehicle"] != "" || p.means["winch"] != "") {
			return true
		}
	}
	return false
}

// MayName reports whether a word may be the name of a vehicle: it is that of a kind of one
// or means nothing else here.
func MayName(word string) bool {
	if acts[word] != nil && !Vehicle(word) {
		return false
	}
	for _, p := range talk[word] {
		if len(p.words) == 1 && p.means["vehicle"] == "" && p.means["winch"] == "" {
			return false
		}
	}
	return true
}
