package hear

import (
	"regexp"
	"slices"
	"strings"
)

// How people say that a thing is not to be used or is not there. What it is,
// and whether it is a thing of theirs at all, only who has the list can tell.
var (
	removes = regexp.MustCompile(`(?i)^\W*(?:(?:no|ok|okay|please|then|so|but|and|we|we'll|well|i'll|lets|let's|just|can|could|you)\b[\s,]*)*` +
		`(?:remove|delete|drop|chuck(?:\s+(?:out|away))?|bin|ditch|toss(?:\s+out)?|throw\s+(?:out|away)|get\s+rid\s+of|forget(?:\s+about)?|scrap|cross\s+out|strike(?:\s+out)?|take\s+(?:off|away|out)|leave\s+(?:out|off)|` +
		`do\s+without|go\s+without|without|don'?t\s+use|do\s+not\s+use|not\s+using|won'?t\s+use)\s+(.+)$`)
	// tookOut are the same as done.
	tookOut  = regexp.MustCompile(`(?i)^\W*(?:(?:ok|okay|then|so|and|but|we|i|have|had|ve|just|now|already)\b[\s,]*)*(?:(?:took|taken|thrown|threw|left|put)\s+(.+?)\s+(?:out|off|away|aside|off\s+the\s+list)|(?:took|taken|threw|thrown)\s+(?:off|away|out)\s+(.+)|(?:removed|binned|chucked(?:\s+(?:out|away))?|ditched|scrapped|got\s+rid\s+of)\s+(.+))$`)
	offList  = regexp.MustCompile(`(?i)^(.+?)\s+(?:is|are|was|were|has\s+been)\s+(?:taken\s+|now\s+)*off\s+the\s+list(?:\s+now)?$`)
	endsLine = regexp.MustCompile(`(\pL)\.\s+`)
	takesOut = regexp.MustCompile(`(?i)^\W*(?:(?:please|then|so|and|we|lets|let's)\b[\s,]*)*(?:take|leave)\s+(.+?)\s+(?:out|off|away|off\s+the\s+list)$`)
	notThere = regexp.MustCompile(`(?i)^(.+?)\s*(?:\b(?:is|are)\b|'s\b|\bisn'?t\b|\baren'?t\b)\s*(?:\bnot\b\s*)?\b(there|here|gone|available|at\s+hand)\b(?:\s+any\s?more|\s+after\s+all|\s+yet)?$`)
	haveNot  = regexp.MustCompile(`(?i)^(?:and\s+|but\s+)?(?:we|i)\s+(?:don'?t|do\s+not|haven'?t|have\s+not)\s+(?:have|got)\s+((?:the|that|those|our)\s+.+?)(?:\s+any\s?more|\s+here|\s+after\s+all)?$`)
	noneHere = regexp.MustCompile(`(?i)^(?:there\s*(?:'s|is|are|s)?\s+)?no\s+((?:other\s+)?(?:anchors?|trees?))\s+(?:there|here|around|about|anywhere|near|at\s+all|any\s?more)(?:\s+(?:at\s+all|any\s?more|here|there|to\s+use))?$`)
	spokenOf = regexp.MustCompile(`(?i)^(?:it|them|that|those|this|these|that one|any of (?:it|them))$`)
	keepsOn  = regexp.MustCompile(`(?i)^\W*(?:only|just|keep|use|we\s+use|we\s+keep)\b`)
)

// Removed splits what a message takes off the list from the rest of it. what
// is empty where nothing is.
func Removed(text string) (what, rest string) {
	var kept []string
	for clause := range strings.FieldsFuncSeq(endsLine.ReplaceAllString(text, "$1; "), func(r rune) bool { return strings.ContainsRune(",;\n", r) }) {
		clause = strings.Trim(clause, " .!")
		got := removed(clause)
		if spokenOf.MatchString(got) {
			got = ""
			if what != "" {
				continue // "leave sling 3 out, we won't use it"
			}
			if n := len(kept); n > 0 { // "annas winch rope, take it off the list"
				what, kept = kept[n-1], kept[:n-1]
				continue
			}
		}
		switch {
		case got != "" && what == "":
			what = got
		case got != "":
			what += " and " + got
		case what != "" && keepsOn.MatchString(clause):
			// "forget the thin one, only the thick one"
		case clause != "":
			kept = append(kept, clause)
		}
	}
	return what, strings.Join(kept, ", ")
}

// TookOff reports whether a message says that something was taken off: told of a rig it is
// how far that is taken apart, and of a list that it is on it no more.
func TookOff(text string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(endsLine.ReplaceAllString(text, "$1; "), func(r rune) bool { return strings.ContainsRune(",;\n", r) }), func(c string) bool {
		return tookOut.MatchString(strings.Trim(c, " .!"))
	})
}

func removed(clause string) string {
	if m := tookOut.FindStringSubmatch(clause); m != nil {
		return strings.Trim(m[1]+m[2]+m[3], " .!")
	}
	for _, re := range []*regexp.Regexp{takesOut, removes, offList, haveNot, noneHere} {
		if m := re.FindStringSubmatch(clause); m != nil {
			return strings.Trim(m[1], " .!")
		}
	}
	if m := notThere.FindStringSubmatch(clause); m != nil {
		gone := strings.EqualFold(m[2], "gone")
		not := regexp.MustCompile(`(?i)\b(?:not|isn'?t|aren'?t)\b`).MatchString(clause[len(m[1]):])
		if gone != not {
			return strings.Trim(m[1], " .!")
		}
	}
	return ""
}
