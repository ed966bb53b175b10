package flow

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"linetender/calc/bound"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// heardPlain takes a bare quantity or count where the topic has one field
// that takes one and the message says nothing else.
func (t *turn) heardPlain(tp topic, h hear.Heard) bool {
	if h.Act != hear.None && !(h.Act == hear.Yes && tp.name == "lip") || len(tp.fills) == 0 {
		return false // but that there is a step is part of how high it is
	}
	text := strings.TrimSpace(t.in.Text)
	path := tp.fills[0]
	if slices.ContainsFunc(h.Facts, func(f hear.Fact) bool { return slices.Contains(tp.fills, f.Field) || lengthInText.MatchString(f.Said) }) {
		return false // it has its answer, or a length in it is of another thing
	}
	switch {
	case tp.name == "puller.hitch_height":
		word := "hitch"
		if pullerIs("winch")(t.s.Sheet) {
			word = "winch"
		}
		return t.heardTwo(tp, text, path, "puller.axle_height", word, "axle")
	case tp.name == "lip":
		return t.heardTwo(tp, text, "load.lip.height", "load.lip.wheel_radius", "step", "wheel")
	case strings.HasPrefix(path, "anchors[") && strings.HasSuffix(path, ".length"):
		return t.heardTwo(tp, text, path, strings.TrimSuffix(path, "length")+"depth", "long", "deep")
	case strings.HasSuffix(path, "rating") && unstamped.MatchString(text):
		t.answer(tp, []change{{set: set{path + "_kind", "unmarked"}, how: Told}})
		return true
	}
	text, ok := fits(path, text)
	if !ok {
		return false
	}
	t.answer(tp, []change{{set: set{path, text}, how: Told}})
	return true
}

// fits reads a bare quantity or count as a path takes it.
func fits(path, text string) (value string, ok bool) {
	switch path[strings.LastIndexByte(path, '.')+1:] {
	case "distance", "reach", "holding_reach", "lead", "run", "length", "depth", "diameter", "hitch_height", "axle_height", "wheelbase", "cg_height", "wheel_radius", "drum":
		_, err := bound.ReadLength(text)
		ok = err == nil
	case "rating", "hitch_rating":
		_, err := bound.ReadForce(text)
		ok = err == nil
	case "mass":
		_, err := bound.ReadMass(text)
		ok = err == nil
	case "front_share", "driven":
		share, good := percentage(text)
		text, ok = share, good
	case "crew", "people", "winch_layer":
		n, err := strconv.Atoi(strings.TrimSuffix(text, " people"))
		text, ok = itoa(n), err == nil && n > 0
	case "sling_angle", "side_angle", "off_line":
		_, err := bound.ReadAngle(text)
		ok = err == nil
	case "side_slope", "slope":
		_, err := bound.ReadSlope(text)
		ok = err == nil
	}
	return text, ok
}

// unstamped is how people say that a piece bears no figure.
var unstamped = regexp.MustCompile(`(?i)^\W*(?:nothing|none|no (?:stamp|mark|tag|rating|figure)|not (?:stamped|marked|rated)|un(?:marked|rated|readable)|illegible|can'?t read)\b`)

// lengthInText is one length with its unit in a sentence.
var lengthInText = regexp.MustCompile(`(?i)\d[\d.,/ ]*\s*(?:millimet\w+|centimet\w+|met\w+|inch\w*|feet|foot|mm|cm|m|in|ft|"|')(?:\s+\d+\s*(?:in|"))?`)

// acrossWheel is how people tell all of a wheel and not its middle.
var acrossWheel = regexp.MustCompile(`(?i)\bwheels?\b[^,.;]*\b(?:across|diameter|dia|tall|high)\b|\bhigh wheels?\b`)

