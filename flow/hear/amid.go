package hear

import (
	"regexp"
	"strings"
)

const (
	aFigure = `\d+(?:[.,]\d+)?`
	aUnit   = `tonnes?|tons?|t|kgs?|kilos?|lbs?|pounds?|kn|metres?|meters?|m|cms?|mms?|ft|feet|foot|inch(?:es)?|in|deg(?:rees?)?|°|per ?cent|%`
)

// amid is a figure that is put right in the same breath: the figure and its unit, the
// words that take it back, and the figure that counts, with its unit where that is told.
var amid = regexp.MustCompile(`(?i)(` + aFigure + `)\s*(` + aUnit + `)?\b?\s*[,.;:-]*\s*\b(?:(?:no|oh|err?|um|ah)\b[\s,]*)*` +
	`(?:` + takesBack + `)\b[\s,:]*(?:(?:no|it'?s|that'?s|make (?:it|that)|sorry|i mean|more like)\b[\s,]*)*` +
	`(` + aFigure + `)(?:\s*(` + aUnit + `)\b|\s*(%|°))?(?:,?\s*not\s+` + aFigure + `(?:\s*(?:` + aUnit + `)\b)?)?`)

// takesBack are the words that take a figure back.
const takesBack = `wait|hang on|hold on|sorry|i mean|i meant|make (?:it|that)|or rather|scratch that|correction|no,? (?:it'?s|that'?s|its|thats)`

// takingBack finds them in a lowered message: amid is slow, and most messages have none.
var takingBack = Expression(takesBack)

// Amended returns a message in which a figure that its writer puts right in the same
// breath is the one that counts: "block 4 t no sorry 3 t" is of 3 t. Where only one of
// the two has a unit it is that of both.
func Amended(text string) string {
	if !takingBack.MatchString(strings.ToLower(text)) {
		return text
	}
	return amid.ReplaceAllStringFunc(text, func(all string) string {
		m := amid.FindStringSubmatch(all)
		unit := m[4] + m[5]
		if unit == "" {
			unit = m[2]
		}
		if unit == "" {
			return m[3]
		}
		return m[3] + " " + unit
	})
}
