package flow

import (
	"regexp"
	"slices"
	"strings"

	"linetender/flow/hear"
)

// Whoever tells that a stamp can't be read takes the rating away that was told from it,
// whatever is asked: what nobody can read counts for nothing.

var (
	// ofWinch and ofTowPoint name what bears a rating and stands in no list.
	ofWinch    = regexp.MustCompile(`(?i)\b(?:winch|hoist|chain block|come-?along|puller|ratchet|jack)\b`)
	ofTowPoint = regexp.MustCompile(`(?i)\b(?:tow(?:ing)? (?:eye|point|hook|bar|ball|hitch)|eye ?bolt|screw-?in eye)\b`)
	ofHitch    = regexp.MustCompile(`(?i)\b(?:hitch|drawbar|draw bar|pin)\b`)

	// cannot opens what is no question: "can't see any stamp".
	cannot = regexp.MustCompile(`^\W*(?:i |we |you )?(?:can'?t|cannot|couldn'?t)\b[^?]*$`)

	// loadIn is the figure of a load, which may be a rating.
	loadIn = regexp.MustCompile(`(?i)\b\d[\d.,]*\s*(?:tonnes?|tons?|t|kilos?|kg|kn|dan|lbs?|lbf|pounds?)\b`)
)

// unstamps takes that the stamp of a piece, the winch or a tow point can't be read, where a
// rating of it was told, and reports whether it did. A figure of a weight or a force beside
// it is one of another piece: that is left to be read like anything that is told.
func (t *turn) unstamps(text string) bool {
	switch t.s.State {
	case Away, Halted, Closed, Signing, Debrief, Pulling:
		return false
	}
	if low := hear.Lowered(text); isQuestion(low) && !cannot.MatchString(low) || !hear.Unstamped(text) {
		return false
	}
	var names []string
	for _, path := range t.ratedIn(text) {
		if told, _ := t.s.Sheet.Get(path); t.otherFigure(text, told) {
			return false
		}
		names = append(names, topicFilling(path))
	}
	switch len(names) {
	case 0:
		return false
	case 1:
		t.amend(names[0], noStamp, "")
	default:
		t.which(names, noStamp, "")
	}
	return true
}

// noStamp is how the answer is written that a piece bears none.
const noStamp = "no stamp"

// otherFigure reports whether a text has the figure of a load that is not the one told.
func (t *turn) otherFigure(text, told string) bool {
	return slices.ContainsFunc(loadIn.FindAllString(text, -1), func(f string) bool {
		return !strings.EqualFold(strings.ReplaceAll(f, " ", ""), strings.ReplaceAll(told, " ", ""))
	})
}

// ratedIn are the places of the ratings of what words name, of those that were told.
func (t *turn) ratedIn(text string) (out []string) {
	add := func(path string) {
		if _, told := t.s.Sheet.Get(path); told {
			out = append(out, path)
		}
	}
	low := hear.Lowered(text)
	at := t.meant(loadIn.ReplaceAllString(low, " "))
	for _, p := range t.whoIsWho().Pieces {
		if strings.ContainsAny(p.Label, "0123456789") && strings.Contains(low, p.Label) {
			at = []string{p.At}
		}
	}
	for _, a := range at {
		add(a + ".rating")
	}
	switch {
	case len(out) > 0:
	case ofWinch.MatchString(low):
		add("puller.rating")
	case ofTowPoint.MatchString(low):
		add("load.tow_point.rating")
	case ofHitch.MatchString(low):
		add("puller.hitch_rating")
	}
	return out
}
