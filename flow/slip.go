package flow

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A bare figure belongs to the question that stands. "3 deg" typed at the tow
// point must not take the place of a slope that was measured: it may have been
// meant for a question that has not come yet, and the gentler one would win.

// slipped reports, and says, that a message is a bare figure which would
// replace an answer to another question. Nothing is changed.
func (t *turn) slipped(tp topic, h hear.Heard) bool {
	if !bareFigure(t.in.Text) {
		return false
	}
	for _, f := range h.Facts {
		was, told := t.s.Sheet.Get(f.Field)
		if !told || was == f.Value || f.Field == tp.name || slices.Contains(tp.fills, f.Field) {
			continue
		}
		owner, ok := ownerOf(f.Field)
		if !ok {
			continue
		}
		t.act(Act{Do: DoMiss})
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
		t.ask()
		return true
	}
	return false
}

// outdone drops from what was heard each figure that is only guessed in passing
// and was measured or read off before, and each weight, ground, depth or slope that
// was told before and is not spoken of now, and says that the old one stays: who is asked
// for it or changes it may put another in its place, nobody else. It reports
// whether nothing is left.
func (t *turn) outdone(tp topic, h *hear.Heard) bool {
	all := len(h.Facts)
	facts := h.Facts
	h.Facts = slices.DeleteFunc(slices.Clone(facts), func(f hear.Fact) bool {
		was, told := t.s.Sheet.Get(f.Field)
		owner, known := ownerOf(f.Field)
		if !told || was == f.Value || !known || f.Field == tp.name || slices.Contains(tp.fills, f.Field) || strings.HasPrefix(f.Field, "puller.") && t.newPuller(facts) {
			return false
		}
		if t.beside(f) {
			t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
			return true
		}
		if !t.measured(f.Field, was) {
			return false
		}
		guessed := slices.ContainsFunc(facts, func(o hear.Fact) bool {
			return o.Field == f.Field+"_from" && (o.Value == "guess" || o.Value == "eye")
		})
		if !f.Guess && !guessed {
			return false
		}
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(owner.name), "Text": t.word(f.Field, was)})
		return true
	})
	h.Facts = slices.DeleteFunc(h.Facts, func(f hear.Fact) bool { // nor how the guess was come by
		of, from := strings.CutSuffix(f.Field, "_from")
		had := func(facts []hear.Fact) bool {
			return slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == of })
		}
		return from && had(facts) && !had(h.Facts)
	})
	if len(h.Facts) > 0 || all == 0 {
		return false
	}
	t.act(Act{Do: DoMiss})
	t.ask()
	return true
}

// A figure that takes the place of one that was told must be said of the vehicle
// that it is for: a sling of 2 t, or a loader of 14 t as an anchor, makes no lorry
// lighter or heavier.

// speaksOf is, by field, how people say what they speak of.
var speaksOf = map[string]*regexp.Regexp{
	"mass":       regexp.MustCompile(`(?i)\b(weigh\w*|weights?|mass|heav\w+|light\w*|all up|gross|laden|unladen|loaded|unloaded)\b`),
	"ground":     regexp.MustCompile(`(?i)\b(ground|surface|soil|stands?|standing|stood|parked|sits?|sitting|moved|drove|driven|rolled|back|now on|is on|are on|it'?s on|wheels?)\b`),
	"slope":      ofSlope,
	"side_slope": regexp.MustCompile(ofSlope.String() + `|(?i)\b(side\w*|across|lean\w*|tilt\w*)\b`),
	"sunk":       regexp.MustCompile(`(?i)\b(deep\w*|depth|sunk\w*|sink\w*|sank|hubs?|axles?|bogged|mired|buried|dug|dig|digging|daylight|wheels?|belly)\b`),
	"locked":     regexp.MustCompile(`(?i)\b(wheels?|brakes?|handbrake|turn\w*|roll\w*|lock\w*|jammed|seized|axles?)\b`),
}

var (
	ofSlope = regexp.MustCompile(`(?i)\b(slopes?|grade|gradient|steep\w*|hill|incline|bank|ramp|uphill|downhill|flat|level|climbs?|falls|board|gap|rise)\b`)
	ofLoad  = regexp.MustCompile(`(?i)\b(load|van|truck|lorry|trailer|car|wagon|vehicle|casualty)\b`)
	// ofOther are things that are neither of the two vehicles.
	ofOther = regexp.MustCompile(`(?i)\b((?:another|other|second|parked|anchor) (?:vehicle|truck|lorry|van|car)|anchors?|loaders?|shovel|digger|excavator|telehandler|winch|hitch|drawbar|hook|` +
		`blocks?|pulleys?|shackles?|slings?|straps?|ropes?|wire|cable|chains?|oak|ash|beech|pine|tree|stump|stakes?|pickets?|post|rock|ring)\b`)
	aMachine   = regexp.MustCompile(`(?i)\b(tractor|machine)\b`)
	clauseEnds = regexp.MustCompile(`[.;,:!?\n]+(?:\s|$)|\s(?:and|but|then|with)\s`)
)

