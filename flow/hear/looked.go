package hear

import (
	"regexp"
	"strings"
)

// Who looked a thing over, in words in which it may be told: "Gary checked it",
// "looked over by Ida".

var (
	lookedIt = Expression(`(?i)([\pL][\pL'’-]*)\s+(?:(?:has|have|had|also|now|just|again|went and)\s+){0,2}(?:looked|checked|inspected|examined|went over|gone over|went round)\b`)
	lookedBy = Expression(`(?i)\b(?:looked (?:at|over)|checked|inspected|examined|gone over)(?:\s+(?:it|them|over|again|as well)){0,2}\s+by\s+([\pL][\pL'’-]*)`)
	notDone  = Expression(`(?i)\b(?:not|never)\s+(?:\w+\s+)?(?:looked|checked|inspected|examined|gone over)\b|\b(?:if|when|once|until|till|unless|wish|hope)\b|\?`)
)

// LookedBy returns who is said to have looked a thing over, by name. Whoever writes
// and says "I", or names nobody, is none.
func LookedBy(text string) (name string, ok bool) {
	if notDone.MatchString(text) {
		return "", false
	}
	for _, form := range []*Pattern{lookedBy, lookedIt} {
		for _, m := range form.FindAllStringSubmatch(text, -1) {
			low := strings.ToLower(m[1])
			if beginsNoName[low] || leadsToName[low] || endsName[low] || low == "i" || low == "me" || low == "to" || strings.HasSuffix(low, "t") && strings.ContainsAny(low, "'’") || known[low] && low == m[1] {
				continue
			}
			if p, one := OneName(m[1]); one {
				return p, true
			}
		}
	}
	return "", false
}

// clauseWithMark is a clause with the marks behind it.
var clauseWithMark = regexp.MustCompile(`[^,.;!\n]+[,.;!\n]*`)

// WithoutWhy is a message that takes something back without the clauses that only say how
// it came to be told: "i meant the block lies in our hilux". Such a clause has no word that
// could be a hazard or somebody, but for what a vehicle is called at its end.
func WithoutWhy(text string) string {
	var kept []string
	for _, clause := range clauseWithMark.FindAllString(text, -1) {
		words := strings.FieldsFunc(Lowered(clause), func(r rune) bool { return strings.ContainsRune(" \t,.;!\n'", r) })
		led := 0
		for i, w := range words {
			switch {
			case lists.has(w, "whyled"):
				led++
			case lists.has(w, "why"):
			case i == len(words)-1 && i > 1 && words[i-2] == "in" && lists.has(words[i-1], "whose"):
			default:
				led = -len(words)
			}
		}
		if led <= 0 {
			kept = append(kept, clause)
		}
	}
	return strings.TrimSpace(strings.Join(kept, ""))
}