// heardTwo takes one or two lengths: first and then second, or as the words that
// stand with them name them. Words from which it isn't plain which is which, that
// may be of another thing, and figures that are no length, leave all of it unread.
func (t *turn) heardTwo(tp topic, text, first, second, firstWord, secondWord string) bool {
	found := lengthInText.FindAllString(text, -1)
	if len(found) == 0 || len(found) > 2 || !hear.OnlyMeasured(lengthInText.ReplaceAllString(text, " ")) {
		return false
	}
	for _, f := range found {
		if _, err := bound.ReadLength(f); err != nil {
			return false
		}
	}
	if len(found) == 2 && tp.name == "lip" && acrossWheel.MatchString(text) {
		return false // all across the wheel is twice what is asked
	}
	if len(found) == 2 && firstWord == "hitch" && otherPoint.MatchString(text) {
		return false // how high a tow eye is, is no axle's height
	}
	swapped, plain := whichIsWhich(text, firstWord, secondWord)
	if !plain || swapped && len(found) == 1 {
		return false // one taken for the other would hide what they are asked for
	}
	if swapped {
		found[0], found[1] = found[1], found[0]
	}
	changes := []change{{set: set{first, found[0]}, how: Told}}
	if len(found) == 2 {
		changes = append(changes, change{set: set{second, found[1]}, how: Told})
	}
	t.answer(tp, changes)
	return true
}

// otherPoint names a point of a vehicle that is neither its hitch nor its axle.
var otherPoint = regexp.MustCompile(`(?i)\b(?:eye|tow(?:ing)? ?(?:point|hook)|bumper|frame|chassis|ball)\b`)

// partsOfTwo is where one of two lengths ends and words about the other begin.
var partsOfTwo = regexp.MustCompile(`(?i)[,;]\s|\.\s|\b(?:and|n)\b|&`)

// whichIsWhich reports whether words tell two lengths the other way round, and whether
// they are plain: each stands in a part of its own with no other's name, or beside its own
// name on the same side as the other.
func whichIsWhich(text, first, second string) (swapped, plain bool) {
	var order strings.Builder // per part 1, 2 and f, where the names and the figures stand
	word := regexp.MustCompile(regexp.QuoteMeta(first) + "|" + regexp.QuoteMeta(second) + "|" + lengthInText.String())
	for _, part := range partsOfTwo.Split(strings.ToLower(text), -1) {
		for _, w := range word.FindAllString(part, -1) {
			switch w {
			case first:
				order.WriteByte('1')
			case second:
				order.WriteByte('2')
			default:
				order.WriteByte('f')
			}
		}
		order.WriteByte(' ')
	}
	switch strings.Join(strings.Fields(order.String()), " ") {
	case "f", "1f", "f1", "ff", "f f", "1f f", "f1 f", "f 2f", "f f2", "1f 2f", "1f f2", "f1 2f", "f1 f2", "1f2f", "f1f2":
		return false, true
	case "2f", "f2", "2f f", "f2 f", "f 1f", "f f1", "2f 1f", "2f f1", "f2 1f", "f2 f1", "2f1f", "f2f1":
		return true, true
	}
	return false, false
}

// percentage reads a share of a whole.
func percentage(text string) (string, bool) {
	n, ok := strings.CutSuffix(strings.TrimSpace(text), "%")
	if !ok {
		return "", false
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(n), 64)
	if err != nil || !(0 <= v && v <= 100) {
		return "", false
	}
	return strconv.FormatFloat(v/100, 'f', -1, 64), true
}

// unasked is what is said of a question that nobody can answer: only a figure has a
// span to reckon with.
func unasked(name string) wording.Key {
	switch field := name[strings.LastIndexByte(name, '.')+1:]; field {
	case "names", "kit_name", "kit_check":
		return wording.ReadUnaskedLeft
	case "lip", "holding", "gear_sound", "tow_point", "holding_point", "kind", "hitch", "gear", "rope", "block", "shackle", "sling", "knots":
		return wording.ReadUnaskedOpen
	}
	return wording.ReadUnasked
}

// skipSpecial does the skips that are more than a value.
func (t *turn) skipSpecial(tp topic) bool {
	switch {
	case tp.name == "ton":
		// The whole span of tons stays: its high end is what counts.
		for _, path := range []string{"load.mass", "puller.mass"} {
			if t.s.Held[heldTon+path] != "" {
				t.act(Act{Do: DoHold, Path: heldTon + path})
			}
		}
	case strings.HasPrefix(tp.name, "level_") || strings.HasPrefix(tp.name, "board_"):
		t.act(Act{Do: DoAsk, Topic: "slope"})
		t.ask()
		return true
	case tp.name == "lip" || tp.name == "holding" || tp.name == "gear_sound" || tp.name == "names" || tp.name == "kit_name" || tp.name == "kit_check":
	default:
		return false
	}
	t.say(unasked(tp.name), wording.Args{"What": t.name(tp.name)})
	t.settle(tp.name, Skipped)
	t.next()
	return true
}
