package flow

import (
	"regexp"
	"strings"

	"linetender/flow/hear"
)

// Which of two answers it is, the lead says as often by who is right, or by the figure
// alone, as in the words of either: "rosa is right", "12". Both answers are on the table
// then, and a figure that is one of theirs and not the other's is no new one.

// A side is one of two answers that differ.
type side int

const (
	sideNone side = iota
	sideSaid      // what the other phone says
	sideWas       // as it stood
)

var (
	oneFigure = regexp.MustCompile(`\d+(?:[.,]\d+)?`)
	isRight   = regexp.MustCompile(`^(?:(?:yes|yeah|yep|ok|so|no|well|sorry)\b[, ]*)*(?:i (?:think|reckon|guess) )?(?:(?:go|going|goes|we go) (?:with|by) |believe |trust |take |use )?([\pL][\pL' -]*?)(?:'?s)?(?: (?:is|was|am|has|have|got))?(?: (?:it|the one|one|who))?((?: (?:not|never))? (?:right|correct|spot on|wrong|mistaken|off))?$`)
	ownWord   = regexp.MustCompile(`^(?:i|i'm|im|me|mine|my own|my one|my figure|my answer|myself|ours|the old one|the first one|as it was|keep (?:it|mine|ours|the old one|as it was)|leave it|as before)$`)
)

// sideNamed tells which side words choose that name a person or a bare figure.
func (t *turn) sideNamed(d Differ, text string) side {
	low := strings.Trim(hear.Lowered(text), " .!")
	if isQuestion(low) {
		return sideNone
	}
	if bareFigure(low) {
		return sideOf(d, low)
	}
	m := isRight.FindStringSubmatch(low)
	if m == nil {
		return sideNone
	}
	if me := t.me(); me == nil || me.ID == d.By.ID {
		return sideNone // their own word against their own
	}
	judged := strings.TrimSpace(m[2])
	wrong := strings.HasPrefix(judged, "not") || strings.HasPrefix(judged, "never") || judged == "wrong" || judged == "mistaken" || judged == "off"
	says := sideNone
	switch who := strings.TrimSuffix(strings.TrimSpace(m[1]), "'s"); {
	case d.By.Name != "" && sameName(d.By.Name, who):
		says = sideSaid
	case ownWord.MatchString(who) || ownWord.MatchString(low) || sameName(t.whoName(), who):
		says = sideWas
	}
	switch {
	case wrong && says == sideSaid:
		return sideWas
	case wrong && says == sideWas:
		return sideSaid
	}
	return says
}

// sideOf tells which of the two answers a bare figure is.
func sideOf(d Differ, text string) side {
	all := oneFigure.FindAllString(text, -1)
	if len(all) != 1 || strings.ContainsAny(text, "abcdefghijklmnopqrstuvwxyz%°\"'") {
		return sideNone // with a unit it is read as any other
	}
	is := func(value string) bool {
		of := oneFigure.FindAllString(value, -1)
		return len(of) == 1 && of[0] == all[0]
	}
	switch said, was := is(d.Said), is(d.Was); {
	case said && !was:
		return sideSaid
	case was && !said:
		return sideWas
	}
	return sideNone
}
