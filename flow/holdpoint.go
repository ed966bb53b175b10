package flow

import (
	"regexp"
	"slices"

	"linetender/flow/wording"
)

// The holding line hangs on a point of the load that is its own, or on the very one of
// the haul line, which must be signed for. Named anew it is its own: what it is says so,
// and where that is what the haul line hangs on as well, a word that it is another one.

var (
	holdPointNamed = regexp.MustCompile(`(?i)^\W*(?:the )?(?:holding (?:line'?s? |rope'?s? )?|hold )(?:tow(?:ing)? )?(?:point|eye)\b(?:\W|\b(?:is|on|at|now|the)\b)*(.*\pL.*)$`)
	anotherPoint   = regexp.MustCompile(`(?i)\b(?:an?other|other|second|2nd|own|different|separate|left|right|opposite|not the same)\b`)
)

// namesHoldPoint takes the holding line's point told by its name, without the word
// change, where something else is asked. It reports whether it did.
func (t *turn) namesHoldPoint(text string) bool {
	m := holdPointNamed.FindStringSubmatch(text)
	if m == nil || t.s.Stage != NotBegun || t.s.Topic == "holding_point" || isQuestion(text) {
		return false
	}
	if _, told := t.s.Sheet.Get("load.holding_point.kind"); !told && !t.sharesPoint() && t.s.State != Verdict {
		return false // it may be the answer to what is asked, and is read with it
	}
	if !slices.Contains([]State{AtGear, AtAnchor, AtLoad, AtPuller, Crew, Amend, Verdict, Checks, Signing}, t.s.State) {
		return false
	}
	t.amend("holding_point", m[1], "")
	return true
}

// sharesPoint reports whether the holding line was told to hang where the haul line does.
func (t *turn) sharesPoint() bool {
	_, shared := t.s.Sheet.Get("load.holding_point.shared")
	return shared
}

// ownPoint takes back that both lines hang on one point where the changes name one for
// the holding line. The same kind of thing may be the same thing: then it is said which
// words tell that it is another, and nothing is changed.
func (t *turn) ownPoint(changes []change) []change {
	named := slices.IndexFunc(changes, func(c change) bool { return c.path == "load.holding_point.kind" && c.value != "" })
	if named < 0 || !t.sharesPoint() || slices.ContainsFunc(changes, func(c change) bool { return c.path == "load.holding_point.shared" }) {
		return changes
	}
	if of, told := t.s.Sheet.Get("load.tow_point.kind"); told && of == changes[named].value && !anotherPoint.MatchString(t.in.Text) {
		t.say(wording.RefuseSamePoint, wording.Args{"Text": t.word("load.tow_point.kind", of)})
		return slices.DeleteFunc(slices.Clone(changes), func(c change) bool { return topicFilling(c.path) == "holding_point" })
	}
	return append(slices.Clip(changes), change{set: set{"load.holding_point.shared", ""}, how: Told, quiet: true})
}
