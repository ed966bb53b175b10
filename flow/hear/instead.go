package hear

import (
	"regexp"
	"strings"
)

// People who correct themselves often say both: "1 in 5 not 1 in 6", "the
// truck, not the tractor", "not mud but firm grass". Only the one is said, and
// the other must never be read as a fact.

var (
	notBut    = regexp.MustCompile(`(?i)^(.*?)\b(?:not|isn'?t|is not|wasn'?t|was not)\s+(.+?)(?:\s*,\s*(?:but\s+|it'?s\s+|it is\s+)?|\s+but\s+)(.+)$`)
	insteadOf = regexp.MustCompile(`(?i)^(.+?)\s*,?\s*\b(?:instead of|in place of|rather than)\s+(.+)$`)
	firstOld  = regexp.MustCompile(`(?i)^(?:instead of|rather than)\s+(.+?)(?:\s*,\s*|\s+(?:we|it'?s|it is|use|make it|make|now)\s+)(.+)$`)
	notSure   = regexp.MustCompile(`(?i)\bnot (?:(?:too|very|really|quite|100 ?%|so) )?(?:sure|certain)\b`)
	alsoFirst = regexp.MustCompile(`(?i)^\W*(?:(?:and|there'?s|theres|there is|got|we(?:'ve)? (?:got|have)|have) )*(?:also|another|one more)\b`)
	// clauseEnds is where what is denied ends: at a mark, and not at that of a figure.
	clauseEnds = regexp.MustCompile(`[,.;!\n]\s+|;`)
	andNot     = regexp.MustCompile(`(?i)^(.+?)(?:\s*,\s*(?:and\s+)?|\s+(?:and\s+)?)(?:not|never)\s+(.+)$`)
)

// Instead splits what a message says from what it says that stands in for.
// old is empty where nothing is said to be replaced. A denial that is a value
// of its own, such as "not sunk", replaces nothing.
func Instead(text string) (said, old string) {
	text = strings.TrimSpace(text)
	if notSure.MatchString(text) {
		return text, "" // doubt denies nothing
	}
	if alsoFirst.MatchString(text) {
		return text, "" // what comes beside stands in for nothing
	}
	clean := func(s string) string { return strings.Trim(s, " ,;:.!") }
	if m := firstOld.FindStringSubmatch(text); m != nil && comparable(m[2], m[1]) {
		return clean(m[2]), clean(m[1])
	}
	if m := insteadOf.FindStringSubmatch(text); m != nil {
		return clean(m[1]), clean(m[2])
	}
	if m := notBut.FindStringSubmatch(text); m != nil && comparable(m[3], m[2]) {
		return clean(strings.TrimSpace(m[1]) + " " + m[3]), clean(m[2])
	}
	if m := andNot.FindStringSubmatch(text); m != nil {
		denied, more := m[2], ""
		if at := clauseEnds.FindStringIndex(m[2]); at != nil {
			denied, more = m[2][:at[0]], m[2][at[1]:] // what comes behind is of what is said
		}
		switch {
		case !comparable(m[1], denied):
		case clean(more) == "":
			return clean(m[1]), clean(denied)
		default:
			return clean(m[1]) + ", " + clean(more), clean(denied)
		}
	}
	return text, ""
}

// comparable reports whether a value and what is denied are of one kind, so
// that the one may stand in for the other.
func comparable(said, denied string) bool {
	a, b := kinds(said), kinds(denied)
	for k := range b {
		if a[k] {
			return true
		}
	}
	return false
}

// kinds are the classes of what a text names.
func kinds(text string) map[string]bool {
	out := map[string]bool{}
	tokens := tokenize(text)
	if len(tokens) == 0 {
		return out
	}
	for _, it := range newMessage(text, tokens, TopicNone).items {
		for _, class := range []string{"ground", "depth", "vehicle", "anchor", "gear", "end", "material", "rkind", "dir", "way", "locked"} {
			if it.has(class) {
				out[class] = true
			}
		}
		if it.q == nil {
			continue
		}
		out["figure"] = true
	}
	return out
}
