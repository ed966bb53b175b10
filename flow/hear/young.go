package hear

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// grownUp is the age from which somebody may have a part.
//
// Source: common practice.
const grownUp = 18

// youngAge reports whether words give an age under which nobody has a part, and
// whether they give one at all.
func youngAge(low string) (young, told bool) {
	m := danger["aged"].FindStringSubmatch(decimal.ReplaceAllString(low, "#"))
	if m == nil {
		return false, false
	}
	n, err := strconv.Atoi(m[1])
	return err == nil && 3 < n && n < grownUp, err == nil && n > 3
}

// decimal is a figure that is nobody's age: "the shackles are 4.75t".
var decimal = regexp.MustCompile(`\d+[.,]\d+`)

// YoungOf is the same of what a message says of somebody by name.
func YoungOf(text, name string) (young, told bool) {
	return youngOf((&dangerReading{names: []string{name}}).mark(Lowered(text)))
}

// youngOf is the same of words in which a sign stands for a name.
func youngOf(named string) (young, told bool) {
	m := danger["nameage"].FindStringSubmatch(named)
	switch {
	case m == nil:
		return danger.in("minor", named), false
	case !strings.HasPrefix(m[1], "a"):
		young, told = youngAge(m[1])
		return young || danger.in("minor", named), told
	}
	return true, true
}

// IsYoung reports whether what a list of people says of one of them makes them
// under age; named is whether more than one word is said.
func IsYoung(one string, named bool) bool {
	low := Lowered(one)
	young, told := youngAge(low)
	return !danger.in("kidless", low) && (danger.in("minor", low) || young && (named || danger.in("akin", low)) || danger.in("akin", low) && !told)
}

// IsKin reports whether words are what somebody under age is called who is not
// named.
func IsKin(words string) bool { return danger.in("akin", strings.ToLower(words)) }

// An Apart is one of those who have no part: under age, or not sober.
type Apart struct {
	Name  string // as it was written, "me" for whoever wrote it; empty for one without a name
	Drunk bool
	said  string // the words, in lower case
}

// ApartIn returns whom a message tells to be under age or to have been drinking, each
// once. crew is whether it speaks of the crew alone; else a word that is of the trade is
// nobody's name: a slope is 15.
func ApartIn(text string, crew bool) []Apart {
	var out []Apart
	low := Lowered(text)
	add := func(name, said string, drunk bool) {
		switch bare := strings.TrimSuffix(name, "s"); {
		case name == "i" || name == "ive" || name == "myself":
			name = "me"
		case danger.in("akin", name) || danger.in("akin", bare):
			name = ""
		case wordIn(low, name) < 2 && wordIn(low, bare) > 0:
			name = bare // "sal, sals 17"
		}
		if name != "" && slices.ContainsFunc(out, func(a Apart) bool { return strings.EqualFold(a.Name, name) }) {
			return
		}
		for _, w := range strings.FieldsFunc(text, betweenWords) {
			if name != "me" && strings.EqualFold(w, name) {
				name = w // as it was written
			}
		}
		out = append(out, Apart{Name: name, Drunk: drunk, said: said})
	}
	for _, at := range danger["agedone"].Regexp().FindAllStringSubmatchIndex(low, -1) {
		name, age, behind := low[at[2]:at[3]], low[at[4]:at[5]], low[at[5]:]
		n, err := strconv.Atoi(age)
		if err == nil && (n < 4 || n >= grownUp || isMeasured(behind)) || !called(name, crew) || danger.in("kidless", low[:at[2]]) && danger.in("akin", name) {
			continue
		}
		if danger.in("akin", name) && danger.in("besidecount", low[:at[2]]) {
			continue
		}
		add(name, low[at[0]:at[1]], false)
	}
	parts := betweenParts.Split(low, -1)
	for i, part := range parts {
		m := danger["drinksone"].FindStringSubmatch(part)
		if m == nil || danger.in("nobodydrinks", part) || !called(m[1], crew) {
			continue
		}
		if i > 0 { // "me and fred had a few": who of them is nobody's to guess
			before := strings.Fields(parts[i-1])
			if len(before) == 1 && called(before[0], crew) && slices.ContainsFunc([]string{" and ", " n ", " & "}, func(join string) bool { return strings.Contains(low, before[0]+join+m[1]) }) {
				add(before[0], before[0], true)
			}
		}
		add(m[1], strings.TrimSpace(part), true)
	}
	return out
}

// betweenParts stands between what is said of one and what is said of another.
var betweenParts = regexp.MustCompile(`[,.;!?\n:]+|\b(?:but|and|n|plus)\b|&|\+`)

// wordIn is how often a word stands in others.
func wordIn(low, word string) (n int) {
	for _, w := range strings.FieldsFunc(low, betweenWords) {
		if w == word {
			n++
		}
	}
	return n
}

func betweenWords(r rune) bool { return !unicode.IsLetter(r) && r != '-' }

// isMeasured reports whether what stands behind a number makes it another figure than an age.
func isMeasured(behind string) bool {
	if behind != "" && strings.ContainsRune("%°/:\"", rune(behind[0])) || len(behind) > 1 && (behind[0] == '.' || behind[0] == ',') && digitAt(behind, 1) {
		return true
	}
	w := strings.FieldsFunc(behind, func(r rune) bool { return !unicode.IsLetter(r) && r != '°' && r != '%' })
	return len(w) > 0 && w[0] != "and" && strings.HasPrefix(strings.TrimLeft(behind, " "), w[0]) && talk.is(w[0], "measure")
}

// countWords are numbers, and nobody's name.
var countWords = wordSet("one two three four five six seven eight nine ten ones")

// called reports whether a word may be what somebody is called.
func called(word string, crew bool) bool {
	switch {
	case danger.in("akin", word), word == "i", word == "ive", word == "me", word == "myself":
		return true
	case len(word) < 2 || beginsNoName[word] || beginsNoName[word+"s"] || endsName[word] || leadsToName[word] || countWords[word]:
		return false
	}
	return crew || !known[word] && !known[word+"s"]
}

// Drinkers returns, as it was written, how many of a crew are said to have been
// drinking: the one of "5 but one had a few pints". It is empty where nobody is.
func Drinkers(text string) string {
	low := Lowered(text)
	if danger.in("nobodydrinks", low) {
		return ""
	}
	m := danger["drinkers"].FindStringSubmatch(low)
	if m == nil {
		return ""
	}
	return strings.Join(m[1:], "")
}

// Sobered reports whether words say that somebody is fit after all.
func Sobered(text string) bool { return danger.in("sobered", Lowered(text)) }

// KinAged reports whether words tell of somebody who is named only by what they are to
// whoever writes, and how old they are or that they are not grown up: "my lad's 11".
func KinAged(low string) bool {
	young, _ := youngAge(low)
	return !danger.in("kidless", low) && danger.in("akin", low) && (young || danger.in("minor", low))
}
