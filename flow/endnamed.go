package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/calc"
	"linetender/calc/bound"
	"linetender/calc/unit"
	"linetender/flow/wording"
)

// Who is asked what joins the ends and names the piece that does has answered: a piece
// whose figure is less than its end needs is a no, whatever is said beside it.

const (
	joinerWord   = `(?:shackles?|hooks?|links?|maillons?|carabiners?|karabiners?|krabs?|clips?|bolts?)`
	joinerFigure = `(\d[\d.,]* ?(?:kgs?|kilos?|t|tonnes?|tons?|kn|lbs?|pounds?))\b`
)

var (
	figureJoins = regexp.MustCompile(`(?i)` + joinerFigure + `(?:[ -]\pL+){0,2}[ -](` + joinerWord + `)\b`)
	joinsFigure = regexp.MustCompile(`(?i)\b(` + joinerWord + `)\b(?:[ ,:(]+[\pL:]+){0,4}[ ,:(]+` + joinerFigure)

	// notJoins are words that a piece that is named joins nothing.
	notJoins = regexp.MustCompile(`(?i)\b(?:no|not|never|nowhere|without|instead|rather|swap\w*|chang\w*|took|taken|take|off|replac\w*|threw|thrown|away|aside|spare|left over|was)\b|n['’]t\b`)

	endPlaces = []struct {
		at    string
		named *regexp.Regexp
	}{
		{"on the holding line", regexp.MustCompile(`(?i)\b(?:holding|hold[- ]?back)\b`)},
		{"at the tow point", regexp.MustCompile(`(?i)\b(?:tow(?:ing)? ?(?:point|eye|hook)|load|stuck)\b`)},
		{"at the puller", regexp.MustCompile(`(?i)\b(?:winch|puller|drawbar|hitch)\b`)},
		{"at the fixed end", regexp.MustCompile(`(?i)\b(?:fixed|tree|anchor)\b`)},
	}
)

// namedWeak says of a piece that is named as what joins an end that it carries less than
// that end needs, and reports whether that is so. Where no end is named with it, it is
// one that needs the most.
func (t *turn) namedWeak(c siteCheck, text string) bool {
	if c.field != "ends_joined" || notJoins.MatchString(text) {
		return false
	}
	p := t.plan()
	if p == nil {
		return false
	}
	for _, m := range figureJoins.FindAllStringSubmatch(text, -1) {
		if t.carriesLess(p.Ends, text, m[2], m[1]) {
			return true
		}
	}
	for _, m := range joinsFigure.FindAllStringSubmatch(text, -1) {
		if t.carriesLess(p.Ends, text, m[1], m[2]) {
			return true
		}
	}
	return false
}

// carriesLess says that a piece with that figure on it is too weak for the end that is
// named, if it is.
func (t *turn) carriesLess(ends []calc.End, text, piece, figure string) bool {
	limit, ok := figureForce(figure)
	if !ok {
		return false
	}
	at := ""
	for _, e := range endPlaces {
		if e.named.MatchString(text) && slices.ContainsFunc(ends, func(o calc.End) bool { return o.At == e.at }) {
			at = e.at
			break
		}
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !('a' <= r && r <= 'z') }) {
		if owner := t.ownerNamed(w); at == "" && owner != "" {
			at = map[string]string{"load": "at the tow point", "puller": "at the puller"}[owner]
		}
	}
	var worst calc.End
	for _, e := range ends {
		if (at == "" || e.At == at) && e.Working > worst.Working {
			worst = e
		}
	}
	if worst.Working <= limit {
		return false
	}
	t.say(wording.ChecksEndNamed, wording.Args{
		"What": strings.ToLower(piece), "Limit": wording.Limit{Force: limit}, "Force": wording.Load{Force: worst.Working}, "Place": worst.At,
	})
	return true
}

// figureForce is the least that a figure on a piece may mean.
func figureForce(text string) (unit.Force, bool) {
	if r, err := bound.ReadMass(text); err == nil {
		return unit.Weight(r.Value.Low), true
	}
	r, err := bound.ReadForce(text)
	return r.Value.Low, err == nil
}

// endNamed takes words of somebody who is asked what joins the ends, by itself or among
// other items, and who names a piece that is too weak.
func (t *turn) endNamed(text string) bool {
	if !t.itemsOn() {
		return false
	}
	asked := t.groupIn(t.in.Chat, t.openItems())
	if here, ok := t.askedHere(); ok && len(asked) == 0 {
		asked = []asking{here}
	}
	for _, a := range asked {
		if a.check.field == "ends_joined" && t.speaksFor(a.seat) && t.namedWeak(a.check, text) {
			t.answerItem(a, a.check.bad)
			return true
		}
	}
	return false
}
