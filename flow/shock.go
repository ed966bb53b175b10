package flow

import (
	"slices"

	"linetender/flow/hear"
	"linetender/flow/wording"
)

// A puller that slips, a line that creeps on its anchor or lies over a wheel may have
// jerked the line, or not: it is a shock where that was told, or where the line went slack
// and snapped tight. Until whoever leads has said that it did not it counts as one.
//
// Source: 29 CFR 1910.184 and ASME B30.9 take out what was shock-loaded; that a wheel which
// spins under a tight line loads it no higher than the pull did is judgment.

// maybeShock are the sights that are a shock only so.
var maybeShock = []string{"slips", "creeps", "wheel"}

// shocks reports whether a thing that was seen, told in some words, shook the line as far
// as is known.
func (s *Session) shocks(kind, words string) bool {
	if shocking[kind] == "" {
		return false
	}
	return !slices.Contains(maybeShock, kind) || s.Past["shock"] != noShock || hear.Shocked(words)
}

// noShock is the answer that the line never snapped tight.
const noShock = "no"

// askShock reports whether it is asked at the debrief: something was seen that may have
// jerked the line, and nothing that did for certain.
func (s *Session) askShock() bool {
	maybe := false
	for _, r := range s.Reports {
		switch {
		case shocking[r.Kind] == "":
		case !slices.Contains(maybeShock, r.Kind) || hear.Shocked(r.Words):
			return false
		default:
			maybe = true
		}
	}
	for _, stop := range s.Stops {
		if stop.Drill || !stop.Stage.Rigged() {
			continue
		}
		for _, c := range stop.causes() {
			switch {
			case shocking[c] == "":
			case !slices.Contains(maybeShock, c) || hear.Shocked(stop.Words):
				return false
			default:
				maybe = true
			}
		}
	}
	return maybe
}

// shockOffers are the answers.
func (t *turn) shockOffers() []offer {
	return []offer{
		{choice: "debrief.calm", label: t.saying(wording.ChoiceDebriefCalm)},
		{choice: "debrief.snapped", label: t.saying(wording.ChoiceDebriefSnapped)},
		{choice: "debrief.unsure", label: t.saying(wording.ChoiceDebriefUnsure)},
	}
}

// tellsShock takes words to it: only a plain no is one, whatever else counts as a shock.
func (t *turn) tellsShock(text, low string) {
	value := text
	if h := hear.Listen(text, hear.TopicYesNo); (h.Act == hear.No || calmSaid.MatchString(low)) && !hear.Shocked(text) && !doubted.MatchString(low) {
		value = noShock
	}
	t.debriefed("shock", value)
}

var (
	calmSaid = hear.Expression(`^(?:it |the line |line )?(?:never|didn'?t|did not|stayed tight|kept tight|only spun|just spun|nothing|none)\b`)
	doubted  = hear.Expression(`\b(?:not sure|unsure|maybe|perhaps|think so|might|could have|don'?t know|dont know|dunno|no idea|a bit|once)\b`)
)
