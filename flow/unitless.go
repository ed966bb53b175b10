package flow

import (
	"slices"
	"strings"

	"linetender/calc/bound"
	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A figure without its unit is no answer and not nothing: it is kept, and only its
// unit is asked for. What comes next completes it or takes its place.

// heldBare is the figure that waits for its unit. It is dropped with its question
// (see Session.apply).
const heldBare = "bare"

// A measure is how a question's figure is written: the words that ask for its unit,
// one unit that would do, and whether there is no other, so that yes means it.
type measure struct {
	ask  wording.Key
	unit string
	only bool
}

// measured returns what the figure of a question is written in; false where it has none,
// or where one without a unit is an answer.
func (t topic) measured() (measure, bool) {
	switch t.name[strings.LastIndexByte(t.name, '.')+1:] {
	case "mass":
		return measure{wording.BareMass, "t", false}, true
	case "slope", "side_slope":
		return measure{wording.BareSlope, "deg", false}, true
	case "off_line", "sling_angle", "side_angle":
		return measure{wording.BareAngle, "deg", true}, true
	case "distance", "reach", "holding_reach", "lead", "run", "wheelbase", "length":
		return measure{wording.BareWay, "m", false}, true
	case "depth", "diameter", "hitch_height", "axle_height", "cg_height", "drum", "wheel_radius", "lip", "level_length", "level_gap", "board_length", "board_rise":
		return measure{wording.BareSize, "cm", false}, true
	case "rating", "hitch_rating":
		return measure{wording.BareForce, "t", false}, true
	}
	return measure{}, false
}

// reads reports whether a text is a figure of that kind and no more.
func (l measure) reads(text string) bool {
	var err error
	switch l.ask {
	case wording.BareMass:
		_, err = bound.ReadMass(text)
	case wording.BareSlope:
		_, err = bound.ReadSlope(text)
	case wording.BareAngle:
		_, err = bound.ReadAngle(text)
	case wording.BareForce:
		_, err = bound.ReadForce(text)
	default:
		_, err = bound.ReadLength(text)
	}
	return err == nil
}

// unitWanted takes a figure without a unit where the question that stands wants one,
// and reports whether that is all that a text is.
func (t *turn) unitWanted(text string) bool {
	tp, ok := topicByName(t.s.Topic)
	if !ok || t.hub() {
		return false
	}
	figure := strings.TrimSpace(beforeFigure.ReplaceAllString(strings.Trim(text, " .!?,"), ""))
	l, ok := tp.measured()
	if !ok || !strings.ContainsAny(figure, "0123456789") || l.reads(figure) || !l.reads(figure+" "+l.unit) {
		return false
	}
	t.act(Act{Do: DoHold, Path: heldBare, Value: figure})
	return true
}

// beforeFigure is what people write before a figure that they put right or wonder about.
var beforeFigure = hear.Expression(`^(?i)(?:\W*\b(?:oh|sorry|err?|um+|no|wait|it'?s|its|is|make it|say|that'?s|i think|i mean|maybe)\b\W*)+`)

// ofOther is how words behind a unit go on to say of what else it is: "tonnes is what
// the tractor has".
var ofOther = hear.Expression(`(?i)^[^,.;]*\b(?:is|are|was|has|have|weighs?|pulls?)\b`)

// withUnit returns the figure that waits with the unit that a message gives it, and
// whether it does. A message that does not, and asks for nothing, ends the waiting.
func (t *turn) withUnit(text string) (whole string, ok bool) {
	figure := t.s.Held[heldBare]
	tp, known := topicByName(t.s.Topic)
	if figure == "" || !known || !t.main() {
		return "", false
	}
	l, _ := tp.measured()
	said := strings.TrimSpace(beforeFigure.ReplaceAllString(strings.TrimSpace(text), ""))
	for _, in := range []string{"in ", "of "} {
		if rest, is := strings.CutPrefix(strings.ToLower(said), in); is && !strings.ContainsAny(rest, "0123456789") {
			said = rest
		}
	}
	h := hear.Listen(text, hear.TopicText)
	if l.only && (h.Act == hear.Yes || hear.Listen(text, hear.TopicYesNo).Act == hear.Yes) {
		said = l.unit
	}
	whole = figure + " " + said
	gives := !ofOther.MatchString(said) && !strings.ContainsAny(said, "0123456789") || l.ask == wording.BareSlope && strings.HasPrefix(said, "in ")
	if gives && !t.figureIn(tp, l, said) && t.figureIn(tp, l, whole) {
		t.act(Act{Do: DoHold, Path: heldBare})
		return whole, true
	}
	if !slices.Contains([]hear.Act{hear.Help, hear.Why, hear.SoFar, hear.Words}, h.Act) {
		t.act(Act{Do: DoHold, Path: heldBare})
	}
	return "", false
}

// figureIn reports whether a text has the figure that a question asks for.
func (t *turn) figureIn(tp topic, l measure, text string) bool {
	return l.reads(text) || slices.ContainsFunc(t.whoIsWho().Listen(text, tp.heard()).Facts, func(f hear.Fact) bool { return f.Field == tp.fills0() && f.Field != "" })
}
