package hear

import (
	"regexp"
	"slices"
	"strings"
)

// Pieces that are told by how many bear how much, "three shackles: two 4.75 t and one 3.25",
// "two 4.75 t shackles and one 5 t block", are written as so many of each: a figure without
// its unit has that of the one before, and one that is said of no kind is of that one's.

const (
	howMany = `(?:one|two|three|four|five|six|[1-9])`
	ofMuch  = `(\d+(?:[.,]\d+)?)( ?(?:t|tonnes?|tons?|kgs?|kn|lbs?)\b)?((?: ?(?:wll|swl|working limit|mbl|mbs|breaking)\b)?)`
	ofKind  = `(?:shackles?|blocks?|pulleys?|slings?|strops?|chains?)`
	among   = `(?:\s*(?:,|\band\b|&|\+|\bplus\b)(?:\s*and\b)?)?\s*`
	share   = `\b` + howMany + `(?: ?x)? ` + ofMuch + `(?: ` + ofKind + `\b)?`
)

var (
	kindFirst = Expression(`(?i)(?:\b` + howMany + ` )?\b` + ofKind + `(?:\s*[:,(-]\s*|\s+)` + share + `(?:` + among + share + `)+`)
	kindAmid  = Expression(`(?i)\b` + howMany + ` (?:` + ofKind + ` (?:of )?` + ofMuch + `|` + ofMuch + ` ` + ofKind + `\b)(?:` + among + share + `)+`)
	oneShare  = regexp.MustCompile(`(?i)\b(` + howMany + `)(?: ?x)? (?:(` + ofKind + `) (?:of )?)?` + ofMuch + `(?: (` + ofKind + `)\b)?`)
	firstKind = regexp.MustCompile(`(?i)^(?:(` + howMany + `) )?(` + ofKind + `)\b`)
	anyKind   = regexp.MustCompile(`(?i)\b` + ofKind + `\b`)
)

// sharedOut writes them so.
func sharedOut(text string) string {
	for _, p := range []*Pattern{kindFirst, kindAmid} {
		if !p.MatchString(text) {
			continue
		}
		out, from := "", 0
		for _, at := range p.Regexp().FindAllStringIndex(text, -1) {
			list := text[at[0]:at[1]]
			if more := strings.TrimLeft(text[at[1]:], " "); more == "" || !strings.ContainsAny(list[len(list)-1:], "0123456789") || strings.ContainsAny(more[:1], ".,;:)\n") || strings.HasPrefix(more, "and ") {
				list = spread(list) // else its last figure is one of what follows
			}
			out += text[from:at[0]] + list
			from = at[1]
		}
		text = out + text[from:]
	}
	return text
}

// spread writes one such list.
func spread(list string) string {
	kind, unit, parts, all := anyKind.FindString(list), "", list, 0
	if first := firstKind.FindStringSubmatchIndex(list); first != nil && oneShare.FindStringIndex(list)[0] >= first[4] {
		parts = list[first[5]:]
		if first[2] >= 0 {
			all = many(list[first[2]:first[3]])
		}
	}
	var each []string
	told := 0
	for _, m := range oneShare.FindAllStringSubmatch(parts, -1) {
		for _, said := range []string{m[2], m[6]} {
			if said != "" {
				kind = said
			}
		}
		if m[4] != "" {
			unit = m[4]
		}
		if unit == "" {
			return list
		}
		one, n := strings.TrimSuffix(strings.ToLower(kind), "s"), many(m[1])
		if n > 1 {
			one += "s"
		}
		told += n
		each = append(each, itoa(n)+" "+one+" "+m[3]+unit+m[5])
	}
	if len(each) < 2 || all > 0 && all != told {
		return list
	}
	return strings.Join(each, " and ")
}

// many is what a word for a number of pieces says.
func many(word string) int {
	if n := slices.Index([]string{"one", "two", "three", "four", "five", "six"}, strings.ToLower(word)); n >= 0 {
		return n + 1
	}
	return int(word[0] - '0')
}
