package hear

import (
	"math"
	"strings"

	"linetender/calc/bound"
)

// A figure that is put right in the same breath was never told: "12 yards, no 12 m" is
// 12 m. What stands behind the no counts, whatever kind of figure it is, where it is
// plainly the same one: of the same kind, told right behind the first, and of no other
// thing or place. A unit by itself needs a plainer word than no,
// which may deny it: "2400 lb, sorry, kg".

const (
	figureText  = `\d[\d.,]*(?: ?\d+/\d+)?`
	unitsText   = `tonnes?|tons?|t|kgs?|kilos?|lbs?|pounds?|cwts?|kn|metres?|meters?|m|ft|feet|foot|yards?|yds?|cms?|mms?|inch(?:es)?`
	unitText    = `(?: ?(?:` + unitsText + `|deg(?:ree)?s?|°|%|per ?cent)(?:$|[^\pL\d]))`
	weightOrWay = `(?: ?(?:` + unitsText + `)(?:$|[^\pL\d]))`
	rightsText  = `[\s,.;:!-]*\b(?:no|nope|nah|sorry|oops|i mean|i meant|make that|correction|scratch that|wait)\b(?:[\s,.;:!-]*\b(?:no|wait|sorry|oops|i mean|i meant|make that|make it|correction|its|it'?s|it is|that'?s|actually)\b)*[\s,.;:!-]*`
)

var (
	figureRighted = Expression(`(?i)(` + figureText + `)(` + unitText + `)` + rightsText + `(` + figureText + unitText + `)[\s,]*([\pL]*)`)
	unitRighted   = Expression(`(?i)(` + figureText + `)` + weightOrWay + `[\s,.;:!-]*\b(?:no[\s,]+)?(?:sorry|wait|i mean|i meant|make that|correction)\b[\s,.;:!-]*(` + weightOrWay + `)\s*$`)
	countRighted  = Expression(`(?i)^\s*\d+` + rightsText + `(\d+)\W*$`)
)

// farOff is how many times one figure may be the other where both are told in the same
// breath of the same thing: beyond it they are two, as a rope's length and thickness are.
const farOff = 5

// rightedAtOnce leaves out of a text each figure that it puts right at once.
func rightedAtOnce(text string) string {
	text = countRighted.ReplaceAllString(text, "$1")
	text = unitRighted.ReplaceAllString(text, "$1 $2")
	var out strings.Builder
	for {
		at := figureRighted.FindStringSubmatchIndex(text)
		if at == nil {
			return out.String() + text
		}
		first, second, next := text[at[2]:at[5]], text[at[6]:at[7]], strings.ToLower(text[at[8]:at[9]])
		if samePlace(next) && nearTo(first, second) {
			out.WriteString(text[:at[2]])
		} else {
			out.WriteString(text[:at[6]])
		}
		text = text[at[6]:]
	}
}

// samePlace reports whether the word behind a figure leaves it where the one before it
// was: it names no other thing and no other part of the way.
func samePlace(next string) bool {
	if next == "" {
		return true
	}
	for _, class := range []string{"gear", "anchor", "vehicle", "winch"} {
		if talk.is(next, class) {
			return false
		}
	}
	return !elsewhere[next]
}

// elsewhere are words that put a figure somewhere else.
var elsewhere = wordSet("at near nearer on further farther higher lower above below up down behind under for")

// nearTo reports whether two figures are of one kind and may be the same thing.
func nearTo(a, b string) bool {
	a, b = strings.Trim(a, " ,;:!-."), strings.Trim(b, " ,;:!-.")
	read := func(s string) (si float64, kind dim) {
		if r, err := bound.ReadLength(s); err == nil {
			return r.Value.Best.Metres(), length
		}
		if r, err := bound.ReadMass(s); err == nil {
			return r.Value.Best.Kilograms(), mass
		}
		if r, err := bound.ReadForce(s); err == nil {
			return r.Value.Best.KilogramsForce(), mass
		}
		if r, err := bound.ReadSlope(s); err == nil {
			return r.Value.Best.Degrees(), slope
		}
		return 0, 0
	}
	x, of := read(a)
	y, also := read(b)
	return of != 0 && of == also && x > 0 && y > 0 && math.Max(x/y, y/x) <= farOff
}
