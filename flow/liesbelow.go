package flow

import (
	"slices"
	"strings"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A line pulls towards what it is made fast to. What stands below the load is no anchor
// for a haul uphill, nor for the line that holds it from running back; and what stands
// above it, where it is let down, can only hold it.
//
// Source: common practice.

var (
	standsBelow = hear.Expression(`\b(?:(?:below|beneath) (?:it|her|him|us|the|that|this|where|my|our)|(?:downhill|down ?slope|down the (?:hill|slope|bank)) (?:of|from)|further down(?:hill)?(?: than)?|at the (?:bottom|foot)|downhill|downslope)\b`)
	standsAbove = hear.Expression(`\b(?:above (?:it|her|him|us|the|that|this|where|my|our)|(?:uphill|up ?slope|up the (?:hill|slope|bank)) (?:of|from)|further up(?:hill)?(?: than)?|at the top|uphill|upslope)\b`)
	// wayOfPull are words by which such a place is one of the pull and of no tree.
	wayOfPull = hear.Expression(`\b(?:pull\w*|drag\w*|haul\w*|winch\w*|comes?|coming|goes|going|move[sd]?|moving|lower\w*|let|slope|road|lane|track)\b`)
)

// liesBelow takes out of facts the new anchors that are told to stand where they can't do
// their work, and says so; those that can only hold are told for that.
func (t *turn) liesBelow(facts []hear.Fact) []hear.Fact {
	pull := t.s.Sheet.Load.Pull
	for _, f := range facts {
		if f.Field == "load.pull" {
			pull = f.Value
		}
	}
	low := hear.Lowered(t.in.Text)
	if !(pull == "uphill" && standsBelow.MatchString(low) || pull == "downhill" && standsAbove.MatchString(low)) {
		return facts
	}
	var out []hear.Fact
	said := ""
	for _, f := range facts {
		at, _, new := strings.Cut(f.Field, "].")
		words, placed := t.placeTold(at, facts, pull)
		switch {
		case !new || !strings.HasPrefix(at, "anchors[+") || !placed:
			out = append(out, f)
		case pull == "downhill":
			out = append(out, f)
			if strings.HasSuffix(f.Field, ".kind") && !slices.ContainsFunc(facts, func(o hear.Fact) bool { return o.Field == at+"].use" }) {
				out = append(out, hear.Fact{Field: at + "].use", Value: "holding", Said: words})
			}
		case strings.HasSuffix(f.Field, ".kind") && said != words:
			said = words
			t.doubts = true // it was read, and is told to be none
			t.say(wording.RefuseLiesBelow, wording.Args{"Text": wording.Plain(words)})
		}
	}
	return out
}

// placeTold returns the words that tell an anchor of some facts to stand on the wrong
// side of the load, where that is told of it.
func (t *turn) placeTold(at string, facts []hear.Fact, pull string) (words string, placed bool) {
	wrong := standsBelow
	if pull == "downhill" {
		wrong = standsAbove
	}
	for _, f := range facts {
		if f.Field != at+"].kind" {
			continue
		}
		for part := range strings.FieldsFuncSeq(t.in.Text, func(r rune) bool { return strings.ContainsRune(",;.\n", r) }) {
			low := hear.Lowered(part)
			if _, named := wordsAt(low, hear.Lowered(f.Said)); named && wrong.MatchString(low) && !wayOfPull.MatchString(low) {
				return strings.TrimSpace(part), true
			}
		}
	}
	return "", false
}
