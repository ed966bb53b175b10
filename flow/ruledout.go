package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/wording"
)

// Whether a point is sound is asked by its flaws. Who rules out some of them, "not cracked
// or bent, no rust", has not looked for the others: it is sound once all are ruled out.

// pointFlaws are the flaws that are asked about, each by its words.
var pointFlaws = []struct {
	key   wording.Key
	words *regexp.Regexp
}{
	{wording.FlawRust, regexp.MustCompile(`(?i)\brust\w*\b|\bcorro\w+`)},
	{wording.FlawCrack, regexp.MustCompile(`(?i)\bcrack\w*\b`)},
	{wording.FlawBend, regexp.MustCompile(`(?i)\bben[dt]\w*\b|\bdeform\w*\b|\btwisted\b`)},
	{wording.FlawLoose, regexp.MustCompile(`(?i)\bloose\b|\bbolts?\b|\bwelded\b`)},
}

// onlyRulesOut is a message in which every word rules out a flaw of a point or names it.
var onlyRulesOut = regexp.MustCompile(`(?i)^(?:\W|\b(?:the|its|it'?s|it|is|are|was|has|have|there|there'?s|that|this|tow|towing|eye|point|hook|shows?|i|we|can|see|any|a|an|of|at|all|through|visible|signs?|` +
	`no|not|nor|or|and|none|nothing|neither|without|isn'?t|aren'?t|hasn'?t|doesn'?t|rust\w*|corro\w+|crack\w*|ben[dt]s?|bending|deform\w*|twisted|loose|bolts?|tight|welded|on|either|too|also)\b)+$`)

var rulesOut = regexp.MustCompile(`(?i)\b(?:no|not|none|nothing|neither|without|isn'?t|aren'?t|hasn'?t|doesn'?t)\b`)

// looseBolt says that a bolt is no more what it should be.
var looseBolt = regexp.MustCompile(`(?i)\b(?:bolts?|nuts?|screws?)\b(?:\W+(?:is|are|was|were|has|have|gone|looks?|a|bit|come|came))*\W+(?:missing|loose|gone|sheared|broken|off|out|snapped|stripped|rusted)\b|\b(?:missing|loose|sheared|broken|snapped|stripped)\W+(?:bolts?|nuts?|screws?)\b`)

// flawsRuledOut takes words that rule out flaws of a point whose state is asked, and
// reports whether they were any. With one left it is asked for that.
func (t *turn) flawsRuledOut(tp topic) bool {
	if tp.name != "load.tow_point.condition" && tp.name != "tow_point.condition" && tp.name != "holding_point.condition" {
		return false
	}
	text := t.in.Text
	if looseBolt.MatchString(text) && !rulesOut.MatchString(text) {
		t.answer(tp, []change{{set: set{tp.fills[0], "damaged"}, how: Told}})
		return true
	}
	if !onlyRulesOut.MatchString(text) || !rulesOut.MatchString(text) || isQuestion(strings.ToLower(text)) {
		return false
	}
	var left wording.Names
	for _, f := range pointFlaws {
		if !f.words.MatchString(text) {
			left = append(left, t.saying(f.key))
		}
	}
	switch {
	case len(left) == len(pointFlaws) || slices.ContainsFunc(clausesOf(text), func(c string) bool { return flawIn(c) && !rulesOut.MatchString(c) && !tightOrWelded.MatchString(c) }):
		return false
	case len(left) == 0:
		t.answer(tp, []change{{set: set{tp.fills[0], "good"}, how: Told}})
		return true
	}
	t.note(text)
	t.say(wording.RefuseFlawsLeft, wording.Args{"Names": left})
	t.ask()
	return true
}

var tightOrWelded = regexp.MustCompile(`(?i)\b(?:tight|welded)\b`)

// clausesOf are the parts of a text between commas and stops.
func clausesOf(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(".,;!\n", r) })
}

// flawIn reports whether a text names a flaw of a point.
func flawIn(text string) bool {
	return slices.ContainsFunc(pointFlaws, func(f struct {
		key   wording.Key
		words *regexp.Regexp
	}) bool {
		return f.words.MatchString(text)
	})
}