// beside reports whether a figure of a vehicle was read from words about
// something else: a ring in concrete, 2 degrees to the side, a loader of 14 t.
func (t *turn) beside(f hear.Fact) bool {
	of, what, _ := strings.Cut(f.Field, ".")
	speaks := speaksOf[what]
	if t.in.Text == "" || of != "load" && of != "puller" || speaks == nil || t.correctsLast(f.Field) {
		return false
	}
	text, clause := t.in.Text, clauseWith(t.in.Text, f.Said)
	switch {
	case t.namesVehicle(of, clause):
		return false
	case t.namesOther(of, clause):
		return true
	case what == "mass" || what == "slope" || what == "side_slope":
		return !t.namesVehicle(of, text) && !speaks.MatchString(clause)
	}
	return !t.namesVehicle(of, text) && (t.namesOther(of, text) || !speaks.MatchString(text))
}

// correctsLast reports whether a message takes back the answer just given: no, 2.7 tonnes.
func (t *turn) correctsLast(field string) bool {
	owner, ok := ownerOf(field)
	last := len(t.s.Trail) - 1
	return ok && last >= 0 && t.s.Trail[last].Topic == owner.name && takesBack.MatchString(t.in.Text)
}

var takesBack = regexp.MustCompile(`(?i)^\W*(?:no|nope|nah|sorry|oops|wait|actually|rather|i mean|make (?:it|that)|correction)\b`)

// namesVehicle reports whether words name a vehicle, the load or the puller.
func (t *turn) namesVehicle(of, words string) bool {
	if of == "puller" && (ofPuller.MatchString(words) || strings.Contains(strings.ToLower(words), "puller")) {
		return true
	}
	if owner := t.ownerAmong(words); owner != "" {
		return owner == of
	}
	if of == "puller" && aMachine.MatchString(words) {
		return true
	}
	if of == "load" && ofLoad.MatchString(ofOther.ReplaceAllString(words, " ")) {
		return true
	}
	return false
}

// namesOther reports whether words name something that is not the vehicle.
func (t *turn) namesOther(of, words string) bool {
	if owner := t.ownerAmong(words); owner != "" {
		return owner != of
	}
	return ofOther.MatchString(words) || of == "load" && aMachine.MatchString(words)
}

// ownerAmong returns which of the two vehicles is named among words, if one is.
func (t *turn) ownerAmong(words string) string {
	if owner := t.ownerNamed(hear.Subject(words)); owner != "" {
		return owner
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return !unicode.IsLetter(r) && r != '-' }) {
		named := hear.Vehicle(w) || t.s.Sheet.Puller != nil && strings.EqualFold(w, t.s.Sheet.Puller.Name)
		if owner := t.ownerNamed(w); named && owner != "" {
			return owner
		}
	}
	return ""
}

// clauseWith returns the part of a text between two stops in which words stand,
// or all of it.
func clauseWith(text, said string) string {
	at := strings.Index(text, said)
	if said == "" || at < 0 {
		return text
	}
	from, to := 0, len(text)
	for _, end := range clauseEnds.FindAllStringIndex(text, -1) {
		if end[1] <= at {
			from = end[1]
		}
		if end[0] >= at+len(said) {
			to = end[0]
			break
		}
	}
	return text[from:to]
}

// outdoing drops from the answers that a correction may mean those which were
// measured and would become a guess: only who names what is to be changed puts a
// guess there. Where none is left it says what stays.
func (t *turn) outdoing(names []string, value string) []string {
	left := slices.DeleteFunc(slices.Clone(names), func(name string) bool {
		tp, _ := topicByName(name)
		was, told := t.s.Sheet.Get(tp.fills0())
		if !told || !t.measured(tp.fills0(), was) {
			return false
		}
		return slices.ContainsFunc(t.whoIsWho().Listen(value, tp.heard()).Facts, func(f hear.Fact) bool {
			return f.Field == tp.fills0() && f.Guess || f.Field == tp.fills0()+"_from" && (f.Value == "guess" || f.Value == "eye")
		})
	})
	if len(left) == 0 && len(names) > 0 {
		tp, _ := topicByName(names[0])
		was, _ := t.s.Sheet.Get(tp.fills0())
		t.act(Act{Do: DoMiss})
		t.say(wording.RefuseToldBefore, wording.Args{"What": t.name(tp.name), "Text": t.word(tp.fills0(), was)})
		t.ask()
	}
	return left
}

// measured reports whether a figure on the sheet was come by in a better way
// than by a guess.
func (t *turn) measured(field, value string) bool {
	from, _ := t.s.Sheet.Get(field + "_from")
	return from != "" && from != "guess" && from != "eye" || strings.Contains(value, "gap") || strings.Contains(value, "rise")
}

// ownerOf is the question whose answer a field is.
func ownerOf(field string) (topic, bool) {
	for _, list := range [][]topic{firstTopics, laterTopics} {
		for _, tp := range list {
			if len(tp.fills) > 0 && tp.fills[0] == field {
				return tp, true
			}
		}
	}
	return topic{}, false
}

// hedges may stand beside a figure and leave it bare.
var hedges = []string{"about", "bout", "approx", "approximately", "around", "roughly", "maybe", "say", "or", "so", "ish"}

// bareFigure reports whether a text is a number and at most its unit.
func bareFigure(text string) bool {
	digit, words := false, 0
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if strings.ContainsFunc(w, unicode.IsDigit) {
			digit = true
			w = strings.TrimFunc(w, unicode.IsDigit)
		}
		if w != "" && !slices.Contains(hedges, w) {
			words++
		}
	}
	return digit && words <= 1
}
